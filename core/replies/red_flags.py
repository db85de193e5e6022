"""Red flags: words that stop training and send for medical care, and words that may.

The signs follow the major signs and symptoms in ACSM's Guidelines for Exercise Testing and Prescription (chest, neck, jaw and
arm pain; breathlessness at rest, lying or at mild effort; dizziness and fainting; swollen ankles; palpitations; claudication;
a known murmur; unusual fatigue), and common sense beyond them (stroke, head injury, dark urine, blood, allergy, heat, a swollen
calf, numbness in the saddle, thoughts of suicide). Nothing is diagnosed: a match only means stop and ask.

A sign of one's own counts even when it has passed. What is denied, or another person's, or a manner of speaking, does not;
what may as well be a manner of speaking is asked about.
"""

import re
from collections.abc import Iterable
from dataclasses import dataclass

from core.replies.clauses import OTHERS, Clause
from core.replies.meaning import Urgency
from core.replies.second_opinion import sounds_harmless

_EXERTION = (
    r"(?:intervals?|sprints?|sprinting|hills?|finisher|burpees?|rower|rowing|run|runs|running|race|"
    r"bike|squats?|deadlifts?|lunges?|circuits?|climb|sled|amrap|cardio|set|sets|round|rounds|session|"
    r"workout|training|conditioning|push ups|pull ups|swim|5 km|10 km|treadmill|ride|cycl\w+|spin|"
    r"skipping|rope)"
)
_REST = (
    r"(?:rest|resting|sitting|sat|lying|laying|bed|sleep|asleep|reading|nothing|no reason|night|desk|"
    r"sofa|couch|standing still|without reason|watching tv|all day|all morning|doing nothing|woke|"
    r"just here)"
)
_EASY = (
    r"(?:stairs?|walk|walking|walked|flight of|steps|shoes?|shopping|shower|dressed|dishes|bus|gangway|"
    r"companionway|suitcase|bag|bags|mild|easy|slow|small|little effort|talking|eating|standing up|"
    r"getting up|stand up|get up)"
)

