"""Whether a sign is said of a thing: 'the winch had a seizure', 'our wifi keeps passing out'."""

import re

_OF_ONESELF = (
    r"room|world|whole|floor|ground|wall|ceiling|place|gym|cabin|deck|stage|hall|left|right|other|back|chest|heart|head|pain|arm|"
    r"leg|calf|ankle|jaw|throat|neck|foot|hand|same|last|first|second|third|next|doc|pulse|face|vision|breath|breathing|old|set|sets|"
    r"session|climb|stairs|heat|training|workout|end|day|night|morning|evening|afternoon|week|weekend|month|hour|moment|minute|time|"
    r"flight|run|ride|walk|swim|lift|hike|row|rower|squats?|deadlifts?|rounds?|warm|cool|feeling|thing|one|only|reason|problem|trouble|"
    r"tightness|pressure|ach\w+|cough\w*|fever|cold|nausea|weakness|numb\w*|swelling|swollen|tingling|palpitations?|burning|cramps?|headaches?|migraines?|lumps?|rash|throbbing|"
    r"breathless\w*|short\w*|fatigue|tiredness|exhaustion|anxiety|panic|sensation|stuff|issue|business|body|stomach|belly|hip|knee|shoulder|skin|blood|bleeding|wound|cut|"
    r"worst|main|dizz\w+|faint\w*|black\w*|spinning|symptoms?|attacks?|spells?"
)
"""After 'the', these are the client's own body, time or training, and no thing."""
OWNED = (
    r"(?:laptop|phone|mobile|tablet|car|van|bike|scooter|battery|computer|watch|tracker|app|suitcase|backpack|bag|headphones|"
    r"earbuds|speakers?|charger|radio|tent|boots|trainers|shoes|bank account|wallet|budget|plants?|kettle|guitar|piano|drums?|trumpet|amp|camera|drone|wifi|"
    r"internet|connection|alarm clock|truck|boat|ship|ferry|plane|train|bus|engine|generator|projector|desk|chair|bunk|bed|diary|"
    r"calendar|schedule|luggage|washing machine|shower|boiler|fridge|freezer|oven|umbrella|jacket|costume|wig|corset|script|hair|mascara|make ?up|beard|moustache|patience|dignity|ego|bank balance|plans?|tan|social life)"
)
_WORN = r"(?:harness|straps?|vest|life ?jacket|wet ?suit|dry ?suit|bra|binder|belt|shirt|t shirt|jersey|tux|waistcoat|corset|costume)"
_HAS_OR_IS = (
    r"(?:(?:has|had|have|just|nearly|almost|is|are|was|were|be|been|being|got|gets|keeps?|kept|having|again|goes|went|going|started|starts|"
    r"looks?|looked|sounds?|sounded|seems?|seemed|finally|completely|totally|literally|basically|practically|suddenly|always|already|still|"
    r"about|to|now|then|a bit|a little|also|even|all|so|suffers?|suffered|suffering|from|with|will|would|decided|must|might|may|probably|apparently) )*(?:an? )?"
)
_A_THING = re.compile(
    rf"(?:and |but |then |because |as |since |well |sorry |today |yesterday )*(?:(?:the|this|that|our|one of the) (?!(?:{_OF_ONESELF})\b)(?:\w+ ){{1,2}}|"
    rf"(?:(?:my|our|his|her|their|new) (?:\w+ )?{OWNED}|(?:my |new |this )*{_WORN}) (?!(?:says?|said|shows?|showed|flagged|reads?|warned|warns|alerted|thinks|detected|told|has me|had me)\b)(?:\w+ )?){_HAS_OR_IS}$"
)


def is_a_thing(before: str) -> bool:
    """Whether the words before a sign, from the beginning of their clause, name a thing that it is said of.

    >>> is_a_thing("the wifi has been "), is_a_thing("the left side of my face is ")
    (True, False)
    """
    return bool(_A_THING.match(before))
