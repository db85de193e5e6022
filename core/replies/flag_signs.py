"""The signs of a red flag, as a table: the words, what makes them doubtful, and what makes them nothing.

The signs follow the major signs and symptoms in ACSM's Guidelines for Exercise Testing and Prescription (chest, neck, jaw and
arm pain; breathlessness at rest, lying or at mild effort; dizziness and fainting; swollen ankles; palpitations; claudication;
a known murmur; unusual fatigue), and common sense beyond them (stroke, head injury, dark urine, blood, allergy, heat, a swollen
calf, numbness in the saddle, thoughts of suicide).
"""

import re
from dataclasses import dataclass

from core.replies.meaning import Urgency

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
_ASLEEP = (
    r"(?:pillow|slept|sofa|couch|bed|bunk|hammock|asleep|at (?:nine|9|10|11|8|t\d\d:\d\d|half)|in front of|"
    r"on the (?:bus|plane|train|floor of the van)|in the van|straight after the show|after the show|"
    r"watching|film|in my clothes|berth|cabin|early|for (?:\d+|eight|ten) hour)"
)


@dataclass(frozen=True, slots=True)
class Sign:
    """Words that are a red flag, and what around them makes them doubtful ('ask'), or nothing at all."""

    words: re.Pattern[str]
    ask_if: re.Pattern[str] | None = None
    nothing_if: re.Pattern[str] | None = None
    level: Urgency = Urgency.ALARM


def _sign(words: str, *, ask_if: str = "", nothing_if: str = "", level: Urgency = Urgency.ALARM) -> Sign:
    return Sign(
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
    r"exploding|explode|bounc\w*|jolt\w*|lurch\w*|thrash\w*|leap\w*|flopp\w*|trembl\w*|quiver\w*|buzz\w*|thudd\w*|burst|would not (?:come|slow|calm)|stopping and starting|in my (?:throat|mouth|"
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
SIGNS = (
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
        nothing_if=rf"(?:^(?!.*(?:{_REST}|{_EASY})).*out of (?:breath|puff) (?:\S+ ){{0,4}}(?:as expected|by the end|as it should|but (?:happy|good|fine|great|ok|proud))\b|"
        rf"out of (?:breath|puff)(?!.*{_EASY})(?!.*{_REST}) (?:\S+ )*{_EXERTION}|winded (?:myself|"
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
        nothing_if=r"(?:(?:breathing hard|panting|gasping|puffing) (?:like (?:a|an|my) (?:\w+ )?\w+ )?(?:after|on|during|at the end|by the end)|choking (?:on the|traffic|"
        r"fumes))",
    ),
    _sign(
        r"dizz(?:y|iness|yness|ied)\b|light ?head(?:ed)?(?:ness)?\b|faint(?:ed|ing|s|y|ness)?\b|woozy\b|"
        r"vertigo\b|giddy\b|keel(?:ed|ing)? over\b|woke up on the (?:floor|deck|ground|carpet|tiles|pavement)\b|(?:lost|losing|lose) (?:my )?(?:consciousness|conscience|"
        r"conscious)\b|unconscious\b|black(?:ed|ing)? ?out\b|came over all\b|funny turn\b|syncope\b|"
        r"off balance and sick\b|(?:got|had|have|having|getting) the spins\b|(?:room|world|everything|ground|walls?|gym|cabin|hall|floor|ceiling|place|"
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
        r"was about to )?(?:nearly |almost )?(?:stop(?:ped|s|ping)?|gave (?:up|out|in)|give (?:up|out|in)|pack\w* (?:in|up)|quit\w*|conk\w* out|blow\w*|pop\w*|jump\w* out|"
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
        r"ballooned|bloated|like (?:balloons|tree ?trunks|sausages|melons))\b|(?:swollen|swelling|puffy|bloated)(?: \S+){0,3}? (?:ankles|feet|legs)\b",
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
        r"better off|wish i (?:was|were)) (?:be )?dead\b|suicid\w*\b|not (?:really |even |actually |exactly |particularly |much )?want to (?:be alive|be around|be here(?! for| until)|live(?! (?:in|at|on|with|near|like) (?!this world|pain|the world|myself))|exist|"
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
        nothing_if=rf"(?:^(?!.*\b(?:{_REST}|{_EASY})\b)(?=.*\b{_EXERTION}\b).*\blungs? (?:\S+ ){{0,3}}(?:burn\w*|on fire|bursting|scream\w*|happy)|not a problem|no problem|feels? (?:fine|good|great|ok)|sore|soreness|doms|stretch\w*|press|"
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
        r"(?:tightness|pressure|ache|aching|pain|burning|heaviness|squeezing|it)(?: \S+){0,7} (?:spread|spreads|spreading|radiat\w*|travell?\w*|"
        r"shot|shoots|went|moved) (?:to|into|up|down|across) (?:my |the )?(?:left |both )?(?:shoulders?|arms?|jaw|neck)\b|"
        r"(?:can|could) not (?:\w+ )?finish (?:a |my )?sentences?\b|without (?:gasping|wheezing|stopping for (?:air|breath)|losing my breath)\b|(?:not|never) know how (?:i|it) "
        r"(?:got|ended|came|happened)\b|(?:left|right|one) (?:hand|arm|leg|foot|side)(?: \S+){0,3} (?:clumsy|useless|dragg\w*|not obey\w*|not work\w*|"
        r"will not work|will not move)\b|(?:smile|mouth|face|lips?|eyelid)(?: \S+){0,3} (?:crooked|lopsided|uneven|wonky)\b|(?:calf|lower leg)"
        r"(?: \S+){0,6} (?:bigger|thicker|fatter|larger|wider) than\b|how many (?:pills|tablets|paracetamol|sleeping)\b|(?:blind|blindness|no sight|"
        r"could not see|can not see)(?: \S+){0,3} (?:in )?(?:one|my left|my right) eye\b|will not be (?:around|here|alive)(?: \S+){0,3} (?:much longer|next|"
        r"any ?more|for the)\b|not think i will be (?:around|here|alive)\b"
    ),
    _sign(
        r"head ?rush\b|a coronary\b|heart (?:was |is )?(?:ready|about) to (?:quit|stop|burst|give|go|explode|pack)\b|lights? (?:went|go|goes) (?:out|off) (?:for a|when i|as i|in my)\b|want (?:it|this|everything|all this) (?:all )?to (?:stop|end|be over)\b|"
        r"no point (?:to|in) (?:anything|it all|any of it|life|me)\b",
        level=Urgency.ASK,
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
SPREAD = frozenset(
    sign
    for sign in SIGNS
    if any(
        cue in sign.words.pattern
        for cue in ("claudication", "concuss", "pillows", "not like me", "deep vein", "indigestion")
    )
)