_FIGURES = re.compile(
    r"\bchest (?:press\w*|day|days|work|workouts?|exercises?|fly|flys|flies|flyes|stretch\w*|pass|cold|"
    r"infection|of|expander|supported|compressions?|hair|straps?|machine|session|routine|and (?:back|"
    r"triceps|tris|arms|shoulders)|or back|freezer|height|high|numbers|pumps?|dips?|to bar|opener|"
    r"sets?|volume|gains)\b|\b(?:props?|costumes?|treasure|tool|tools|medicine|flight|ice|sea|war|"
    r"wooden|big|make ?up) chests?\b|\b(?:back|arms|legs|shoulders|triceps) and chest\b|\bchesty\b|"
    r"\bdid chest\b|\boff my chest\b|\bchest or\b|\bchicken breast\b|\bbreast ?stroke\b|"
    r"(?<!resting )\bheart (?:of|to heart|felt|shaped?|warming|break\w*|and soul|emoji|full|sank|"
    r"is full|was not in|is not in|was in it|goes out|melt\w*|rates? (?:was|is|monitor|zone|data|avg|"
    r"average|around|about|at|up to|hit|of|max)?)\b(?! not)|\bheart(?:felt|breaking|broken|warming|y|"
    r"less|ily)\b|\bby heart\b|\b(?:my|with all my|whole|cross my|took|take|lose|lost|bleeding|half|"
    r"light|broken|young at|i) heart(?:ed)?(?= (?:i will|you|this|it|went|from|$))|\btook heart\b|"
    r"\bhalf hearted\b|\bcross my heart\b|\bheart (?:is |was )?(?:not )?in it\b|\b(?:city|"
    r"town) heart\b|\b(?:time|room|space|chance|moment|able|need|let me|remember|how (?:do|should|"
    r"to) i?) to breathe\b|\bbreath\w* ?taking\b|\b(?:took|takes|take) my breath away\b|"
    r"\bbreath of fresh\b|\bhold (?:your|my) breath\b|\bbreather\b|\bbreath(?:ing|e) (?:exercises?|"
    r"work|technique|drills?|practice|better|easier|easily|space)\b|\bunder (?:my|his|her) breath\b|"
    r"\bcaught my breath\b|\bcatch my breath (?:then|and|before|between)\b(?<!not catch my breath)|"
    r"\bfaint(?:est|ly)\b|\bfaint (?:hope|praise|heart\w*|smell|signal|sound|light|memory|chance|line|"
    r"idea|whiff|glow|music|noise|outline|taste)s?\b|\b(?:wifi|signal|sound|light|smell|line|lines|"
    r"memory|music|print|text|writing|moon|star) (?:is|was|are|too) (?:so |very |too |really )?faint\b|"
    r"\bdizzying\b|\bdizzy (?:heights?|schedule|timetable|pace|week|days|calendar|tour)\b|"
    r"\bspinning (?:plates|lights?|class|bike|tops?|wheel|around|stage)\b|\bspinning with\b|"
    r"\bpass(?:ed|ing)? out (?:the |some |all |our |of |more )?(?:the )?(?:flyers?|programmes?|"
    r"programs?|leaflets?|sweets|tickets|drinks|posters|scripts|snacks|water|notes|parts|class|sheets|"
    r"cards|bibs|food|bands|lanyards|pamphlets|candy|towels)\b|\bblack ?outs? (?:in|at|during|on stage|"
    r"blinds?|curtains?|cue|after|was|of)\b|\b(?<!little )(?<!short )(?<!brief )(?<!had a )(?<!tiny )blackout\b|\b(?:power|lights?|grid|stage|town|city|"
    r"street|screen|ship|projector) (?:has |had |all |just )?(?:blacked|passed|went) (?:out|off|black|"
    r"dark)\b|\bblacked out (?:(?:the |our |my |all |some )+(?!gym|floor|stairs|shower|end|session)\w+|windows?|lines|text)\b|"
    r"\b(?:career|social|political) suicide\b|\bsuicide (?:for|mission|pact|note in)\b|\blaugh\w*(?: so)?(?: hard| much| loud\w*)?(?: \S+){0,5} (?:could|can) not "
    r"breathe?\b|\bthroat closed for\b|\bdie of (?:shame|embarrassment|boredom|laughter|cringe|envy|thirst)\b|\b(?:can|could) not see (?:a thing|anything) (?:in|"
    r"for|through|from)\b|\bheart ?burn is what\b|\b(?:in|during) the (?:\w+ )?(?:scene|revolve|dream ballet|fight call|curtain call)\b|\b(?:wheezing|panting|racing|"
    r"pounding) (?:old|dog|van|engine|car|bus|boiler|music|beats?|club|rain|the|to|against|"
    r"after the (?:ball|bus|train)|driver|pavement|engines?|bikes?|dogs?|round)\b|\bmind (?:is |was |"
    r"keeps )?racing\b|\bgasping for (?:a|some) (?:pint|drink|coffee|tea|cuppa|beer|smoke|water|brew|"
    r"cigarette)\b|\bunder pressure\b|\b(?:high|low|air|blood|tyre|tire|water|peer|time|"
    r"work) pressure\b|\bpressure (?:cooker|washer|is on|at work|from (?:work|the|my boss))\b|"
    r"\bblood (?:test|tests|oranges?|sugar was|pressure|blister\w*|donor|brothers?|bank|moon|type|work|"
    r"drive|sausage|sweat)\b|\bblood , sweat\b|\bgave blood\b|\bdonat\w+ blood\b|\bblood is\b|"
    r"\bsuicide (?:runs?|sprints?|drills?|squad|shuttles?|sets?)\b|\bsuicides\b|\bskipp\w* (?:rope|"
    r"a (?:day|session|meal))\b|\bskipped beats in\b|\bdrum\b(?=.*\bsolo\b)|\bflutter kicks?\b|"
    r"\bbutterfl\w+\b|\bstroke of (?:luck|genius|midnight)\b|\b(?:back|front|side) stroke\b|"
    r"\bstrokes? (?:per|rate|count|length)\b|\bmurmurs? (?:of|(?:in|from|through|across) the (?:crowd|audience|hall|house|stalls|crew|room))\b|"
    r"\bseizure of\b|\b(?:in|of|from) the (?:play|film|movie|show|script)\b|\bstars? (?:of|over|on|"
    r"in the sky|tonight|above|sign|at the|everywhere|and the)\b|\bvision (?:board|statement|mixer)\b|"
    r"\bheavy head\b|\bhead (?:is |was )?in the clouds\b|\b(?:hit\w*|bang\w*|beat\w*|knock\w*|"
    r"smash\w*) (?:my|our|your) heads? (?:on|against) (?:a|the) (?:brick )?wall\b|\bheads? up\b|"
    r"\bend it (?:at|with|here|there|on|after|early|now|by|there)\b|\bend it all with\b|\bkill(?:s|ed|"
    r"ing)? (?:it|me|the|them|that|time|this)\b|\bdead ?(?:lifts?|lines?|hangs?|bugs?|tired|battery|"
    r"weight|ball|pan|legs?|on|stop|easy|good|sleep|heat|beat|ringer)\b|\bdying (?:to|for|"
    r"of (?:laughter|heat|boredom))\b|\bcollapsed? (?:the |my |our |a )?(?:tent|table|bed frame|stand|"
    r"tripod|bike|box|chair|umbrella|ladder|set|stage|truss|pole|poles)\b|\b(?:tent|set|stage|plan|"
    r"plans|deal|scaffold\w*|bridge|roof|wall|marquee|chair|bed|shelf|economy|tour|bunk|table|truss|"
    r"market|ceiling|table) (?:has |have |had |just |almost |nearly |all )?collapsed\b|"
    r"\blost control of (?:my|the) (?:schedule|bike|car|van|diary|budget|week|kite|boat)\b|"
    r"\bcollapsed? laughing\b|\bfell (?:about|over) laughing\b|\b(?:engine|battery|phone|laptop|motor|"
    r"generator|projector|van|car|boat|wifi|screen|drone|computer|ship|cable|speaker|light|desk|"
    r"console|torch|kettle) (?:\w+ ){0,3}(?:palpitations?|died|passed out|seizure|fainted|collapsed|"
    r"heart attack|stroke|blacked out|wheez\w*|cough\w*)\b|\bslurred my (?:lines|words in rehearsal|"
    r"speech on stage|cue)\b|\bbody language\b|\bjaw[ -]?dropp\w*\b|\bswollen (?:river|shut|door|"
    r"feet of|sun|budget|stream|wood|window|cast list|egos?)\b|\b(?:door|river|wood|window|drawer|"
    r"budget|stream) (?:was|is|got|has) swollen\b|\bhot and swollen sun\b|\bheat (?:was|is) (?:brutal|"
    r"crazy|mad)\b|\bchest ?nuts?\b|\bmy (?:character|role|part)\b.*|\b(?:in|during|at the end of) (?:the )?(?:\w+ )?(?:act|scene)\b.*|\b(?:die|dies|died|faint\w*|collapse\w*) (?:\S+ ){0,5}(?:every night|on stage|twice nightly|in the (?:play|show|opera|second half))\b|\bi play (?:a|an|the|someone|"
    r"somebody)\b.*|\bfirst aid (?:course|training|class)\b.*|\b(?:watched|watching|read|reading|"
    r"saw) (?:a|an|the|about|that) (?:film|movie|show|play|book|documentary|series|article)\b.*|"
    r"\bsweats? and tears\b"
)

_STORY = re.compile(
    r"\b(?:first aid|rescue|safety|medical|survival|sea survival|lifeguard|fire) (?:course|training|class|drill|lecture|talk|"
    r"poster|leaflet|video|quiz|exam|refresher|manual)\b|\b(?:power|electricity|mains) (?:cut|outage|failure)\b|"
    r"\b(?:film|movie|novel|episode|series|documentary|podcast|script|libretto|audiobook)\b"
)
"""What a whole sentence tells of is not the client's: a course, a story, a power cut."""

