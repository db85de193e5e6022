"""Illness of the client's own, and low mood: neither is judged here, both are passed on."""

import re

from core.replies.clauses import said_of_another

_ILL = re.compile(
    r"\b(?:i am|am|been|feel|feeling|felt|getting|bit|got|still|really|so|too|fell|woke up|went|very|"
    r"quite|rather|totally|proper|am home|off) (?:a bit |really |so |very |quite |rather |proper |"
    r"pretty |too |kind of |kinda |rough and |half |still |feeling )*(?:ill|sick(?! of\b)|poorly|"
    r"unwell|under the weather|feverish|nauseous|queasy|seasick|rotten|rough(?=.*\b(?:flu|cold|fever|"
    r"ill|sick|virus|bug)\b)|achy all over|shivery|sniffly|snotty|bunged up)\b|^(?:was|been|still) (?:so |really |very )?(?:ill|sick)\b|(?:^|\bi )(?:rang|rung|called|calling|ringing) in sick\b|\btemp(?:erature)? (?:of|is|was) (?:3[789]|4[01])|\bfull cold\b|\bon the (?:toilet|loo|bog) (?:since|all)\b|^(?:ill|sick|unwell|"
    r"seasick|ill in bed|sick in bed|flu|covid|fever|hungover and ill|cold|a cold)(?: (?:today|again|"
    r"sorry|since \w+|in bed|at home|still))*$|\b(?:in bed|down|off|out|home|laid up|struck down|"
    r"stuck in bed|hit|knocked out|floored|suffering|wiped out|struggling|dealing|battling|"
    r"fighting) (?:with |by )?(?:a |an |the |some |this |kind of )*(?:nasty |bad |horrible |heavy |"
    r"stinking |bit of )*(?:cold|flu|covid|fever|bug|virus|stomach|infection|tonsillitis|migraine|"
    r"food poisoning|norovirus|gastro|sinus\w*|chest infection|something)\b|\b(?:a|the|got|have|has|"
    r"having|caught|catching|with|this|my|some|getting|bad|nasty|heavy|strong|stinking|terrible|horrible|head|"
    r"chest|slight|little|bit of a|bit of) (?:cold(?= ?$| (?:and|or|but|so|again|since|today|yesterday|now|still|for|from|off|is|was|has|had|that|which|with|going|all|this|at|coming|back|over|though|sadly|too|already|i|we|my|the|on|in bed|thing|symptoms)\b)|flu|fever|temperature|cough|virus|"
    r"stomach bug|tummy bug|bug|sore throat|infection|runny nose|tonsillitis|chill|norovirus|covid|"
    r"man flu|sniffles|lurgy|bronchitis|uti|upset stomach|dodgy stomach)\b|\bfull of (?:a |the )?(?:cold|flu|snot)\b|\b(?:stomach|tummy|chest|throat|sinus|ear|gut) (?:virus|bug|infection|flu)\b|\bcrook as\b|\b(?:throwing up|threw up|"
    r"vomit\w*|puking|puked|spewing|spewed|spewin|chunder\w*|chucking up|chucked up|heaving|crook|hurling|barfing|barfed|been sick|being sick|was sick|the runs|diarrhoea|diarrhea|food poison\w*|sick as a (?:dog|parrot|pig)|"
    r"sore throat|head cold|chest cold|high temperature|runny nose|blocked nose|stomach (?:flu|bug)|"
    r"man ?flu|tested positive|have covid|got covid|sinusitis|tonsillitis|seasick|sea sick|nausea|"
    r"nauseous|feverish|on antibiotics|chills|norovirus|gastroenteritis)\b|\b(?:coming|come|came|going|"
    r"went) down with\b|\bcatching something\b|\b(?:fever|flu|covid|a temperature|"
    r"a bug)\b(?! (?:is going|going round|season|jab|shot|vaccine|pitch))|\bfeverish\b|"
    r"\bi have catch cold\b|\b(?:caught|catched) (?:a )?cold\b|\bcold and (?:cough|fever)\b"
)
_NOT_ILL = re.compile(
    r"\b(?:nearly|almost) (?:puked|threw up|vomited|was sick)\b|\b(?:in the|despite the|through the|not|no longer|no|never|without|am over|got over|over|"
    r"recovered from|better after|after|negative for|instead of|gone|shook off|since)(?: (?:a|the|any|"
    r"my|feeling|being|really|longer|that|more|properly))* (?:ill|sick|fever|flu|cold|covid|cough|bug|"
    r"unwell|temperature|virus)\b|\b(?:cold|flu|fever|bug|cough|sickness) (?:is |has |all )?(?:gone|"
    r"over|better|finished|behind me)\b|\bsick (?:of|session|view|gig|beat|show|workout|pump|day|"
    r"leave)\b|\bthat was (?:a )?(?:ill|sick)\b|\b(?:set|show|gig|solo|track|tune|riff|drop|stage|kit|gym|place|venue|sunset|view|pool|bike|move|trick|costume|lights?) (?:is|was|are|were|looks?|looked) (?:so |really |absolutely |totally |proper |well |just )?(?:ill|sick)\b|\b(?:cold|flu|fever|bug|virus|norovirus|covid|food poisoning|stomach bug|gastro|cough|tonsillitis) (?:in|on|among|amongst|through|throughout|all over|going round|going around|doing the rounds in|has hit|hit) (?:the |our )?(?:whole |entire |rest of the )?(?:crew|company|cast|team|ship|boat|house|office|hotel|building|school|nursery|family|orchestra|band|bus|dressing rooms?|deck|mess|others)\b|\bsick (?:and tired)\b|\bcabin fever\b|\bhay ?fever\b|\b(?:flu|cold|bug|covid|virus|norovirus|lurgy|noro) (?:is |are |has been )?(?:going|doing|flying) (?:round|around|the rounds|about)\b|\b(?:knocked out|out) cold\b|\bcold (?:feet|"
    r"in here|outside|out|water|shower|plunge|beer)\b|\bworried sick\b|\bflu (?:jab|shot|vaccine|"
    r"season)\b|\bhome ?sick\b|\blove ?sick\b|\bcold turkey\b|\ba cold one\b|\bbeen (?:sick )?better\b|"
    r"\bbug (?:in|with) (?:the|my) (?:app|phone|software|system)\b"
)
_SPARED = re.compile(
    r"\b(?:i am|am|but|me) (?:still |so far |perfectly |totally |all |absolutely |feeling |completely )*(?:fine|ok|well|good|healthy|alright|clear|spared|immune)$|^(?:but )?not me\b|\btouch wood\b"
)
"""Whoever is well has no part in an illness that is nobody's by name."""
_INCLUDED = re.compile(
    r"^(?:and )?(?:me|my ?self) (?:included|too|as well)\b|\b(?:including|includes?) (?:me|my ?self)\b"
)
_MINE = re.compile(r"\b(?:i|me|my)\b")
_LOW = re.compile(
    r"\b(?:feel|feeling|felt|am|been|getting|bit|so|really|very|quite|pretty|kind of|kinda|a little|"
    r"just) (?:a bit |really |so |very |quite |pretty |kind of |kinda |a little |rather |just |pretty |"
    r"that |too )*(?:low|down(?! (?:to|with|at|there|for|the)\b)|blue|depressed|miserable|hopeless|"
    r"worthless|useless|empty|lonely|anxious|overwhelmed|alone|burn(?:t|ed) ?out|fed up|defeated|"
    r"isolated|lost|sad|tearful|hollow|desperate|numb inside|ashamed|like a failure|like giving up|"
    r"like shit|homesick|home sick|panicky|stressed out|at the end of my)\b|\b(?:depress\w+|burn(?:t|"
    r"ed)? ?out|burnout|anxiety|panic attacks?|breakdown|mental health|mentally|hopeless\w*|lonely|"
    r"loneliness|crying|in tears|pointless|meaningless|worthless|homesick|heartbroken|grieving|"
    r"bereaved|cried)\b|\b(?:do|did) not (?:really )?feel (?:like )?my ?self\b|\bnot feeling (?:like )?my ?self\b|\bhate (?:my ?self|my body|my life|myself)\b|\bwhat is the point\b|\bno point\b|"
    r"\bsee (?:the|any|a) point\b|\beverything (?:is|feels|seems) (?:so |too |really |just )?(?:heavy|"
    r"hard|grey|gray|dark|pointless|empty|difficult|a struggle|too much|falling)\b|"
    r"\bexhausted mentally\b|\bheavy these days\b|\b(?:can|could) not (?:cope|face (?:it|training|"
    r"the gym|exercise|another|anything|people|the day|today|this)|go on|do this any ?more|"
    r"get out of bed|stop crying|take (?:it|much more|any more))\b|\btoo much (?:right now|"
    r"at the moment|for me|lately)\b|\beverything is too much\b|\ball (?:a bit|too|so) much\b|\bmissing (?:home|my (?:kids?|family|wife|husband|partner|children|daughter|son|mum|dad|girlfriend|boyfriend|people))\b|\bbothered with life\b|\bnot coping\b|"
    r"\bstruggling\b(?! (?:to (?:find|fit|get)|with the (?:squat|press|pull|weights|exercise)))|"
    r"\bno (?:motivation|desire|joy|interest)\b|\b(?:zero|lost (?:all )?(?:my )?) ?motivation\b|"
    r"\blost (?:all )?(?:my )?motivation\b|\bat (?:my|an) (?:lowest|end|all time low)\b|"
    r"\b(?:had enough|giving up on|given up on) (?:of )?(?:everything|life|myself|it all)?\b|"
    r"\bin a (?:bad|dark) (?:place|way|headspace|head space)\b|\bnot (?:ok|okay|doing well|doing great|"
    r"in a good place|myself)\b(?! with)|\b(?:hard|tough|rough|bad|difficult) (?:time|times|patch|days|"
    r"headspace)\b|\bmy head is not\b|\b(?:died|passed away|funeral|in hospital|in the hospital|"
    r"divorce|split up|broke up|break up|lost my (?:job|dad|mum|mom|father|mother|brother|sister|"
    r"friend|dog|cat)|miscarriage|cancer|intensive care|heart attack|a stroke)\b"
)
_NOT_LOW = re.compile(
    r"\bnot (?:feeling )?(?:a bit |at all |too |so |that )?(?:low|down|depressed|lonely|anxious|sad|"
    r"stressed|overwhelmed)\b|\blow (?:bar|load|carb|tide|energy|row|weight)\b|\bfeel the burn\b|"
    r"\bsad (?:to miss|that|the show)\b|\bdied (?:\w+ times? )?(?:laughing|on|in the|and once)\b|\b(?:phone|battery|engine|car|laptop|"
    r"wifi|van|generator) (?:has |just )?died\b|\blost in\b"
)


def is_unwell(clauses: list[str]) -> bool:
    """Whether the client says that they are ill themselves."""
    included = any(_INCLUDED.search(clause) for clause in clauses)
    spared = any(_SPARED.search(clause) for clause in clauses)
    return any(
        _is_ill(clause, included=included)
        and (included or not _NOT_ILL.search(clause))
        and (not spared or _MINE.search(clause))
        for clause in clauses
    )


def _is_ill(clause: str, *, included: bool) -> bool:
    """Whether an illness is named, and the last person named before it is nobody else."""
    return any(included or not said_of_another(clause, found.start() + 1) for found in _ILL.finditer(clause))


def is_low(clauses: list[str]) -> bool:
    """Whether the words sound low, or tell of grave news: the coach should see them."""
    return any(_LOW.search(_NOT_LOW.sub(" ", clause)) for clause in clauses)
