"""Signs that are told without their name: in pictures, by what went before or came after."""

from core.replies.meaning import Urgency
from core.replies.sign import sign

TOLD_SIDEWAYS = (
    sign(
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
        level=Urgency.ASK,
    ),
    sign(r"(?:feel|feels|felt) like (?:i am |i was )?dying\b", level=Urgency.ASK),
)