_ASKED_ANYWAY = re.compile(
    r"\b(?:lol|haha\w*|hah|rofl|lmao|figuratively|so to speak|joking|kidding|laughing|joy|excitement|"
    r"with (?:joy|laughter|happiness|relief)|in love|for love|jk)\b|😂|\bthought (?:i|"
    r"my heart) (?:would|was going to|was about to|might)\b|\bwhen i saw the\b|\b(?:when|"
    r"as) the (?:set|bill|news|curtain|score|price)\b|\b(?:premiere|nerves|nervous|stage fright|"
    r"the final|penalties|opening night|before the show|going on stage|audition|exam|interview)\b|"
    r"\b(?:used to|years ago|once (?:at|in|when|as)|at school|as a (?:kid|child|teenager)|long ago|when i was (?:a kid|young|little|"
    r"\d+)|last year)\b|\bin the (?:play|film|movie|opera|musical|script|scene|ballet)\b|\bin a good way\b|\bif (?:i|my|you)\b|\bwhat if\b|\bhow (?:do|can|should|would|to)\b|"
    r"\bcould it be\b"
)
_ASLEEP = (
    r"(?:sofa|couch|bed|bunk|hammock|asleep|at (?:nine|9|10|11|8|t\d\d:\d\d|half)|in front of|"
    r"on the (?:bus|plane|train|floor of the van)|in the van|straight after the show|after the show|"
    r"watching|film|in my clothes|berth|cabin|early|for (?:\d+|eight|ten) hour)"
)


@dataclass(frozen=True, slots=True)
class _Sign:
    """Words that are a red flag, and what around them makes them doubtful ('ask'), or nothing at all."""

    words: re.Pattern[str]
    ask_if: re.Pattern[str] | None = None
    nothing_if: re.Pattern[str] | None = None
    level: Urgency = Urgency.ALARM


def _sign(words: str, *, ask_if: str = "", nothing_if: str = "", level: Urgency = Urgency.ALARM) -> _Sign:
    return _Sign(
        re.compile(rf"\b(?:{words})"),
        _hint(ask_if),
        _hint(nothing_if),
        level,
    )


def _hint(words: str) -> re.Pattern[str] | None:
    if not words:
        return None
    return re.compile(words if words.startswith("^") else rf"\b(?:{words})\b")


_HARD_WORK = rf"^(?!.*\b(?:{_REST}|{_EASY})\b).*\b{_EXERTION}\b"
"""Exertion is named, and neither rest nor a mild effort."""

_NEAR = r"(?: \S+){0,6}? "
_CHEST = r"(?:chest|chests|breast ?bone|sternum|breast|heart area|rib ?cage)"
_CHEST_FEELS = (
    r"(?:pains?|painful|aches?|aching|ached|hurts?|hurting|hurted|tight|tighter|tightness|tightening|"
    r"tightened|pressure|heavy|heaviness|squeez\w+|crush\w*|burn\w*|discomfort|uncomfortable|stabbing|"
    r"stabs?|weird|funny|strange|odd|constrict\w*|twinges?|cramp\w*|pinch\w*|pressing|clamp\w*|"
    r"clench\w*|weight|elephant|band|sharp|stitch|numb\w*|flutter\w*|dull|sitting|thump\w*|not right|"
    r"squashed|compressed|fire|spasms?|throbb\w*)"
)
_HEART_ACTS = (
    r"(?:racing|raced|races|race|pounding|pounded|pounds|fluttering|flutters|fluttered|flutter|"
    r"skipping|skipped|skips|skip|irregular\w*|jumping|jumps|jumpy|flip ?flops?|flips?|flipping|"
    r"somersault\w*|all over|funny|weird|strange|odd|stumbling|stumbles|out of rhythm|uneven|thumping|"
    r"thumped|hammering|hammered|beating (?:so |very |really |too |like )?(?:fast|hard|mad|crazy|weird|"
    r"strangely|irregular\w*|quick\w*|loud\w*|out)|beats (?:so |very |too |really )?(?:fast|hard|"
    r"strange\w*|irregular\w*|quick\w*)|knocks|knocking|mad|crazy|like a drum|missing (?:a )?beats?|"
    r"missed (?:a )?beats?|hurts?|hurting|aches?|aching|pains?|painful|galloping|wild|bursting|"
    r"exploding|explode|burst|would not (?:come|slow|calm)|stopping and starting|in my (?:throat|mouth|"
    r"ears))"
)

_VITAL = r"(?:chest|heart|heartbeats?|pulse|breath|breathe|breathing|lungs?|vision|eyesight|consciousness)"
_SYMPTOM = (
    r"(?:pain\w*|hurts?|hurting|ach\w*|tight\w*|pressure|weird\w*|strange\w*|odd|funny|heavy|numb\w*|"
    r"tingl\w*|lost|losing|gone|can not|could not|hard|trouble|problems?|swollen|burn\w*|sharp|stab\w*|"
    r"flutter\w*|racing|pound\w*|skip\w*|missed|irregular\w*|stopp\w*|blurr\w*|dark|black|fast|dizz\w*|"
    r"sick|worr\w*|not right|off|bad|jump\w*|thump\w*|crazy|shallow|short|struggl\w*|difficult\w*|"
    r"uncomfortable|discomfort|cramp\w*|knot|lump)"
)
_BODY_AND_SYMPTOM = rf"{_VITAL}\b(?: \S+)*? {_SYMPTOM}\b|{_SYMPTOM}(?: \S+)*? {_VITAL}\b"
"""The last net: what keeps one alive, and any complaint in the same clause, is asked about."""

