"""Signs of heart, lungs and circulation, as ACSM's Guidelines for Exercise Testing and Prescription list them.

Chest, neck, jaw and arm pain; breathlessness at rest, lying or at mild effort; dizziness and fainting; swollen ankles;
palpitations; claudication; a known murmur; unusual fatigue.
"""

from core.replies.meaning import Urgency
from core.replies.sign import EASY, EXERTION, HARD_WORK, REST, sign

_ASLEEP = (
    r"(?:pillow|slept|sofa|couch|bed|bunk|hammock|asleep|at (?:nine|9|10|11|8|t\d\d:\d\d|half)|in front of|"
    r"on the (?:bus|plane|train|floor of the van)|in the van|straight after the show|after the show|"
    r"watching|film|in my clothes|berth|cabin|early|for (?:\d+|eight|ten) hour)"
)
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
    r"missed (?:a )?beats?|haywire|mental|nuts|bananas|bonkers|berserk|ballistic|ape|through the roof|hurts?|hurting|aches?|aching|pains?|painful|galloping|wild|bursting|"
    r"exploding|explode|bounc\w*|jolt\w*|lurch\w*|thrash\w*|leap\w*|flopp\w*|trembl\w*|quiver\w*|buzz\w*|thudd\w*|burst|would not (?:come|slow|calm)|stopping and starting|in my (?:throat|mouth|"
    r"ears))"
)
_VITAL = r"(?:chest|heart|heartbeats?|pulse|breath|breathe|breathing|lungs?|vision|eyesight|consciousness)"
_SYMPTOM = (
    r"(?:pain\w*|hurts?|hurting|ach\w*|tight\w*|pressure|weird\w*|strange\w*|odd|funny|heavy|numb\w*|"
    r"tingl\w*|lost|losing|gone|can not|could not|hard|trouble|problems?|swollen|burn\w*|sharp|stab\w*|"
    r"flutter\w*|racing|pound\w*|skip\w*|missed|irregular\w*|stopp\w*|blurr\w*|dark|black|fast|dizz\w*|"
    r"sick|worr\w*|not right|off|bad|jump\w*|thump\w*|crazy|shallow|short|struggl\w*|difficult\w*|"
    r"uncomfortable|discomfort|cramp\w*|knot|lump|pressing|grip\w*|settle|rattl\w*|clench\w*|fist)"
)
_BODY_AND_SYMPTOM = rf"{_VITAL}\b(?: \S+)*? {_SYMPTOM}\b|{_SYMPTOM}(?: \S+)*? {_VITAL}\b"
OF_THE_HEART = (
    sign(
        rf"{_CHEST}\b{_NEAR}{_CHEST_FEELS}\b|{_CHEST} {_CHEST_FEELS}\b|{_CHEST_FEELS}{_NEAR}{_CHEST}\b|"
        rf"{_CHEST_FEELS} {_CHEST}\b",
        ask_if=r"from (?:the |all the |yesterday |those )?(?:bench\w*|press\w*|push ups|dips|flies|flyes|chest day|weights|lifting)",
        nothing_if=r"(?:sore|soreness|doms)",
    ),
    sign(r"chest\b.*\bbreath(?:e|ing)\b", ask_if=r"sore"),
    sign(
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
    sign(
        r"jaw\b(?: \S+){0,4}? (?:pain\w*|aches?|aching|hurts?|numb|tight\w*|sore)\b|(?:pain\w*|ach\w+|"
        r"numb\w*)(?: \S+){0,3}? jaw\b",
        ask_if=r"(?:tooth|dentist|filling|wisdom|chew\w*|laugh\w*|clench\w*|punch\w*)",
    ),
    sign(
        r"(?:pain\w*|ache\w*|pressure|burning)(?: \S+){0,3}? between (?:my|the) shoulder ?blades?\b",
        ask_if=r"(?:rows?|pull ups?|deadlifts?|carry\w*|desk|lifting|press)",
    ),
    sign(
        r"short(?:ness)? (?:of|off) (?:my )?breath\b|breathless\w*\b|out of (?:breath|puff(?! past\w+))\b|winded\b|"
        r"puffed out\b|no breath\b",
        ask_if=HARD_WORK,
        nothing_if=rf"(?:^(?!.*(?:{REST}|{EASY})).*out of (?:breath|puff) (?:\S+ ){{0,4}}(?:as expected|by the end|as it should|but (?:happy|good|fine|great|ok|proud))\b|"
        rf"out of (?:breath|puff)(?!.*{EASY})(?!.*{REST}) (?:\S+ )*{EXERTION}|winded(?!.*{EASY})(?!.*{REST}) (?:\S+ )*{EXERTION}|winded (?:myself|"
        rf"by the ball|me)|{EXERTION}(?: \S+){{0,3}} out of breath(?!.*{EASY}))",
    ),
    sign(
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
        ask_if=HARD_WORK,
        nothing_if=r"(?:(?:breathing hard|panting|gasping|puffing) (?:like (?:a|an|my) (?:\w+ )?\w+ )?(?:after|on|during|at the end|by the end)|choking (?:on the|traffic|"
        r"fumes))",
        spread=True,
    ),
    sign(
        r"dizz(?:y|iness|yness|ied)\b|light ?head(?:ed)?(?:ness)?\b|faint(?:ed|ing|s|y|ness)?\b|woozy\b|"
        r"vertigo\b|giddy\b|keel(?:ed|ing)? over\b|woke up on the (?:floor|deck|ground|carpet|tiles|pavement)\b|(?:lost|losing|lose) (?:my )?(?:consciousness|conscience|"
        r"conscious)\b|unconscious\b|black(?:ed|ing)? ?out\b|came over all\b|funny turn\b|syncope\b|"
        r"off balance and sick\b|(?:got|had|have|having|getting) the spins\b|(?:room|world(?! (?:tour|premiere|record|cup|champion\w*))|everything|ground|walls?|gym|cabin|hall|floor|ceiling|place|"
        r"deck|stage)(?: \S+){0,2} (?:spinning|spun|spins|swaying|tilting|swimming)\b|(?:vision|sight|eyes|"
        r"eyesight) (?:\S+ )?(?:dark|black|blurry|blurred|fuzzy|double|tunnel|grey|gray|dim|narrow\w*)\b|"
        r"(?:seeing double|double vision|tunnel vision|blurred vision|blurry vision|black spots|"
        r"grey ?out)\b",
        ask_if=r"(?:with joy|laughing|dizzy (?:with|from) (?:all|these|the|joy|excitement|happiness))",
        nothing_if=r"(?:not the faint\w*|guy who faints|light ?head ?lamp)",
    ),
    sign(r"pass(?:ed|ing)? (?:right )?out\b", ask_if=rf"(?:{_ASLEEP})"),
    sign(r"collapsed?\b|collapsing\b", ask_if=rf"(?:{_ASLEEP}|heap|chair|floor laughing)"),
    sign(
        r"(?:everything|it all|all) (?:went|goes|going|turned) (?:black|dark|blurry|grey|white|fuzzy)\b|"
        r"(?:saw|see|seeing) stars\b|head (?:is |was |keeps |started |been )?(?:spinning|swimming)\b|"
        r"nearly fell over\b|legs? (?:gave|give|giving) way\b|wobbly and\b|unsteady on\b|about to drop\b",
        level=Urgency.ASK,
    ),
    sign(
        r"(?:legs? (?:gave|give) way and|(?:everything|it) (?:went|goes) (?:black|dark|"
        r"blurry)(?: \S+){0,2} (?:when i|when getting|as i|on standing|for a|then i|after))\b|(?:saw|"
        r"seeing) stars and had to\b"
    ),
    sign(
        r"palp(?:s|itat\w*)\b|arr?h?ythmia\w*\b|a ?fib\b|irregular (?:heart ?beat|pulse|heart|rhythm)\w*\b|"
        r"(?:extra|skipped|skipping|missed|missing|ectopic) (?:heart ?)?beats?\b|heart ?beats? (?:is |was |"
        r"are |feels? |felt )?(?:irregular|weird|funny|strange|off|all over|skipping)\b|angina\b"
    ),
    sign(
        rf"(?:heart|pulse|heartbeat)\b(?: \S+){{0,5}}? {_HEART_ACTS}\b|(?:racing|fluttering|pounding|"
        rf"irregular|thumping|weak) (?:heart|pulse|heartbeat)\b|flutter\w*(?: \S+){{0,3}} heart\b",
        ask_if=rf"(?:{EXERTION}|in my mouth|music|drum|love|coffee|espresso|spiking|would not come down|"
        rf"come down)(?!.*\b{REST}\b)",
    ),
    sign(
        r"heart (?:nearly |almost |just )?(?:would |was going to |is going to |going to |"
        r"was about to )?(?:nearly |almost )?(?:stop(?:ped|s|ping)?|gave (?:up|out|in)|give (?:up|out|in)|pack\w* (?:in|up)|quit\w*|conk\w* out|blow\w*|pop\w*|jump\w* out|"
        r"explode|burst)\b|heart ?burn\b|acid reflux\b|clammy\b|cold sweats?\b",
        level=Urgency.ASK,
    ),
    sign(
        r"(?:resting )?(?:pulse|heart rate|hr|heart rates?|bpm)(?: \S+){0,4} (?:1[0-9]\d|2[0-4]\d)\b",
        nothing_if=rf"^(?!.*\b{REST}\b)",
    ),
    sign(
        r"heart attack\b|heart (?:condition|disease|failure|trouble|problems?|issue|defect|murmur|valve|"
        r"surgery)\b|(?:a|have|got|with|of a) murmur\b(?! of)|cardiac (?:arrest|problem|issue|event)\b|"
        r"stent\b",
        ask_if=r"(?:nearly had|almost had|gave me|give me|near)",
    ),
    sign(
        r"(?:ankles|feet|legs|lower legs)(?: \S+){0,5}? (?:swollen|swelling|swelled|swells?|puffy|puffed|"
        r"ballooned|bloated|like (?:balloons|tree ?trunks|sausages|melons))\b|(?:swollen|swelling|puffy|bloated)(?: \S+){0,3}? (?:ankles|feet|legs)\b",
        ask_if=r"(?:rolled|twisted|sprain\w*|fell|fall|stings?|bite|bites|bitten|blisters?|flights?|long haul|plane|heat|normal for me)",
    ),
    sign(
        r"ankle(?: \S+){0,4}? (?:swollen|swelling|swelled|puffy)\b|(?:swollen|swelling|"
        r"puffy)(?: \S+){0,3}? ankle\b",
        level=Urgency.ASK,
    ),
    sign(
        r"(?:calf|calves|legs?|thighs?|buttock)\b.*\b(?:cramps?|cramping|pain\w*|aches?|aching|hurts?|"
        r"tight\w*|tired)\b.*\b(?:walk|walks|walking)\b.*\b(?:stops?|goes|go|gone|away|eases?|better|rest|"
        r"stand|sit|pause)\b|(?:legs?|calf|calves)\b.*\bwhen i walk\b.*\b(?:stops?|rest|stand|goes away|"
        r"eases?)\b|claudication\b",
        spread=True,
    ),
    sign(
        r"(?:exhausted|wiped out|wrecked|tired|shattered|weak|drained|knackered|"
        r"worn out)\b.*\b(?:one flight|a flight|up the stairs|of stairs|short walk|carry my|hardly stand|"
        r"barely stand|can not even|can not stand|getting dressed|brushing|walking to|not like me|"
        r"never (?:had|felt))\b|unusual(?:ly)? (?:tired|fatigue\w*|weak|exhausted|breathless|tiredness)\b|"
        r"abnormal\w* (?:tired|fatigue\w*)\b|so (?:weak|tired|exhausted) (?:that )?i (?:can|"
        r"could) (?:hardly|barely|not)\b|can (?:hardly|barely) (?:stand|walk|get up)\b(?! after (?:leg|"
        r"those|the))",
        ask_if=r"(?:after (?:the )?(?:show|get out|shift|leg|session|flight)|legs? day|squats)",
        spread=True,
    ),
    sign(
        r"indigestion\b.*\b(?:push|hard|run|train\w*|effort|exert\w*|climb\w*|walk\w*|stairs)\b", spread=True
    ),
    sign(
        _BODY_AND_SYMPTOM,
        nothing_if=rf"(?:^(?!.*\b(?:{REST}|{EASY})\b)(?=.*\b{EXERTION}\b).*\blungs? (?:\S+ ){{0,3}}(?:burn\w*|on fire|bursting|scream\w*|happy)|not a problem|no problem|feels? (?:fine|good|great|ok)|sore|soreness|doms|stretch\w*|press|"
        r"bench|monitor|rate|exercises?|strap|breath\w* (?:hard|heav\w*|fast|like) (?:after|on|during|"
        r"from))",
        level=Urgency.ASK,
    ),
)
