"""Signs beyond the heart: stroke, head injury, a clot, dark urine, blood, allergy, heat, numbness in the saddle.

Common sense, no list of one source.
"""

from core.replies.meaning import Urgency
from core.replies.sign import sign

OF_HARM = (
    sign(
        r"(?:calf|leg|shin)(?: \S+){0,3}? (?:swollen|swelling|swelled|red|hot|warm)\b(?=.*\b(?:swollen|"
        r"swelling|painful|pain|hot|red|flight|haul|sore|warm|hurts?)\b)|(?:swollen|red|"
        r"hot)(?: \S+){0,3}? (?:calf|leg)\b|(?:dvt|blood clot|deep vein)\b",
        ask_if=r"(?:sting|bite|bitten|sunburn\w*|shower|bath|water)",
        spread=True,
    ),
    sign(
        r"(?:pee|urine|wee|piss|peeing|weeing|pissing|peed|weed|pissed|urinat\w*|water works)\b(?: \S+){0,6}? (?:dark|brown\w*|cola|stout|port wine|treacle|"
        r"coke|black|red|pink|blood\w*|tea|rust\w*|coffee)\b|(?:dark|brown|black|red|cola colou?red|bloody|"
        r"tea colou?red|pink)(?: \S+){0,2}? (?:pee|urine|wee|piss)\b|rhabdo\w*\b"
    ),
    sign(
        r"(?:cough\w*|spit\w*|spat|vomit\w*|throw\w*|threw|puk\w*|pass\w*|bring\w*|pee\w*|poo\w*|"
        r"shit\w*)(?: up| out)? (?:some |a bit of |a little |bright |red |fresh )*blood\b|blood in (?:my |"
        r"the )?(?:stools?|urine|pee|wee|poo|poop|vomit|spit|sick|phlegm|mucus|toilet)\b|bloody (?:stools?|"
        r"urine|vomit|diarrhoea)\b|black stools?\b|bleeding (?:a lot|heavily|will not stop|"
        r"that will not)\b|will not stop bleeding\b"
    ),
    sign(
        r"(?:one|left|right) side(?: \S+){0,4}? (?:droop\w*|numb\w*|weak\w*|paraly\w*|dropped|tingl\w*|"
        r"hanging)\b|face (?:\S+ ){0,3}(?:droop\w*|dropped|numb|sagg\w*|fallen)\b|slurr(?:ed|ing)\b|"
        r"speech (?:\S+ ){0,3}(?:slurred|weird|strange|funny|gone|garbled)\b|(?:can|could) not (?:speak|"
        r"talk|find (?:my|the) words|move my (?:right |left )?(?:arm|leg|face|hand|side|mouth|legs|"
        r"arms))\b|sudden(?:ly)? (?:\S+ ){0,2}(?:weakness|numb\w*|weak)\b|(?:arms?|legs?|face|"
        r"hands?) (?:suddenly )?(?:went|gone|has gone|goes) (?:all )?(?:weak|numb|dead|limp)\b|"
        r"had a (?:mini )?stroke\b|having a stroke\b|paraly[sz]ed\b",
        ask_if=r"(?:sitting|sat|slept on|cold|van|bus|dentist|funny bone|position)",
    ),
    sign(
        r"worst headache\b|thunderclap\b|sudden(?:ly)?(?: \S+){0,3} headache\b|"
        r"headache(?: \S+){0,4} (?:sudden\w*|worst|blind\w*|stiff neck|vision|vomit\w*|explo\w+)\b|"
        r"explosive headache\b"
    ),
    sign(
        r"(?:hit|banged|bumped|knocked|cracked|smacked|bashed|whacked|hurt) (?:my|the) head\b|(?:bang|blow|"
        r"knock|bump) (?:to|on) the head\b",
        level=Urgency.ASK,
    ),
    sign(
        r"(?:hit|banged|bumped|knocked|cracked|smacked|bashed|whacked) (?:my|the) head\b.*\b(?:sick|"
        r"vomit\w*|dizz\w*|double|confus\w*|blur\w*|black\w*|unconscious|head ?ache|stars|remember|"
        r"throw\w* up|nause\w*|drowsy|foggy)\b|concuss\w*\b|(?:got|was|been|am|were|i) knocked (?:out|"
        r"unconscious)\b|knocked out (?:for|by|cold)\b|seizures?\b|convuls\w*\b|epilep\w*\b|(?:had|"
        r"having) a fit\b|(?:do|did|can|could) not remember (?:falling|hitting|what happened)\b",
        spread=True,
    ),
    sign(
        r"numb\w*(?: \S+){0,2} (?:between my legs|in my groin|saddle|genital\w*|private\w*|down below)\b|"
        r"(?:lost|no|losing|lose) (?:all )?(?:control|feeling)(?: \S+){0,3} (?:bladder|bowels?)\b|"
        r"wet myself\b|can not (?:feel|control) (?:when i pee|my (?:legs|bladder|bowels?))\b|"
        r"both legs (?:\S+ ){0,2}(?:numb|weak|tingl\w*)\b|legs are numb\b",
        ask_if=r"(?:sitting|van|bus|cold|bike|saddle sore)",
    ),
    sign(
        r"throat (?:\S+ ){0,2}(?:clos\w*|swelling|swelling up|tightening|closed)\b|(?:tongue|lips?|face|"
        r"eyes)(?: \S+){0,3} (?:swelling|swelled|swollen|swell)\b|(?:swollen|swelling) (?:tongue|lips?|"
        r"face|throat)\b|anaphyla\w*\b|allergic (?:reaction|shock)\b|epi ?pen\b|hives and\b"
    ),
    sign(
        r"heat ?strokes?\b|sun ?stroke\b|heat exhaustion\b|(?:stopped|not|no longer) sweating\b|"
        r"overheated and\b|hypothermi\w*\b|electrocuted\b|electric shock\b|poisoned\b|carbon monoxide\b|"
        r"hypo(?:glycaemi\w*|glycemi\w*)\b|the bends\b|decompression\b"
    ),
    sign(
        r"(?:numb\w*|tingl\w+|pins and needles)(?: \S+){0,3}? (?:left arm|left hand|one arm|one side|"
        r"face)\b|(?:left (?:arm|hand)|one arm)(?: \S+){0,3}? (?:numb\w*|tingl\w+|pins and needles)\b",
        ask_if=r"(?:slept on|desk|keyboard|elbow)",
    ),
    sign(
        r"no (?:feeling|sensation)(?: \S+){0,2} (?:between|in my (?:groin|legs?|arms?|face|hand|foot|feet)|"
        r"down)\b|(?:can|could) not feel (?:\S+ ){1,4}?(?:legs?|arms?|face|hands?|feet|foot|mouth|cheek|side)\b|"
        r"words? (?:are |is |were |was )?(?:come|came|coming|comes) out (?:all )?(?:wrong|funny|strange|weird|mixed|jumbled|slurred)",
        ask_if=r"(?:cold|sitting|freezing|squats|lunges|leg day|press|pull ups)",
    ),
    sign(
        r"(?:my )?head (?:went|goes|felt|feels|got|is|was|gone) (?:all |a bit |so |very |really |"
        r"suddenly )?(?:light|fuzzy|funny|woozy|weird|strange|empty|swimmy|hollow)\b|(?:went down|fell|"
        r"hit the floor|dropped) in the (?:gym|shower|cabin|corridor)\b|(?:do|did|can|"
        r"could) not remember (?:it|anything|falling|how i)\b|(?:hold|grab|lean)(?: on)?(?: to| onto|"
        r" against)? the (?:wall|rail|rack|bar) (?:to|so|not|or)\b"
    ),
    sign(
        r"(?:can|could|did) (?:not|hardly|barely) (?:\w+ )?(?:feel|see|swallow|move|control|speak|talk|"
        r"stand|focus|stay awake|think straight|keep my eyes open)\b(?: (?:properly|straight|clearly|up|"
        r"anything|well|right|a thing|my (?:left |right |whole )?(?:legs?|arms?|hands?|face|feet|foot|side|"
        r"body|toes|fingers)))",
        ask_if=r"(?:cold|freezing|squats|lunges|leg day|push ups|pull ups|doms|sun|dark|fog|crowd|stage|screen)",
        level=Urgency.ALARM,
    ),
    sign(
        r"(?:face|mouth|eye|eyelid|lip|cheek)s?(?: \S+){0,3} (?:droop\w*|sagg\w*|hanging down)\b|"
        r"blood\b.*\b(?:cough\w*|spit\w*|spat|vomit\w*|threw up|pee\w*|urine|stools?|toilet|poo\w*)\b|"
        r"(?:been|am|was|keep|kept|started|still) (?:cutting|hurting|harming|burning|starving) my ?self\b|"
        r"cut my ?self (?:again|on purpose)\b"
    ),
    sign(
        r"(?:saw|see|seeing|had) (?:black |white |little |flashing )?(?:spots|dots|sparks|flashes)\b|"
        r"(?:nearly|almost) (?:went|fell) (?:down|over)\b|(?:went|gone|going) (?:pale|grey|white as)\b|"
        r"(?:cold|clammy) (?:sweat|and clammy)\b|(?:sweating|nauseous|sick) and (?:dizz\w*|pale|shak\w*|"
        r"faint\w*|my (?:arm|chest|jaw))\b|ears? (?:were |was |are )?(?:ringing|rushing) and\b|"
        r"shak\w* (?:and|all over|uncontroll\w*)\b",
        level=Urgency.ASK,
    ),
    sign(
        r"(?:fever|temperature|temp|rash)\b.*\bstiff neck\b|stiff neck\b.*\b(?:fever|temperature|rash)\b|"
        r"neck (?:is |so |very )*stiff\b.*\b(?:fever|temperature|rash|vomit\w*|light)\b|"
        r"rash (?:that )?(?:does|will|would) not (?:fade|go away|blanch)\b",
        spread=True,
    ),
)