_SIGNS = (
    _sign(
        rf"{_CHEST}\b{_NEAR}{_CHEST_FEELS}\b|{_CHEST} {_CHEST_FEELS}\b|{_CHEST_FEELS}{_NEAR}{_CHEST}\b|"
        rf"{_CHEST_FEELS} {_CHEST}\b",
        nothing_if=r"(?:sore|soreness|doms)",
    ),
    _sign(r"chest\b.*\bbreath(?:e|ing)\b", ask_if=r"sore"),
    _sign(
        r"(?:left|both|my) arms? (?:\S+ ){0,4}?(?:numb\w*|heavy|tingl\w+|dead|weak|pins and needles|pain|"
        r"pains|painful|aches?|aching|hurts?|limp|go heavy|went heavy)\b|(?:numb\w*|tingl\w+|pains?|ach\w+|"
        r"pins and needles|heaviness|radiat\w+|shooting)(?: \S+){0,4}? (?:left arm|both arms|down (?:my|"
        r"the|one) (?:left )?arm|arm and (?:my )?(?:jaw|neck|chest)|jaw and (?:my )?(?:arm|neck|chest))\b",
        ask_if=r"(?:slept on|curls?|pull ups?|from the|after the|from carrying|weights|sore|vaccine|jab|elbow|"
        r"shoulder|bruis\w*|fell)",
        nothing_if=r"(?:arms? (?:are|were|is|feel|felt) (?:so |really |a bit |very )?(?:heavy|dead|weak|like jelly|"
        r"painful|hurting) (?:after|from)|my arms? (?:\S+ ){0,3}(?:hurts?|aches?|pain|heavy|dead|painful|"
        r"aching)(?!.*jaw))",
    ),
    _sign(
        r"jaw\b(?: \S+){0,4}? (?:pain\w*|aches?|aching|hurts?|numb|tight\w*|sore)\b|(?:pain\w*|ach\w+|"
        r"numb\w*)(?: \S+){0,3}? jaw\b",
        ask_if=r"(?:tooth|dentist|filling|wisdom|chew\w*|laugh\w*|clench\w*|punch\w*)",
    ),
    _sign(
        r"(?:pain\w*|ache\w*|pressure|burning)(?: \S+){0,3}? between (?:my|the) shoulder ?blades?\b",
        ask_if=r"(?:rows?|pull ups?|deadlifts?|carry\w*|desk|lifting|press)",
    ),
    _sign(
        r"short(?:ness)? (?:of|off) (?:my )?breath\b|breathless\w*\b|out of (?:breath|puff)\b|winded\b|"
        r"puffed out\b|no breath\b",
        ask_if=_HARD_WORK,
        nothing_if=rf"(?:out of (?:breath|puff)(?!.*{_EASY})(?!.*{_REST}) (?:\S+ )*{_EXERTION}|winded (?:myself|"
        rf"by the ball|me)|{_EXERTION}(?: \S+){{0,3}} out of breath(?!.*{_EASY}))",
    ),
    _sign(
        r"(?:can|could|did) (?:not|hardly|barely|scarcely) (?:\w+ )?(?:breathe?|breath|breathing|"
        r"catch (?:my|a) breath|get (?:my |a |any |enough )?(?:breath|air)|fill my lungs)\b|(?:hardly|"
        r"barely) (?:breathe?|breathing|able to breathe)\b|(?:trouble|difficult(?:y|ies)?|problems?|"
        r"struggl\w+|hard|unable|not able|fighting|impossible|painful|hurts?) (?:with |to |in |"
        r"for )*(?:my )?(?:time )?(?:breathe?|breathing|breath|get (?:any |enough )?air|catch (?:my|"
        r"a) breath)\b|not (?:have )?enough air\b|no air\b(?! con| conditioning| miles| bnb)|(?:can|could) not (?:\w+ )?air\b|"
        r"breath(?:ing)? (?:is|was|feels|felt|gets|got|has been|seems) (?:so |very |really |a bit |"
        r"pretty )?(?:hard|difficult|heavy|laboured|labored|weird|painful|short|shallow|strange|tough)\b|"
        r"(?:wheezy|suffocat\w*|choking|gasping|panting)\b|(?:i am|am|was|been|started|i was|keep|kept|"
        r"still) wheezing\b|wheezing (?:and|when|at|a lot|all)\b|stopped breathing\b|(?:woke|wake|"
        r"waking)\b.*\b(?:gasp\w*|chok\w*|breath\w*|air)\b|pillows?\b.*\bbreathe?\b",
        ask_if=_HARD_WORK,
        nothing_if=r"(?:(?:breathing hard|panting|gasping|puffing) (?:after|on|during)|choking (?:on the|traffic|"
        r"fumes))",
    ),
    _sign(
        r"dizz(?:y|iness|yness|ied)\b|light ?head(?:ed)?(?:ness)?\b|faint(?:ed|ing|s|y|ness)?\b|woozy\b|"
        r"vertigo\b|giddy\b|keeled over\b|(?:lost|losing|lose) (?:my )?(?:consciousness|conscience|"
        r"conscious)\b|unconscious\b|black(?:ed|ing)? ?out\b|came over all\b|funny turn\b|syncope\b|"
        r"off balance and sick\b|(?:room|world|everything|ground|walls?|gym|cabin|hall|floor|ceiling|place|"
        r"deck|stage)(?: \S+){0,2} (?:spinning|spun|spins|swaying|tilting|swimming)\b|(?:vision|sight|eyes|"
        r"eyesight) (?:\S+ )?(?:dark|black|blurry|blurred|fuzzy|double|tunnel|grey|gray|dim|narrow\w*)\b|"
        r"(?:seeing double|double vision|tunnel vision|blurred vision|blurry vision|black spots|"
        r"grey ?out)\b",
        ask_if=r"(?:with joy|laughing|dizzy (?:with|from) (?:all|these|the|joy|excitement|happiness))",
        nothing_if=r"(?:not the faint\w*|guy who faints|light ?head ?lamp)",
    ),
    _sign(r"pass(?:ed|ing)? (?:right )?out\b", ask_if=rf"(?:{_ASLEEP})"),
    _sign(r"collapsed?\b|collapsing\b", ask_if=rf"(?:{_ASLEEP}|heap|chair|floor laughing)"),
    _sign(
        r"(?:everything|it all|all) (?:went|goes|going|turned) (?:black|dark|blurry|grey|white|fuzzy)\b|"
        r"(?:saw|see|seeing) stars\b|head (?:is |was |keeps |started |been )?(?:spinning|swimming)\b|"
        r"nearly fell over\b|legs? (?:gave|give|giving) way\b|wobbly and\b|unsteady on\b|about to drop\b",
        level=Urgency.ASK,
    ),
    _sign(
        r"(?:legs? (?:gave|give) way and|(?:everything|it) (?:went|goes) (?:black|dark|"
        r"blurry)(?: \S+){0,2} (?:when i|when getting|as i|on standing|for a|then i|after))\b|(?:saw|"
        r"seeing) stars and had to\b"
    ),
    _sign(
        r"palp(?:s|itat\w*)\b|arr?h?ythmia\w*\b|a ?fib\b|irregular (?:heart ?beat|pulse|heart|rhythm)\w*\b|"
        r"(?:extra|skipped|skipping|missed|missing|ectopic) (?:heart ?)?beats?\b|heart ?beats? (?:is |was |"
        r"are |feels? |felt )?(?:irregular|weird|funny|strange|off|all over|skipping)\b|angina\b"
    ),
    _sign(
        rf"(?:heart|pulse|heartbeat)\b(?: \S+){{0,5}}? {_HEART_ACTS}\b|(?:racing|fluttering|pounding|"
        rf"irregular|thumping|weak) (?:heart|pulse|heartbeat)\b|flutter\w*(?: \S+){{0,3}} heart\b",
        ask_if=rf"(?:{_EXERTION}|in my mouth|music|drum|love|coffee|espresso|spiking|would not come down|"
        rf"come down)(?!.*\b{_REST}\b)",
    ),
    _sign(
        r"heart (?:nearly |almost |just )?(?:would |was going to |is going to |going to |"
        r"was about to )?(?:nearly |almost )?(?:stop(?:ped|s|ping)?|gave (?:up|out)|give (?:up|out)|"
        r"explode|burst)\b|heart ?burn\b|acid reflux\b|clammy\b|cold sweats?\b",
        level=Urgency.ASK,
    ),
    _sign(
        r"(?:resting )?(?:pulse|heart rate|hr|heart rates?|bpm)(?: \S+){0,4} (?:1[0-9]\d|2[0-4]\d)\b",
        nothing_if=rf"^(?!.*\b{_REST}\b)",
    ),
    _sign(
        r"heart attack\b|heart (?:condition|disease|failure|trouble|problems?|issue|defect|murmur|valve|"
        r"surgery)\b|(?:a|have|got|with|of a) murmur\b(?! of)|cardiac (?:arrest|problem|issue|event)\b|"
        r"stent\b",
        ask_if=r"(?:nearly had|almost had|gave me|give me|near)",
    ),
    _sign(
        r"(?:ankles|feet|legs|lower legs)(?: \S+){0,5}? (?:swollen|swelling|swelled|swells?|puffy|puffed|"
        r"ballooned|bloated)\b|(?:swollen|swelling|puffy|bloated)(?: \S+){0,3}? (?:ankles|feet|legs)\b",
        ask_if=r"(?:rolled|twisted|sprain\w*|fell|fall|stings?|bite|bites|bitten|blisters?)",
    ),
    _sign(
        r"ankle(?: \S+){0,4}? (?:swollen|swelling|swelled|puffy)\b|(?:swollen|swelling|"
        r"puffy)(?: \S+){0,3}? ankle\b",
        level=Urgency.ASK,
    ),
    _sign(
        r"(?:calf|leg|shin)(?: \S+){0,3}? (?:swollen|swelling|swelled|red|hot|warm)\b(?=.*\b(?:swollen|"
        r"swelling|painful|pain|hot|red|flight|haul|sore|warm|hurts?)\b)|(?:swollen|red|"
        r"hot)(?: \S+){0,3}? (?:calf|leg)\b|(?:dvt|blood clot|deep vein)\b",
        ask_if=r"(?:sting|bite|bitten|sunburn\w*|shower|bath|water)",
    ),
    _sign(
        r"(?:calf|calves|legs?|thighs?|buttock)\b.*\b(?:cramps?|cramping|pain\w*|aches?|aching|hurts?|"
        r"tight\w*|tired)\b.*\b(?:walk|walks|walking)\b.*\b(?:stops?|goes|go|gone|away|eases?|better|rest|"
        r"stand|sit|pause)\b|(?:legs?|calf|calves)\b.*\bwhen i walk\b.*\b(?:stops?|rest|stand|goes away|"
        r"eases?)\b|claudication\b"
    ),
    _sign(
        r"(?:exhausted|wiped out|wrecked|tired|shattered|weak|drained|knackered|"
        r"worn out)\b.*\b(?:one flight|a flight|up the stairs|of stairs|short walk|carry my|hardly stand|"
        r"barely stand|can not even|can not stand|getting dressed|brushing|walking to|not like me|"
        r"never (?:had|felt))\b|unusual(?:ly)? (?:tired|fatigue\w*|weak|exhausted|breathless|tiredness)\b|"
        r"abnormal\w* (?:tired|fatigue\w*)\b|so (?:weak|tired|exhausted) (?:that )?i (?:can|"
        r"could) (?:hardly|barely|not)\b|can (?:hardly|barely) (?:stand|walk|get up)\b(?! after (?:leg|"
        r"those|the))",
        ask_if=r"(?:after (?:the )?(?:show|get out|shift|leg|session|flight)|legs? day|squats)",
    ),
    _sign(
        r"(?:pee|urine|wee|piss|peeing|weeing|pissing|water works)\b(?: \S+){0,6}? (?:dark|brown\w*|cola|"
        r"coke|black|red|pink|blood\w*|tea|rust\w*|coffee)\b|(?:dark|brown|black|red|cola colou?red|bloody|"
        r"tea colou?red|pink)(?: \S+){0,2}? (?:pee|urine|wee|piss)\b|rhabdo\w*\b"
    ),
    _sign(
        r"(?:cough\w*|spit\w*|spat|vomit\w*|throw\w*|threw|puk\w*|pass\w*|bring\w*|pee\w*|poo\w*|"
        r"shit\w*)(?: up| out)? (?:some |a bit of |a little |bright |red |fresh )*blood\b|blood in (?:my |"
        r"the )?(?:stools?|urine|pee|wee|poo|poop|vomit|spit|sick|phlegm|mucus|toilet)\b|bloody (?:stools?|"
        r"urine|vomit|diarrhoea)\b|black stools?\b|bleeding (?:a lot|heavily|will not stop|"
        r"that will not)\b|will not stop bleeding\b"
    ),
    _sign(
        r"(?:one|left|right) side(?: \S+){0,4}? (?:droop\w*|numb\w*|weak\w*|paraly\w*|dropped|tingl\w*|"
        r"hanging)\b|face (?:\S+ ){0,3}(?:droop\w*|dropped|numb|sagg\w*|fallen)\b|slurr(?:ed|ing)\b|"
        r"speech (?:\S+ ){0,3}(?:slurred|weird|strange|funny|gone|garbled)\b|(?:can|could) not (?:speak|"
        r"talk|find (?:my|the) words|move my (?:right |left )?(?:arm|leg|face|hand|side|mouth|legs|"
        r"arms))\b|sudden(?:ly)? (?:\S+ ){0,2}(?:weakness|numb\w*|weak)\b|(?:arms?|legs?|face|"
        r"hands?) (?:suddenly )?(?:went|gone|has gone|goes) (?:all )?(?:weak|numb|dead|limp)\b|"
        r"had a (?:mini )?stroke\b|having a stroke\b|paraly[sz]ed\b",
        ask_if=r"(?:sitting|sat|slept on|cold|van|bus|dentist|funny bone|position)",
    ),
    _sign(
        r"worst headache\b|thunderclap\b|sudden(?:ly)?(?: \S+){0,3} headache\b|"
        r"headache(?: \S+){0,4} (?:sudden\w*|worst|blind\w*|stiff neck|vision|vomit\w*|explo\w+)\b|"
        r"explosive headache\b"
    ),
    _sign(
        r"(?:hit|banged|bumped|knocked|cracked|smacked|bashed|whacked|hurt) (?:my|the) head\b|(?:bang|blow|"
        r"knock|bump) (?:to|on) the head\b",
        level=Urgency.ASK,
    ),
    _sign(
        r"(?:hit|banged|bumped|knocked|cracked|smacked|bashed|whacked) (?:my|the) head\b.*\b(?:sick|"
        r"vomit\w*|dizz\w*|double|confus\w*|blur\w*|black\w*|unconscious|head ?ache|stars|remember|"
        r"throw\w* up|nause\w*|drowsy|foggy)\b|concuss\w*\b|(?:got|was|been|am|were|i) knocked (?:out|"
        r"unconscious)\b|knocked out (?:for|by|cold)\b|seizures?\b|convuls\w*\b|epilep\w*\b|(?:had|"
        r"having) a fit\b|(?:do|did|can|could) not remember (?:falling|hitting|what happened)\b"
    ),
    _sign(
        r"numb\w*(?: \S+){0,2} (?:between my legs|in my groin|saddle|genital\w*|private\w*|down below)\b|"
        r"(?:lost|no|losing|lose) (?:all )?(?:control|feeling)(?: \S+){0,3} (?:bladder|bowels?)\b|"
        r"wet myself\b|can not (?:feel|control) (?:when i pee|my (?:legs|bladder|bowels?))\b|"
        r"both legs (?:\S+ ){0,2}(?:numb|weak|tingl\w*)\b|legs are numb\b",
        ask_if=r"(?:sitting|van|bus|cold|bike|saddle sore)",
    ),
    _sign(
        r"throat (?:\S+ ){0,2}(?:clos\w*|swelling|swelling up|tightening|closed)\b|(?:tongue|lips?|face|"
        r"eyes)(?: \S+){0,3} (?:swelling|swelled|swollen|swell)\b|(?:swollen|swelling) (?:tongue|lips?|"
        r"face|throat)\b|anaphyla\w*\b|allergic (?:reaction|shock)\b|epi ?pen\b|hives and\b"
    ),
    _sign(
        r"heat ?strokes?\b|sun ?stroke\b|heat exhaustion\b|(?:stopped|not|no longer) sweating\b|"
        r"overheated and\b|hypothermi\w*\b|electrocuted\b|electric shock\b|poisoned\b|carbon monoxide\b|"
        r"hypo(?:glycaemi\w*|glycemi\w*)\b|the bends\b|decompression\b"
    ),
    _sign(
        r"kill(?:ing)? my ?self\b|end(?:ing)? (?:it all|my life|my own life)\b|(?:want|wanting|wanted|"
        r"going|thinking|ready|thought|think|thoughts) (?:to|of|about) (?:just )?end(?:ing)? it\b|(?:want|"
        r"wanted|wish|like|love) to (?:just )?(?:die|be dead|disappear forever|not wake up)\b|(?:rather|"
        r"better off|wish i (?:was|were)) (?:be )?dead\b|suicid\w*\b|not want to (?:be here(?! for| until)|live(?! (?:in|at|on|with|near|like) (?!this world|pain|the world|myself))|exist|"
        r"wake up|go on|be alive)(?: any ?more)?\b|better off (?:without me|if i (?:was|were) (?:not|gone|"
        r"dead))\b|(?:no|any|a) (?:reason|point) (?:to|in|for) (?:live|living|going on|carry on|"
        r"carrying on)\b|not (?:see|have) (?:a|any) (?:reason|point) (?:to|in) liv\w*\b|(?:want|thinking|"
        r"think|urge|urges|going|thoughts|thought|feel like|need)(?: \S+){0,2} (?:hurt|hurting|harm|"
        r"harming|cut|cutting) my ?self\b|self ?harm\w*\b|(?:took|taken|take|"
        r"swallowed)(?: \S+){0,3} (?:too many|all (?:my|the)|a lot of) (?:\w+ )?(?:pills|tablets|meds|"
        r"painkillers|paracetamol)\b|overdos\w*\b|can not go on (?:like this|any ?more|living)\b|"
        r"life is not worth\b|not worth living\b"
    ),
    _sign(r"indigestion\b.*\b(?:push|hard|run|train\w*|effort|exert\w*|climb\w*|walk\w*|stairs)\b"),
    _sign(
        r"(?:numb\w*|tingl\w+|pins and needles)(?: \S+){0,3}? (?:left arm|left hand|one arm|one side|"
        r"face)\b|(?:left (?:arm|hand)|one arm)(?: \S+){0,3}? (?:numb\w*|tingl\w+|pins and needles)\b",
        ask_if=r"(?:slept on|desk|keyboard|elbow)",
    ),
    _sign(
        r"no (?:feeling|sensation)(?: \S+){0,2} (?:between|in my (?:groin|legs?|arms?|face|hand|foot|feet)|"
        r"down)\b|(?:can|could) not feel (?:\S+ ){1,4}?(?:legs?|arms?|face|hands?|feet|foot|mouth|cheek|side)\b|"
        r"words? (?:are |is |were |was )?(?:come|came|coming|comes) out (?:all )?(?:wrong|funny|strange|weird|mixed|jumbled|slurred)",
        ask_if=r"(?:cold|sitting|freezing|squats|lunges|leg day|press|pull ups)",
    ),
    _sign(
        r"(?:my )?head (?:went|goes|felt|feels|got|is|was|gone) (?:all |a bit |so |very |really |"
        r"suddenly )?(?:light|fuzzy|funny|woozy|weird|strange|empty|swimmy|hollow)\b|(?:went down|fell|"
        r"hit the floor|dropped) in the (?:gym|shower|cabin|corridor)\b|(?:do|did|can|"
        r"could) not remember (?:it|anything|falling|how i)\b|(?:hold|grab|lean)(?: on)?(?: to| onto|"
        r" against)? the (?:wall|rail|rack|bar) (?:to|so|not|or)\b"
    ),
    _sign(
        r"(?:can|could|did) (?:not|hardly|barely) (?:\w+ )?(?:feel|see|swallow|move|control|speak|talk|"
        r"stand|focus|stay awake|think straight|keep my eyes open)\b(?: (?:properly|straight|clearly|up|"
        r"anything|well|right|a thing|my (?:left |right |whole )?(?:legs?|arms?|hands?|face|feet|foot|side|"
        r"body|toes|fingers)))",
        ask_if=r"(?:cold|freezing|squats|lunges|leg day|push ups|pull ups|doms|sun|dark|fog|crowd|stage|screen)",
        level=Urgency.ALARM,
    ),
    _sign(
        r"(?:face|mouth|eye|eyelid|lip|cheek)s?(?: \S+){0,3} (?:droop\w*|sagg\w*|hanging down)\b|"
        r"blood\b.*\b(?:cough\w*|spit\w*|spat|vomit\w*|threw up|pee\w*|urine|stools?|toilet|poo\w*)\b|"
        r"(?:been|am|was|keep|kept|started|still) (?:cutting|hurting|harming|burning|starving) my ?self\b|"
        r"cut my ?self (?:again|on purpose)\b"
    ),
    _sign(
        r"(?:saw|see|seeing|had) (?:black |white |little |flashing )?(?:spots|dots|sparks|flashes)\b|"
        r"(?:nearly|almost) (?:went|fell) (?:down|over)\b|(?:went|gone|going) (?:pale|grey|white as)\b|"
        r"(?:cold|clammy) (?:sweat|and clammy)\b|(?:sweating|nauseous|sick) and (?:dizz\w*|pale|shak\w*|"
        r"faint\w*|my (?:arm|chest|jaw))\b|ears? (?:were |was |are )?(?:ringing|rushing) and\b|"
        r"shak\w* (?:and|all over|uncontroll\w*)\b",
        level=Urgency.ASK,
    ),
    _sign(
        _BODY_AND_SYMPTOM,
        nothing_if=r"(?:not a problem|no problem|feels? (?:fine|good|great|ok)|sore|soreness|doms|stretch\w*|press|"
        r"bench|monitor|rate|exercises?|strap|breath\w* (?:hard|heav\w*|fast|like) (?:after|on|during|"
        r"from))",
        level=Urgency.ASK,
    ),
    _sign(
        r"(?:ribs?|chest|breast ?bone|sternum)(?: \S+){0,4} (?:in|like|by) (?:in )?a (?:vice|vise|clamp|press|fist|belt|strap)\b|"
        r"next thing i (?:knew|remember)\b.*\b(?:floor|ground|deck|people|lying|faces)|came (?:round|to|around) (?:on|in) the\b|"
        r"lost (?:a few|some|several|\d+) (?:seconds|minutes|min|moments)\b|(?:had|a|little|short|brief|another) black ?out (?:at|on|after|"
        r"during|when|in) (?:the )?(?:end|last|set|warm|session|shower|squats?|deadlifts?|lift|training)\b|"
        r"cough\w* up (?:something|stuff|some)\b|coffee grounds\b|(?:corner|side|half|part) of (?:my|the) (?:mouth|face|body|tongue)\b|"
        r"head ?ache\b.*\b(?:out of nowhere|like a (?:hammer|bang|bomb|thunder\w*)|(?:neck|stiff) (?:is )?(?:stiff|neck))\b|"
        r"no feeling (?:\S+ ){0,3}wipe\b|(?:when|if) i wipe\b|(?:(?:can|could) not )?(?:hold|holding) my (?:water|pee|urine|bladder|wee)\b|hives\b.*\b(?:throat|breath\w*|lips?|tongue|face)\b|"
        r"(?:easier|better|happier) (?:for (?:everyone|them|everybody|all|people)|off)(?: \S+){0,3} (?:if i (?:was|were|am|did) not|without me|"
        r"if i (?:was|were) (?:gone|dead))\b|(?:nobody|no one|no body|none) would (?:miss|notice|care)\b|"
        r"(?:cut|cutting|burn|burning|scratch\w*|hit|hitting) my (?:arms?|wrists?|legs?|thighs?|skin)\b(?=.*\b(?:cope|again|feel|numb|stop|"
        r"release|relief|punish)\b)|(?:think\w*|thought\w*) (?:about|of) (?:jumping|ending|ways to end|not being here|disappearing|dying|"
        r"killing|walking into|going overboard)\b|(?:took|taken|take|swallowed) (?:the |a |all |my )*(?:whole |full |entire |too many )?(?:strip|"
        r"pack|packet|box|bottle|handful)s? of (?:the |my )?(?:pain ?killers|pills|tablets|sleeping|paracetamol|ibuprofen|meds)\b"
    ),
    _sign(
        r"(?:the|that|this|my) (?:chest|heart) (?:thing|stuff|business|issue) (?:again|is back|came)\b|chest thing\b|heart thing\b|"
        r"(?:felt|feel|feeling|bit|came over|went|gone) (?:a bit |all |very |so )?(?:swimmy|swimming|hazy|spacey|clammy|floaty|drunk without)\b|"
        r"never (?:been|felt) (?:this|so) (?:weak|tired|breathless|drained|exhausted)\b|(?:my )?head (?:hit|struck|met) (?:a |the |against )|"
        r"lump on (?:my|the) head\b|half (?:of )?my (?:body|face|head|arm|leg)\b|could it be my heart\b|my heart or\b|"
        r"(?:end|ending) things\b|(?:do|did|can) not (?:want|see a reason) to (?:get up|be) (?:any ?more|at all)\b|(?:cardiologist|cardiology|ecg|ekg|heart (?:scan|doctor|specialist|echo))\b",
        level=Urgency.ASK,
    ),
    _sign(r"(?:feel|feels|felt) like (?:i am |i was )?dying\b", level=Urgency.ASK),
)

