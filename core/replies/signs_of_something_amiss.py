"""What may be a sign and may be none: a body that does not do as it should. It is asked about, never taken for more.

The other files know the signs by name. This one is the wide net below them: a part that one lives or moves by, and that it
failed, changed colour or went its own way; words of somebody who may not be safe; and what a doctor has forbidden.
"""

from core.replies.meaning import Urgency
from core.replies.sign import EXERTION, sign

_PART = r"(?:hands?|arms?|legs?|knees?|foot|feet|fingers|mouth|face|eyes?|eyelids?|voice|speech|tongue|lips?|body)"
_COLD = r"(?:cold|freezing|frozen|minus|ice|icy|gloves|wind|swim|swam|sea|plunge|snow|winter)"
_ON_STAGE = r"(?:scene|rehears\w+|costume|in act|on stage|make ?up|choreograph\w*|puppet)"

AMISS = (
    sign(
        rf"{_PART} (?:just |both |suddenly |simply |all )*(?:folded|crumpled|went from under|packed (?:up|in)|(?:stopped|quit|refused)(?! (?:speaking|talking|complaining|hurting|aching|to (?:lift|carry|do|go|train|forgive))\b)(?: (?:working|moving|responding|to \w+))?)\b|"
        r"(?:lips?|fingers?|face|nails|toes|skin) (?:went|gone|go|turned|turning|are|were|is|was|all) (?:all |a bit |really )?(?:blue|purple|grey|gray|ashen)\b|"
        r"weak(?:ness)? (?:all )?(?:down|on|along) (?:one|my|the) (?:left |right )?side\b|(?:down|on) one side of (?:my|the) (?:face|body|mouth|head)\b|"
        r"(?:mouth|face|smile|eye|lip) (?:is |was |were |just )?(?:hanging|sagging|dropping|slipp\w+|lopsided)\b|face down (?:on|in) the\b|blanked out\b",
        nothing_if=rf"(?:{_COLD}|{_ON_STAGE}|after (?:the )?(?:squats|lunges|leg day|deadlifts))",
        level=Urgency.ASK,
    ),
    sign(
        r"(?:can|could) not (?:even )?(?:climb|manage|get up|do) (?:a |one |the |even )*(?:single )?(?:flight|stairs?|step)\b",
        nothing_if=r"(?:legs?|doms|squats|lunges|knees?|crutch\w*|boot|quads|sprain\w*|broke\w*|train\w*)",
        level=Urgency.ASK,
    ),
    sign(
        rf"{_PART} (?:just |both |suddenly |simply |all )*(?:buckled|gave out|gave up|gave way)\b",
        nothing_if=rf"(?:{_COLD}|{_ON_STAGE}|{EXERTION}|reps?|rep \d+|pistol\w*)",
        level=Urgency.ASK,
    ),
    sign(
        r"heart\b(?: \S+){0,2} (?:doing|going|went) (?:the|a|like|ten|at) \w+|heart (?:was |is )?(?:all over|dancing|doing)\b|wheez(?:e|es|ed)\b|(?:got|had|having|woke with|broke out in) (?:the |a )?(?:cold )?sweats\b|"
        r"ankles?(?: \S+){0,2} (?:vanish\w*|disappear\w*|gone|swallowed)\b|(?:stress|exercise tolerance) test\b|beta ?blockers?\b|"
        r"(?:no|not any|avoid|stop|without) (?:exertion|exercise|exercising|training|lifting) (?:until|till|before) (?:the|my|a|they|i) (?:\S+ ){0,3}(?:scan|tests?|echo|ecg|results|mri|cardiologist|heart)\b|"
        r"(?:sugar|glucose)(?: \S+){0,3} [1-3]\.\d\b|indigestion\b(?: \S+){0,6} (?:hills?|uphill|slopes?|sprints?|stairs)\b",
        nothing_if=rf"(?:{_ON_STAGE}|heart (?:going out|went out) to|bag ?pipes)",
        level=Urgency.ASK,
    ),
    sign(
        r"(?:can|could) not (?:think of|find|get|say|form) (?:the |a |my |any |simple )?(?:right )?(?:words?|sentences?)\b|(?:do|did|can|could) not remember (?:the |any of |most of |half |much of )(?:\w+ ){0,5}(?:session|min|set|sets|workout|drive|walk|hour|fall)\b|"
        r"(?:smacked|hit|banged|cracked|whacked|bashed|knocked|bumped|thumped|clipped|split) (?:my|the) (?:forehead|skull|temple|crown|brow|noggin|bonce|chin|face)\b|"
        r"(?:fingers|toes)(?: \S+){0,2} (?:tingl\w*|numb|fizz\w*|asleep)\b|(?:can|could) not hold (?:it|my (?:water|pee|wee|bladder))\b|(?:welts|hives)\b(?! of)|eyes? (?:swollen|puffed|swelled) (?:shut|up|closed)\b|"
        r"throat (?:got|went|goes|felt|feels|is|was) (?:\w+ )?(?:tight|closed|thick|swollen)\b",
        nothing_if=rf"(?:{_COLD}|{_ON_STAGE}|sing\w*|song|sore throat|shout\w*|lines|speech to write|caption|cross ?word|joke|laugh\w*)",
        level=Urgency.ASK,
    ),
    sign(
        r"(?:what if|if|wish|wishing) i (?:just )?(?:did|do|could) not exist\b|(?:stop|stopped|cease) existing\b|(?:no|see no|(?:can|could|do) not see (?:a|any)) way out\b(?! of (?:the|town|here))|(?:wrote|written|writing) (?:my |a |the |some )?(?:goodbye|farewell) (?:letters?|notes?)\b|"
        r"(?:scared|afraid|frightened|terrified) of (?:what i (?:might|may|could|would|will)|my ?self)\b|not (?:feel )?safe (?:on my own|alone|with my ?self|tonight|from my ?self|by my ?self)\b|voices (?:are|were|keep|came|in my head|telling|say)\b|"
        r"cutting (?:helps|again)\b|want to disappear\b(?! (?:into|for|to|on|under))|better off (?:if|when) i am (?:gone|dead|not)\b|(?:can|could) not (?:keep|stay) (?:my ?self )?(?:safe|alive)\b",
        nothing_if=rf"(?:{_ON_STAGE}|choir|chorus|singers|recording|tired voices|weight|calories|carbs|contract|car park|maze|lecture)",
        level=Urgency.ASK,
    ),
    sign(
        r"(?:can|could) not stop (?:shaking|shivering|trembling)\b(?! with (?:laughter|joy|excitement|nerves))|air hunger\b|greying out\b|saw (?:two|2) of (?:everything|them|it)\b|came to (?:with|under|lying|slumped)\b|out like a light (?:mid|during|in the middle|on the)\b|words? (?:are |were |keep |kept )?com\w+ out (?!right|fine|well|great)\w+\b|"
        r"(?:wee|pee|urine) (?:is |was |has )?(?:the |gone the )?colour of (?!water|straw|lemonade)\b|red in the (?:bowl|toilet|loo)\b|lips? (?:like|as big as) (?:\w+ )?(?:sausages|balloons|tyres|rubber)\b|"
        r"cut my (?:arms?|wrists?|thighs?)\b|(?:giv\w+|gave) (?:all )?(?:of )?my (?:things|stuff|belongings|possessions) away\b|(?:pills|sleepers|tablets|meds)(?: \S+){0,3} on purpose\b|cardio (?:clinic|ward|unit|team|appointment)\b|"
        r"look(?:ing)? at the (?:water|sea|edge|railing|drop) and (?:think|wonder)\b|(?:wind|breath) back (?:after|from) (?:one|a|carrying|climbing|walking)\b|something (?:is )?pressing on my\b|(?:a|this|the) grip (?:round|around|on) (?:my|the) (?:heart|chest|ribs)\b",
        nothing_if=rf"(?:{_ON_STAGE}|shav\w*|glass|barbed|hedge|fence|rope burn|charity)",
        level=Urgency.ASK,
    ),
)
