"""Signs that are told without their name: in pictures, by what went before or came after."""

from core.replies.meaning import Urgency
from core.replies.sign import EASY, EXERTION, sign

TOLD_SIDEWAYS = (
    sign(
        r"(?:ribs?|chest|breast ?bone|sternum)(?: \S+){0,4} (?:in|like|by) (?:in )?a (?:vice|vise|clamp|press|fist|belt|strap)\b|"
        r"next thing i (?:knew|remember)\b.*\b(?:floor|ground|deck|people|lying|faces)|came (?:round|to|around) (?:on|in) the\b|"
        r"lost (?:a few|some|several|a couple of|\d+) (?:seconds|moments)\b|(?:had|a|little|short|brief|another) black ?out (?:at|on|after|"
        r"during|when|in) (?:the )?(?:end|last|set|warm|session|shower|squats?|deadlifts?|lift|training)\b|"
        r"cough\w* up (?:something|stuff|some)\b|coffee grounds\b|(?:corner|side|half|part) of (?:my|the) (?:mouth|face|body|tongue)\b|"
        r"head ?ache\b.*\b(?:out of nowhere|like a (?:hammer|bang|bomb|thunder\w*)|(?:neck|stiff) (?:is )?(?:stiff|neck))\b|"
        r"no feeling (?:\S+ ){0,3}wipe\b|(?:when|if) i wipe\b|(?:(?:can|could) not )?(?:hold|holding) my (?:water|pee|urine|bladder|wee)\b|hives\b.*\b(?:throat|breath\w*|lips?|tongue|face)\b|"
        r"(?:easier|better|happier) (?:for (?:everyone|them|everybody|all|people)|off)(?: \S+){0,3} (?:if i (?:was|were|am|did) not|without me|"
        r"if i (?:was|were) (?:gone|dead))\b|(?:nobody|no one|no body|none) would (?:miss|notice|care)\b|"
        r"(?:cut|cutting|burn|burning|scratch\w*|hit|hitting) my (?:arms?|wrists?|legs?|thighs?|skin)\b(?=.*\b(?:cope|again|feel|numb|stop|"
        r"release|relief|punish)\b)|(?:think\w*|thought\w*) (?:about|of) (?:jumping|ending|ways to end|not being here|disappearing|dying|"
        r"killing|walking into|going overboard)\b"
    ),
    sign(
        r"(?:tightness|pressure|ache|aching|pain|burning|heaviness|squeezing|it)(?: \S+){0,7} (?:spread|spreads|spreading|radiat\w*|travell?\w*|"
        r"shot|shoots|went|moved) (?:to|into|up|down|across) (?:my |the )?(?:left |both )?(?:shoulders?|arms?|jaw|neck)\b|"
        r"(?:can|could) not (?:\w+ )?finish (?:a |my )?sentences?\b|without (?:gasping|wheezing|stopping for (?:air|breath)|losing my breath)\b|(?:not|never) know how (?:i|it) "
        r"(?:got|ended|came|happened)\b|(?:left|right|one) (?:hand|arm|leg|foot|side)(?: \S+){0,3} (?:clumsy|useless|dragg\w*|not obey\w*|not work\w*|"
        r"will not work|will not move)\b|(?:smile|mouth|face|lips?|eyelid)(?: \S+){0,3} (?:crooked|lopsided|uneven|wonky)\b|(?:calf|lower leg)"
        r"(?: \S+){0,6} (?:bigger|thicker|fatter|larger|wider) than\b|how many (?:pills|tablets|paracetamol|sleeping)\b|(?:blind|blindness|no sight|"
        r"could not see|can not see)(?: \S+){0,3} (?:in )?(?:one|my left|my right) eye\b|will not be (?:around|here|alive)(?: \S+){0,3} (?:much longer|next|"
        r"any ?more|for the)\b|not think i will be (?:around|here|alive)\b"
    ),
    sign(
        r"head ?rush\b|a coronary\b|heart (?:was |is )?(?:ready|about) to (?:quit|stop|burst|give|go|explode|pack)\b|lights? (?:went|go|goes) (?:out|off) (?:for a|when i|as i|in my)\b|want (?:it|this|everything|all this) (?:all )?to (?:stop|end|be over)\b|"
        r"no point (?:to|in) (?:anything|it all|any of it|life|me)\b",
        level=Urgency.ASK,
    ),
    sign(
        r"(?:the|that|this|my) (?:chest|heart) (?:thing|stuff|business|issue) (?:again|is back|came)\b|chest thing\b|heart thing\b|"
        r"(?:felt|feel|feeling|bit|came over|went|gone) (?:a bit |all |very |so )?(?:swimmy|swimming|hazy|spacey|clammy|floaty|drunk without)\b|"
        r"never (?:been|felt) (?:this|so) (?:weak|tired|breathless|drained|exhausted)\b|(?:my )?head (?:hit|struck|met) (?:a |the |against )|"
        r"lump on (?:my|the) head\b|half (?:of )?my (?:body|face|head|arm|leg)\b|could it be my heart\b|my heart or\b|"
        r"(?:end|ending) things\b|(?:do|did|can) not (?:want|see a reason) to (?:get up|be) (?:any ?more|at all)\b|(?:cardiologist|cardiology|ecg|ekg|heart (?:scan|doctor|specialist|echo))\b",
        nothing_if=r"(?:all clear|cleared (?:me|by)|signed me (?:off|fit)|clean|came back (?:fine|normal|ok|clear)|sinus rhythm|says (?:normal|ok|fine)|nothing wrong|no complaints)",
        level=Urgency.ASK,
    ),
    sign(r"(?:feel|feels|felt) like (?:i am |i was )?dying\b", level=Urgency.ASK),
    sign(
        r"(?:went|fell|dropped|gone) (?:down |over )?like a (?:sack|stone|tree|log|ton|lump|brick)|ended up on the (?:\w+ )?(?:floor|deck|ground)\b|woke(?: up)? (?:lying )?on the (?:\w+ )?(?:floor|deck|ground|tiles)\b|"
        r"(?:woke|came) (?:up|to|round|around) (?:with|and|to) (?:\w+ )?(?:people|faces|everyone|everybody|crew|someone|somebody|them|medics?)(?: \S+){0,2} (?:round|around|over|above|staring|looking|shouting)\b|"
        r"pass(?:ed|ing)? (?:clean|stone|straight|stone cold|completely|totally) out\b|(?:greyed|grayed|whited) out\b|saw black\b|"
        r"(?:sight|vision|eyesight) (?:just |suddenly |all )?(?:went|gone|left|disappeared|dropped|faded|closed in)\b|eye (?:just |suddenly )?(?:went|gone|goes) (?:blind|dark|black|blank)\b|"
        r"(?:can|could) not (?:see|hear) (?:or|and|nor) (?:see|hear)\b|"
        r"(?:can|could) not (?:quite )?get (?:my |the |any )?words? (?:out|right|in order)\b|(?:talk\w*|spoke|speak\w*|speech (?:was|is)) (?:complete |total |pure )?(?:gibberish|jumbled|mush|garbled)\b|"
        r"(?:left|right) (?:foot|leg|arm|hand) (?:keeps? )?(?:drags?|dragging|droops|dropp\w+ things)\b",
        ask_if=rf"(?:{EXERTION}.*grip|laughing|giggl\w*|joking|beer|wine|pints?|drunk)",
    ),
    sign(
        r"(?:hand|arm|leg|foot|fingers?)(?: \S+){0,2} (?:will|would|does|did) not (?:\w+ )?(?:grip|work|lift|obey|close|listen|do what|hold)\b|head (?:exploded|burst|split open)\b|"
        r"(?:a|have a|got a|the) plan to end (?:it|things|everything|my|this)\b|said (?:my )?goodbyes? to (?:everyone|everybody|all of them)\b|been cutting(?: again)?$|point (?:of|in) (?:living|being alive|being here)\b|"
        r"(?:came|come|went|gone) over (?:all |a bit |very )?(?:funny|queer|strange|odd|weird)\b|fitted in my (?:bunk|sleep|bed)\b|socks? (?:leave|left|leaving|make|made|dig)(?: \S+){0,2} (?:dents?|marks|grooves|rings)\b|"
        rf"ticker\b|(?<!huffing and )puff(?:ing|ed)\b(?: \S+){{0,6}} (?:{EASY}|laces)|"
        r"(?:blood pressure|bp)\b.*\b(?:1[89]\d|2\d\d)\b|(?:something|summat|thing)(?: is| was|s)? (?:wrong|not right|off|up) with my (?:heart|chest|head|breathing|body)\b|"
        r"(?:thought|felt|feels?|feeling|sure|swear|going|about)(?: (?:like|i|was|would|am|to|might|going|were|it))* (?:drop dead|drop down dead|cark it|croak|collapse|pass out|keel over|black out|throw my heart up)\b"
        rf"(?: \S+){{0,5}} {EXERTION}",
        level=Urgency.ASK,
    ),
    sign(
        r"(?:one|left|right|other) (?:leg|calf|ankle)(?: \S+){0,3} (?:twice|double|bigger|fatter|thicker|larger)(?: \S+){0,3} (?:size|other|one|usual)\b|(?:calf|lower leg)\b.*\b(?:bigger|thicker|fatter|larger|harder|twice the size)\b(?: \S+){0,2} (?:than|of)\b|"
        r"(?:tightness|pressure|ache|pain|it)\b.*\b(?:comes?|came|starts?|builds?) (?:on |up )?(?:with|on|when)(?: \S+){0,3} (?:stairs?|walk\w*|hills?|effort|exert\w*|climb\w*|carry\w*)\b.*\b(?:goes|gone|eases?|stops?|fades?|better)\b.*\b(?:rest|stop|sit|stand)\w*\b|"
        r"(?:stung|bitten|sting|wasp|bee|hornet|prawns?|shrimps?|nuts?|peanuts?|cashews?|shellfish|mussels?|oysters?|crab|lobster|antibiotics?)\b.*\b(?:face|lips?|tongue|throat|eyes?)(?: \S+){0,3} (?:balloon\w*|swell\w*|swollen|puff\w*|tight\w*|tingl\w*|clos\w*|like a balloon)\b",
        nothing_if=r"(?:tight throat from|not? swollen)",
        spread=True,
    ),
    sign(
        r"cough\w*(?: up)? (?:\w+ ){0,2}(?:foam|froth)\b|black (?:tar|tarry|and tarry|sticky)\b|(?:threw|throw\w*|vomit\w*|brought|bring\w*)(?: up)? (?:\w+ ){0,3}(?:like|coloured|colour of) coffee\b|"
        r"tongue (?:\S+ ){0,3}(?:fat|thick|huge|big|swollen)\b|(?:think\w*|thought) (?:of|about) (?:stepping|going|jumping|walking|rolling|falling|slipping) (?:off|over ?board|over the|in front|into the)\b|"
        r"(?:found|hears?|heard|picked up|has|have|new|detected|there is)(?: \S+){0,2} (?:heart )?murmur\b(?! of)|(?:ecg|ekg)\b(?: \S+){0,4} (?:abnormal|irregular|funny|weird|not normal|odd|strange|bad)\b|"
        r"ankles? (?:\S+ )?(?:like (?:\w+ ){0,2}(?:puddings?|balloons?|footballs?|elephants?|tree|trunks?|sausages?|melons?|dough|bread|loaves|marshmallows?)|(?:are |is |look )?(?:huge|massive|enormous|disappeared))\b|"
        r"tying my (?:laces|shoes)(?: \S+){0,4} (?:breath|puff\w*)\b|ribs? (?:being )?squeez\w*|squeez\w*(?: \S+){{0,3}} ribs?\b",
        nothing_if=r"(?:like a corset scene|in costume)",
    ),
    sign(
        r"band (?:round|around|across) my (?:ribs|chest)\b|(?:found|picked|scraped|pick|carried|caught|helped) me(?: up)? (?:on|off|from) the (?:\w+ )?(?:floor|deck|ground|stairs)\b|room (?:just )?(?:went|goes|going|was going) (?:round|around)\b|"
        r"(?:can|could) not remember my (?:own )?name\b|(?:leaky|leaking) (?:heart )?valve\b|enlarged heart\b|hole in (?:my|the) heart\b|cardiomyopath\w*\b|had (?:a )?(?:heart )?bypass\b|"
        r"\bhypo\b(?! ?(?:thyroid|allergenic|dermic))|(?:sugar|glucose)(?: \S+){0,3} (?:dropped|crashed|plummeted|fell) (?:to|below|under)\b|wheezing (?:since|after|badly|so|like)\b",
        nothing_if=r"(?:scene|rehearsal|in costume)",
    ),
    sign(
        r"(?:cramps?|cramping|pain|ache|tight\w*)(?: \S+){0,3} (?:calf|calves|legs?)\b.*\bwalk\w*\b.*\b(?:stops?|rest|stand|goes|eases?)\b|pregnan\w*\b.*\b(?:bleed\w*|spotting|cramps?|cramping|dizz\w*|pains?)\b|"
        r"\b(?:bleed\w*|spotting)\b.*\bpregnan\w*\b",
        spread=True,
    ),
    sign(
        r"vice(?: like)? (?:feeling|grip|thing)\b|chest (?:(?:is|feels|felt|was|a|bit|little|still|been|feeling) )*(?:iffy|dodgy|off|rough|sketchy|wrong|unhappy|grumbl\w*|playing up|not great|not happy|niggl\w*)\b|swoon\w*\b(?! (?:over|at))|"
        r"lost (?:a|half a|a few|some|several|a couple of|\d+) (?:minutes?|min)\b(?!.*\b(?:traffic|queue|queu\w*|looking|searching|parking|waiting|airport|gate|bus|train|faff\w*|set ?up|customs|security|because|taxi|lift|finding|walking|each|every)\b)|"
        r"(?:can|could) not remember my (?:\w+ )?(?:cues?|lines?)\b.*\b(?:after|head|hit|name)\b|confused and\b|zig ?zag\w*\b|asthma attack\b|my asthma\b|inhaler\b|ambulance\b(?=.*\b(?:me|my|i)\b)|paramedics?\b(?=.*\b(?:me|my|i)\b)|"
        r"(?:ended up|was|were|been|am|took me|sent me|went|off|going|spent|back) (?:\w+ )?(?:in|to|at|from) (?:the )?(?:hospital|a and e|casualty|emergency(?: room)?|er)\b|^in (?:the )?hospital\b|"
        r"(?:clonked|hit|struck|whacked|clobbered|caught|bonked|brained|walloped|smacked|cracked)(?: \S+){0,3} (?:by|with) (?:a|the) (?:\w+ )?(?:batten|truss|boom|block|case|bar|barbell|plate|pole|door|hatch|beam|spanner|shackle|winch|lamp|lantern|weight|flat|car|bike|ball)\b|"
        r"(?:took|hit|blow|got|caught|whack|knock|bang|thump|smack|dumbbell|plate|kick)(?: \S+){0,5} (?:to|on|in|into|across) (?:the|my) (?:skull|head|temple|noggin|bonce)\b|(?:knocked|clashed|bumped|banged) heads\b|clash of heads\b|"
        r"head(?: ?ache)? (?:is |was |been |has been )?(?:banging|pounding|throbbing|foggy|killing me) (?:ever )?since (?:\S+ ){0,6}(?:hit|fell|fall|knock\w*|bang\w*|crash\w*|bump\w*)\b|"
        r"(?:lost|losing|no) (?:all )?(?:feeling|sensation) (?:in|around|of|on) my (?:bum|backside|arse|bottom|crotch|groin|privates|leg|legs|foot|feet|arm|arms|hand|hands|face)\b|face (?:is |feels |all |went |gone |a bit )*(?:tingl\w*|numb)\b|"
        r"(?:can|could|have|did|has) not (?:pee|peed|urinate\w*|wee|weed|pass (?:water|urine))\b|(?:sick|tired|knackered|shattered|exhausted|weak) like never (?:before)?\b|"
        r"(?:stomach|belly|abdomen|gut)(?: \S+){0,3} (?:rock hard|rigid|like a board|in agony|agony)\b|pacemaker\b|defib\w*\b|blood thinners?\b",
        nothing_if=r"(?:gig|show|play|visit\w*|scene|drama|performance|radio|opposite|near|series|film|training|course|check|friend|new inhaler|with (?:her|him|them|my|our|the|a)|from the (?:cold|wind)|cold wind|in the wind|dentist|anaesthetic|on the list|chance to|time to|privacy)",
        level=Urgency.ASK,
    ),
    sign(
        r"(?:fell|fallen|tumbled|came) (?:from|off|down) (?:the|a|my) (?:\w+ )?(?:ladder|tallescope|stage|rig|scaffold\w*|balcony|horse|gantry|roof|truck|stairs|steps|rostrum)\b.*\b(?:back|neck|legs?|head|numb|tingl\w*|sick|dizz\w*)\b",
        nothing_if=r"(?:scene|in the play|in act)",
        level=Urgency.ASK,
        spread=True,
    ),
    sign(
        r"(?:toilet|loo|bowl|pee|wee|it)(?: \S+){0,3} (?:looked |looks |like |was )+(?:\w+ )?(?:cola|coke|rust|stout|blood)\b|blood (?:on|in|all over) (?:the |my )?(?:paper|bowl|toilet|loo|pants|underwear|sheets|pan|sink|tissues?|hanky|handkerchief|pillow)\b",
        nothing_if=r"(?:scene|rehears\w+|costume|in act|on stage|make ?up|choreograph\w*|puppet|fake|prop)",
    ),
)