_DENIED = re.compile(
    r"\b(?:no|not|never|without|zero|nor|neither|free of|free from|nothing like|none of|hardly any|any|"
    r"ruled out|cleared (?:of|for)|0)(?: (?:a|an|any|the|my|real|actual|feel|feeling|felt|had|have|"
    r"having|get|got|getting|been|more|sign|signs|hint|of|at|all|bit|really|even|that|ever|"
    r"experienced?|once|remotely|so|too|very|kind|sort|single|other|notice|noticed|chest|pain|pains|"
    r"dizz\w*|breath\w*|palpit\w*|short\w*|swell\w*|faint\w*|tight\w*|or|nor|and|pressure|headache|"
    r"problems?|symptoms?|issues?|discomfort|numbness|nausea|heart|racing|light|headed|"
    r"lightheaded\w*))* ?$"
)
_PASSED = re.compile(
    r"\b(?:again since|(?:fainted|dizzy|happened|blacked out|passed out|collapsed) again|since then|"
    r"any ?more|no longer|no more|any longer)\b"
)
_DENIED_AFTER = re.compile(r"^(?:no|nope|none|not|nothing|never|not at all|negative|nah)\b")
_SUBJECT = re.compile(
    rf"\b(?:(?:my|our|a|the|his|her|their|one of the|another|some|every) (?:\w+ )?(?P<noun>{OTHERS})|"
    rf"(?P<bare>{OTHERS})|(?P<me>(?<!of )(?:i|me|my|mine|myself|we)))\b"
)
_TELLS = frozenset({"doctor", "doc", "physio", "nurse", "paramedic", "medic", "you"})


