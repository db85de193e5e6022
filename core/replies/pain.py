"""Where it hurts. Ordinary soreness is no pain; what is denied, over, or only a manner of speaking is none either."""

import itertools
import re

from core.replies.clauses import said_of_another
from core.terms import Place

_PLACES: tuple[tuple[str, Place], ...] = (
    (
        (
            r"(?:lower|low|small of (?:my|the)|bottom of (?:my|the)) backs?|lumbar|tail ?bone|coccyx|"
            r"sacrum|sciatic\w*|lumbago|si joint"
        ),
        Place.LOWER_BACK,
    ),
    (
        (
            r"upper backs?|between (?:my|the) shoulder ?blades?|shoulder ?blades?|mid(?:dle)? back|"
            r"thoracic|trap(?:s|ezius)?"
        ),
        Place.UPPER_BACK,
    ),
    (
        (
            r"(?<=did my )back|(?<=put my )back|(?<=^)backs?(?= (?:is )?(?:out|gone|went)\b)|(?<=my )back(?= (?:is )?(?:out|gone)\b)|(?<!came )(?<!come )(?<!comes )(?<!coming )(?<!went )(?<!going )(?<!is )(?<!are )(?<!was )(?<!am )(?<!be )(?<!got )(?<!get )backs?(?! (?:from|to|at|home|on|in|by|again|squats?|rows?|sunday|monday|tuesday|wednesday|"
            r"friday|thursday|saturday))"
        ),
        Place.BACK,
    ),
    (r"neck", Place.NECK),
    (r"(?<!hard )shoulders?|rotator cuff|deltoids?|collar ?bone", Place.SHOULDER),
    (r"elbows?|funny bone|tennis elbow|golfers? elbow", Place.ELBOW),
    (r"wrists?|carpal \w+", Place.WRIST),
    (r"hips?|hip flexors?|glutes?", Place.HIP),
    (r"knees?|kneecaps?|patellas?|meniscus|acl|mcl", Place.KNEE),
    (r"ankles?|achilles(?: tendon)?", Place.ANKLE),
    (r"foot|feet|heels?|toes?|big toe|arch|soles?|plantar \w+|instep", Place.FOOT),
    (r"calf|calves|calfs|calve", Place.CALF),
    (r"hamstrings?|hammy|hammie|hammies|back of (?:my|the) (?:leg|thigh)", Place.HAMSTRING),
    (r"thighs?|quads?|quadriceps", Place.THIGH),
    (r"groins?|adductors?", Place.GROIN),
    (
        r"chest(?! (?:freezer|of|press|day|hair|fly|flies|flyes|cold|pass|height))|pecs?|pectorals?|breast ?bone|sternum|breast(?! ?stroke)",
        Place.CHEST,
    ),
    (
        r"(?<!above )(?<!over )(?<!above the )(?<!over the )(?<!above my )(?<!over my )heads?(?! (?:to|of|for|in|down|home|over|out|coach))|head ?aches?|migraines?|skull|temples?",
        Place.HEAD,
    ),
    (
        (
            r"stomach|belly|tummy|abdomen|side|ribs?|rib ?cage|shins?|fingers?|thumbs?|hands?|forearms?|"
            r"arms?|biceps?|triceps?|jaw|tooth|teeth|legs?|lats?|abs|ears?|eyes?|face|tooth ?ache|"
            r"stomach ?ache|tummy ?ache|belly ?ache|pelvis|gut|knuckles?|palms?|bum|butt|muscle"
        ),
        Place.OTHER,
    ),
)
_PLACE = re.compile("|".join(rf"(?P<p{number}>\b(?:{words})\b)" for number, (words, _) in enumerate(_PLACES)))
_ACHE_WORDS = re.compile(
    r"\b(?:head|stomach|tummy|tooth|belly|back) ?aches?\b|\bmigraines?\b|\bsciatica\b|\btennis elbow\b|"
    r"\bgolfers? elbow\b|\bplantar fasciitis\b|\b(?:achilles )?tend[io]nitis\b|\blumbago\b"
)
_HURT = re.compile(
    r"\b(?:pains?|paining|kaput+|nipping|nips|painful|painfully|hurts?|hurting|hurted|aches?|aching|achey|achy|ached|twinges?|twinged|"
    r"twinging|niggles?|niggling|niggly|tweaked|tweak|strained|strain|sprained|sprain|twisted|injur\w+|"
    r"pulled|jarred|throbbing|pounding|throbs|stabbing|shooting|pinched|pinching|mak(?:es|ing) (?:\w+ )?problems|giv(?:es|ing) (?:me )?problems|inflamed|swollen|"
    r"swelling|bruised|damaged|tore|torn|wrecked|busted|buggered|dodgy|bad(?= (?:back|knee|shoulder|"
    r"hip|ankle|neck|wrist|elbow|foot)|(?<=(?:back|knee|neck) is bad)|(?<=shoulder is bad))|agony|killing me|acting up|playing up|giving me (?:grief|"
    r"trouble|jip|gyp|hell|problems|issues)|bothering me|bugging me|bugs me|annoying me|troubling me|nagging|playing me up|flar\w+ up|gave way|locked up|seized up|"
    r"went(?= (?:ping|pop|again)|$)|popped|complain(?:ing|s|ed)|not happy|unhappy|grumbling|grumpy|moaning|"
    r"cranky|ouchy|pinged|jammed|tender|rolled|dislocated|broke|broken|fractured|cracked|stubbed|cramp\w*|spasm\w*|"
    r"did (?:my|in my)|problem with my|trouble with my|issues? with my)\b|\b(?:put|did|threw|"
    r"knocked) (?:my )?(?:\w+ )?(?:back|knee|shoulder|neck|hip|ankle|wrist) (?:in|out)\b|\b(?:put|did|"
    r"threw) (?:out|in) my\b|\bwent over on my\b|\bback (?:is |has |was )?(?:out|gone)(?: again)?$|\bout of joint\b"
)
_MOVED = re.compile(
    r"\b(?:up )?on(?:to)? (?:my |the )?(?:tip ?toes?|toes|heels)\b|\b(?:when|while|on|from|after|by|if) (?:i )?(?:turn\w*|mov\w+|lift\w*|nod\w*|shak\w+|bend\w*|rais\w+|rotat\w+) (?:the|my) \w+|"
    r"\b(?:turn|move|lift|nod|shake|bend|raise|rotate)(?:ing|s)? my (?:head|arms?|neck)\b"
)
"""What was moved when it hurt need not be what hurts: 'a stabbing in my neck when turning the head'."""
_SORE = re.compile(r"\b(?:sore|soreness|stiff|tight)\b")
_MUSCLE = re.compile(r"\b(?:glutes?|hip flexors?|arch|soles?)\b")
_JOINTS = frozenset(
    {
        Place.KNEE,
        Place.ANKLE,
        Place.ELBOW,
        Place.WRIST,
        Place.NECK,
        Place.FOOT,
        Place.GROIN,
        Place.HIP,
        Place.LOWER_BACK,
    }
)
_WORKED_MUSCLE = re.compile(
    r"\b(?:good|nice|nicely|happy|pleasant|healthy|usual|normal|bit of|proper) (?:kind|sore|soreness|"
    r"way|type)\b|\bthe good kind\b|\bdoms\b|\bfrom (?:the )?(?:squats?|lunges?|push|pull|press\w*|"
    r"deadlifts?|rows?|session|training|yesterday|monday|tuesday|wednesday|thursday|friday|saturday|"
    r"sunday|leg day)\b|\bafter (?:those|the|all|yesterday|leg)\b"
)
_MUSCLES_BURN = re.compile(
    r"\b(?:legs|quads|abs|arms|glutes|calves|hamstrings|body|muscles)(?: \w+){0,3}? (?:wrecked|busted|fried|toast|cooked|destroyed|trashed|shot|gone)\b|"
    r"\b(?:legs?|quads?|abs|arms?|glutes?|calves|biceps?|triceps?|lats?|thighs?|hamstrings?|muscles?|"
    r"feet|bum|shoulders|core|everything|lungs|head)\b(?: \w+){0,3}? (?:killing me|on fire|burn\w*|"
    r"scream\w*|cramp\w*)|(?<!neck is )(?<!back is )(?<!knee is )(?<!knees are )(?<!hip is )(?<!ankle is )(?<!elbow is )(?<!wrist is )\bkilling me after\b|\bface hurts from (?:laugh|smil)\w*"
)
_IDIOM = re.compile(
    r"\b(?:is|was|are|be|been|such|what|real|total|right|being|it is|,|^)(?: (?:a|an|such|real|total|"
    r"right|royal|massive|bit of))* pain(?: in the (?:neck|arse|ass|butt|backside|back ?side|"
    r"bum))?\b(?! (?:in|at|on) (?:my|the (?:knee|back|left|right|chest|foot|shoulder)))|"
    r"\bpain in the (?:arse|ass|butt|backside)\b|\bno pain no gain\b|\bpains? me to\b|"
    r"\bpainfully (?:slow|early|long|loud|boring|bad)\b|\bstiff (?:drink|upper|competition)\b|"
    r"\bhead ?ache (?:to|of a|with|for)\b|\bhurt (?:my|his|her) feelings\b|\bon (?:the )?other hand\b|"
    r"\bwould not hurt\b|\bcan not hurt\b|\bbroke (?:a|my|the) (?:sweat|record|pb|personal|phone|"
    r"string|set)\b|\brolled (?:up|out|out of bed)\b|\bpulled (?:through|it off|out|up|an all)\b|"
    r"\bhead (?:is )?spinning with\b"
)
_NOT_HERE = re.compile(
    r"\b(?:no|not|without|never|nothing|zero|0|free of|neither|nor|any(?= pain))(?: (?:any|a|real|more|"
    r"longer|my|the|feel\w*|having|had|actual|too|that|so|sign of|hint of|bit of|much|have|got|even|"
    r"get|trace of))*(?: (?:knee|back|shoulder|neck|hip|ankle|chest|joint|muscle|lower|wrist|"
    r"elbow))* (?:pains?|painful|hurts?|hurt|hurting|aches?|aching|achy|sore|niggles?|twinges?|"
    r"injur\w+|swollen|swelling|problems?|discomfort|tightness)\b|\b(?:do|does|did|is|are|was|has|"
    r"have) not (?:\w+ )?(?:hurt|hurting|ache|aching|painful|sore|bother\w*|swollen)\b|\bpain ?free\b|"
    r"\bnothing hurts?\b|\bpain (?:is |has |all )?(?:gone|over|went|disappeared|vanished|free)\b|"
    r"\b(?:stopped|not) (?:hurting|aching)\b|\bheadache (?:is |has )?(?:gone|over)\b"
)
_IT_HURTS = re.compile(
    r"^(?:and )?(?:it|they|which|that|still) (?:really |still |now |is |are )*(?:hurts?|hurting|"
    r"painful|aches?|aching)\b|^(?:still )?hurts\b"
)
_AS_WELL = re.compile(r"^(?:and )?(?:my |the |now )?(?:\w+ )?\w+ (?:too|as well|also)$")
"""'Right foot hurts, upper back too'."""
_WHO_HAS = re.compile(r"\b(?:who|whose) (?!knows)\w+\b(?!.*\bmy\b).*")
"""'With our bassist, who has a bad back'."""
_NONE_LEFT = re.compile(
    r"(?:and |so |but )?(?:there is )?(?:no|0|without) (?:more )?pain (?:at all|any ?more|now|anywhere|left|today)"
)
_WAS = re.compile(r"\b(?:was|were|had|yesterday|last (?:week|night|time))\b")
"""'The hamstring that was moaning is quiet, no pain at all': it is over. A place that is well says nothing of another."""
_STILL = re.compile(r"\b(?:still|again|but|comes? and goes?|not gone)\b")