def read_red_flags(clauses: list[Clause], plain: str) -> Urgency | None:
    """The gravest flag in a message: an alarm, a question, or None. ``clauses`` say whose words are whose."""
    found = {level for number, clause in enumerate(clauses) for level in _flags_in(number, clauses)}
    found |= _across(clauses)
    if Urgency.ALARM in found:
        return Urgency.ASK if _may_be_nothing(plain, clauses) else Urgency.ALARM
    return Urgency.ASK if found else None


def dismisses_a_sign(clauses: list[Clause]) -> bool:
    """Whether a sign is named, and is denied or somebody else's."""
    for number, clause in enumerate(clauses):
        text = _FIGURES.sub(" ; ", clause.text)
        for sign in _SIGNS:
            found = sign.words.search(text)
            if found and (
                _is_denied(number, clauses, text, found) or not _is_own(clause, text, found.start())
            ):
                return True
    return False


def _may_be_nothing(plain: str, clauses: list[Clause]) -> bool:
    """Whether a sign is to be asked about rather than believed: a story, a joke, long ago, or nothing like what flags are."""
    if _STORY.search(plain) and not re.search(r"\b(?:i|my|me)\b", plain):
        return True
    return not _IS_GRAVE.search(plain) and (
        bool(_ASKED_ANYWAY.search(plain)) or all(sounds_harmless(clause.text) for clause in clauses)
    )


_IS_ONES_OWN = re.compile(r"\b(?:without me|my ?self|my (?:own )?life)\b")
_IS_GRAVE = re.compile(
    r"\b(?:chest|kill|suicid\w*|urine|pee|seizure|fainted in|unconscious|murmur|happened)\b"
)


def _flags_in(number: int, clauses: list[Clause]) -> Iterable[Urgency]:
    clause = clauses[number]
    text = _FIGURES.sub(" ; ", clause.text)
    for sign in _SIGNS:
        found = sign.words.search(text)
        if (
            found
            and (
                " my " in f" {found.group()} "
                or _IS_ONES_OWN.search(found.group())
                or _is_own(clause, text, found.start())
            )
            and not _is_denied(number, clauses, text, found)
        ):
            level = _level(sign, text)
            if level:
                yield level


def _across(clauses: list[Clause]) -> set[Urgency]:
    """Signs whose words stand in neighbouring clauses of the client's own."""
    own = " ".join(clause.text for clause in clauses if clause.own)
    text = _FIGURES.sub(" ; ", own)
    if _DENIAL_ANYWHERE.search(text):
        return set()
    return {
        level
        for sign in _SIGNS
        if sign in _SPREAD and sign.words.search(text)
        for level in [_level(sign, text)]
        if level
    }