def read_pain(clauses: list[str]) -> tuple[Place, ...]:
    """The places that hurt, by the client's own clauses; plain 'back' where no more is said."""
    over = any(_NONE_LEFT.fullmatch(clause) for clause in clauses)
    told = [clause for clause in clauses if not (over and _WAS.search(clause))]
    found = {place for clause in told for place in _pain_in(clause)}
    for clause, following in itertools.pairwise(clauses):
        if _IT_HURTS.search(following):
            found |= _places(clause) - {Place.OTHER}
        if _AS_WELL.search(following) and _pain_in(clause):
            found |= _places(following) - {Place.OTHER}
    if found & {Place.LOWER_BACK, Place.UPPER_BACK}:
        found.discard(Place.BACK)
    return tuple(sorted(found, key=lambda place: place.value))


def _pain_in(clause: str) -> set[Place]:
    clause = _WHO_HAS.sub(" ", clause)
    text = _MUSCLES_BURN.sub(" ", _IDIOM.sub(" ", _MOVED.sub(" ", clause)))
    if _NOT_HERE.search(text):
        return set()
    places = _places(text)
    if _HURT.search(text) or _ACHE_WORDS.search(text):
        return places - ({Place.OTHER} if len(places) > 1 else set())
    if _SORE.search(text) and not _WORKED_MUSCLE.search(text) and re.search(r"\bsore\b", text):
        return _places(_MUSCLE.sub(" ", text)) & _JOINTS
    return set()


def _places(text: str) -> set[Place]:
    """The client's own places that a clause names."""
    return {
        _PLACES[int(found.lastgroup[1:])][1]
        for found in _PLACE.finditer(text)
        if found.lastgroup and not said_of_another(text, found.start())
    }