_DENIAL_ANYWHERE = re.compile(r"\b(?:no|not|never|without)\b")
_SPREAD = frozenset(
    sign
    for sign in _SIGNS
    if any(
        cue in sign.words.pattern
        for cue in ("claudication", "concuss", "pillows", "not like me", "deep vein", "indigestion")
    )
)


def _level(sign: _Sign, text: str) -> Urgency | None:
    if sign.nothing_if and sign.nothing_if.search(text):
        return None
    return Urgency.ASK if sign.ask_if and sign.ask_if.search(text) else sign.level


_FINDS = re.compile(
    r" (?:have |has |had )?(?:found|diagnosed|detected|discovered|heard|told me|says? i|said i|thinks? i)\b"
)
"""What others find in the client is the client's."""


_A_THING = re.compile(
    r"(?:and |but |then )?(?:the|this|that|our|one of the) (?!room|world|whole|floor|ground|wall|ceiling|place|gym|cabin|deck|stage|"
    r"hall|left|right|other|back|chest|heart|head|pain|arm|leg|same|last|first|doc|pulse|face|vision|breath|old|set|session|"
    r"climb|stairs|heat|training|workout|end|day|night|morning|flight)(?:\w+ ){1,2}"
    r"(?:(?:has|had|have|just|nearly|almost|is|was|got|keeps|having|again) )*(?:an? )?$"
)
"""'The winch had a seizure': the clause opens with a thing that the sign is said of."""


def _is_own(clause: Clause, text: str, start: int) -> bool:
    """Whether the last person named before the sign is the client; where nobody is named, whose the clause is."""
    last = None
    for last in _SUBJECT.finditer(text, 0, start):  # noqa: B007 - the last one is wanted
        pass
    if last is None:
        return clause.own and not _A_THING.match(text[:start])
    if _A_THING.match(text[:start]):
        return False
    other = last["noun"] or last["bare"]
    if _FINDS.match(text, last.end()):
        return True
    return other is None or other in _TELLS


def _is_denied(number: int, clauses: list[Clause], text: str, found: re.Match[str]) -> bool:
    if _PASSED.search(text):
        return False
    following = clauses[number + 1].text if number + 1 < len(clauses) else ""
    if clauses[number].asks and _DENIED_AFTER.search(following):
        return True
    return bool(_DENIED.search(text[: found.start()]))
