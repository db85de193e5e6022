"""The words that tell what became of a session: one pattern a sign, the reasons beside those that need one."""

import re

from core.replies.days import ANY_DAY, DAY

_IT = (
    r"(?:it|this|that|the|mine|my|one|them|today|yesterday|session|training|everything|both|all|two|"
    r"an?|some|do|train|2|3)"
)
_NOT = r"(?:not|never)"
_SOON = r"(?:actually |even |really |quite |get to |manage to |be able to |able to |going to |gonna )*"
NOT_SKIPPED = re.compile(
    rf"\b(?:could|did|would|can) not not\b|\b(?:did|have|had) {_NOT} {_SOON}(?:skip|miss|bail|skipped|missed|give up|quit(?!e\b))\w*\b(?! (?:one|"
    rf"any|a (?:session|day|single)) (?:yet|so far))"
    r"|\bnot? (?:skipping|missing|skipped|missed|bailed)\b|\b(?:skipped|missed) (?:nothing|none|0)\b"
)
PART_OF_IT = re.compile(
    r"\b(?:all|everything|lot|whole thing|all of it|every exercise) (?:of it )?(?:bar|except|besides|but|apart from|minus|save|other than|without)(?: for)? (?:the |my |that |those )?(?:(?:last|final|first|second|1|2|3) )*(?:\d |half )?(?:sets?|exercises?|rounds?|blocks?|finisher|planks?|carries|cool ?down|warm ?up|lunges?|squats?|press\w*|rows?|core|burpees|abs|stretch\w*|bit|one|ones|part|push ups|pull ups|deadlifts?|circuit)\b|"
    r"\b([1-9]) (?:(?:sets|rounds|exercises|blocks|moves|lifts) out |out )?(?:of|from) (?:the |my )?(?!\1\b)[2-9]\b(?!\d)|\b([1-9])/(?!\2)[2-9] (?:rounds?|sets?|exercises|blocks?)\b|\b[1-9]\d ?(?:%|percent|per cent) of (?:it|the|my|that)\b|\bbefore i (?:had |would |could |was )?(?:finish\w*|done|complet\w*)\b|\b[1-9]\d (?:min )?(?:instead of|out of|of) (?:the )?(?:planned )?(?!10\b)[1-9]\d\b"
)
PART_LEFT_OUT = re.compile(
    r"\b(?:skipped|missed|left out|dropped|bailed on|sacked off|ditched|binned|without|minus|except|besides|bar|save|apart from|did not do|"
    r"forgot) (?:for )?(?:the |my |a |some )?(?:(?:last|final|first|1|2|3|pull|push|sit) )*(?:set|"
    r"exercises?|exercise|round|rounds|finisher|warm ?up|cool ?down|planks?|lunges?|squats?|pull ups?|"
    r"push ups?|press|deadlifts?|rows?|carries|stretch\w*|reps?|core|burpees|abs|ups)\b"
)
SHORT = re.compile(
    r"\b(?:could|did) not (?:go|get|come) back(?: to it| up| in)?$|^(?:only|just) the (?:squats?|deadlifts?|press\w*|rows?|pull ?ups?|push ?ups?|lunges|planks?|bench|swings|carries|hinges?|mobility|stretch\w*|first \w+)$|"
    r"\bnever (?:got|came|went|made it) back(?: to it)?\b|\b(?:upper|lower|swings|presses|pulls) only$|\bonly did the (?!whole|full|lot|entire)\w+(?: \w+)?$|^(?:about |around |maybe |roughly )?[1-9]\d ?(?:%|percent|per cent)(?: of it| done)?$|\bmost sets\b|\btapped out\b|"
    r"^(?:and |but )?(?:i )?(?:gave up|packed it in|threw in the towel|called it quits|had to stop|bailed)$|\band (?:then )?(?:i )?stopped(?: there| here)?$|^(?:so |and |then |i )*stopped (?:there|then|here)\b|"
    r"^(?:just |only |managed |did )*(?:a bit|bits|bits and pieces|not much|hardly anything|a (?:few|couple of) (?:sets|rounds|exercises)|couple of (?:sets|rounds|exercises)|[12] (?:sets?|rounds?|exercises?)|one (?:set|round|exercise))$|"
    r"\b\d\d (?:min )?(?:instead of|out of|of) (?:the )?(?:planned )?(?!10\b)\d\d\b|\bcalled it(?: a day|"
    r" quits)?$|\bcalled it (?:there|then)\b|\bcalled it (?:a day|quits) (?:after|at|early|when|because)\b|^a little(?: bit)?$|\b(?:two|2|a|one) thirds?(?: (?:maybe|only|or so|of it))?$|\bhalf ?way\b|(?<!and a )(?<!with )\b(?<!for )half(?! the (?:interval|night|time|day|show|cast|crew|world|audience|company|battle|reason|week|morning|afternoon|evening|flight|way|journey|weights?))(?= (?:of (?:it|"
    r"the(?! weights?\b)|that|this|them|my (?:session|sets|training))|the|a session|a training|session|"
    r"done|before|then|and|only|because|way|sorry|today)\b| ?$)|(?<!for )(?<!for the )\b(?:a )?(?:bit|part|some|most|"
    r"fraction|chunk|third|quarter|little|couple of rounds) of (?:it|the|that|my|today)\b|\b(?:partly|"
    r"partially|unfinished|incomplete|abandoned|abbreviated|shortened)\b|\b(?:2|two|3|three|1|one|"
    r"a) (?:thirds?|quarters?) of (?:it|the|that|my)\b|\bdid not (?:manage|do|get|get through|"
    r"make) (?:the (?:full|whole|entire|complete)|all|everything)\b|\b(?:nearly|almost|not|"
    r"not quite) (?:all|everything)\b|\bas far as the\b|\bcut short\b|\bi packed (?:it )?up(?= (?:and|early|there)|$)|\b(?:through|did|managed|about|got) (?:about |maybe |roughly |only )*(?:a|1|2) (?:thirds?|quarters?)(?! (?:of an )?hour| past| to)\b|\bnever (?:quite |really )?(?:finished|completed)(?: it)?$|\bbailed (?:in|on) (?:set|round|rep|exercise)\b|\b(?:left|stopped|quit|ended|cut) it (?:there|after|at|half)\b|\brest (?:of it )?(?:went|is|got|was) (?:in the bin|binned|lost|dropped|abandoned)\b|\b(?:the )?rest (?:of it )?(?:i |we |it |was |is )?(?:(?:did|could|have|had|was|am) )?not\b|\bdid not (?:do|get to|manage|finish|make|reach) the (?:rest|last|final|second half|end)\b|\bnever (?:got to|made|reached|finished) the (?:last|rest|final|second|end)\b|\b(?:called|pulled|"
    r"dragged) away\b|\bhad to (?:go|run|rush|dash)\b|\bbroke(?: it)? off\b|\bbreak(?: it)? off\b|"
    r"\b(?:not(?: quite)?|nearly|almost|most of) the (?:full|whole|entire|complete)\b|\b(?:warm ?up|legs|arms|upper body|lower body|core|squats|half) only\b|\bonly (?:the )?(?:warm ?up|legs|arms|upper body|lower body|core)\b|"
    r"\bthen (?:i |we )?(?:got |was |were |had been )(?:called|pulled|dragged|paged|summoned|kicked|thrown|interrupted|needed|chucked)\b|\bbefore (?:(?:the|my|our|a|an|some) )?(?:\w+ ){1,3}(?:kicked|chucked|threw) (?:me|us|everyone) out\b|"
    r"\bbefore (?:i|we) (?:was|were|got) (?:called|pulled|dragged|paged|summoned|kicked|thrown|interrupted|needed|chucked)\b|\bcut (?:it |that |mine |the \w+ |today |"
    r"my \w+ )?short\b|\b(?:short|shorter|shortened|quick|mini|tiny|express|condensed) (?:one|version|"
    r"session|training)\b"
    rf"|\b(?:did|could|have|was|were|do) {_NOT} {_SOON}(?:finish|complete|get through|"
    rf"make it to the end|get all)\w*"
    r"|\b(?:gave up|bailed(?: out)?|quit|stopped|packed it in|pulled out|(?:^|(?<=\bi )|(?<=\band )|(?<=\bthen ))left|interrupted|"
    r"called it) (?:half\w*|after|at|early|because|when|as|mid\w*|part|short|in the middle)\b|\bhad to (?:stop|quit|"
    r"bail|cut|break off|leave|abort|end)\b(?: (?:at|after|early|half\w*|when|because|it))?|"
    r"\bcut (?:it|that|mine) (?:down |off |short )?(?:to|at|after)\b|\b(?:only|just) (?:\w+ ){0,3}?(?:\d+|the one|a few|a couple of|half)(?: of(?: the)?)? (?:rounds?|sets?|exercises?|reps)\b|\b(?:began|started)\b.*\b(?:could|did) not (?:go|come|get) back\b|"
    r"\b(?:only (?:did|got|managed|had|done|made|the|a)|just (?:managed|the|a)) (?:the |a |about |"
    r"around |like )?(?:warm ?up|first|few|half|1|2|3|4|one|bit|some|part|\d+ (?:min|exercises|sets|"
    r"rounds))\b|\b(?:only|just) (?:\d+|a few|a couple of|the|one|some) (?:of the )?(?:warm|rounds?|"
    r"sets?|exercises?|first|last|min\b|half|squats|half)|\b(?:first|1st) (?:half|few|\d|one(?! (?:in|after|since|for|back|of|this)\b)|two|"
    r"couple)(?: (?:exercises?|sets|rounds|moves))?\b(?! thing)|\b(?:10|\d+) min (?:version|one|option|"
    r"job)\b|\b\d+ (?:rounds|sets|exercises)(?: \w+)? (?:only|instead of)\b|"
    r"\b\d+ (?:out )?of (?:the )?\d (?:exercises|sets|rounds)\b"
)
STARTED = re.compile(
    r"(?<!once i )\b(?:started|began|begun|made a start)\b(?! (?:now|just|feeling|to feel|at [tc]?\d|(?:about |like )?(?:\d+ min|an hour|half an hour) ago))(?: it| the \w+| well)?"
)
RAN_OUT = re.compile(r"\bran out of (?:time|steam|energy|puff)\b")
LIMITED = re.compile(
    r"\b(?:only|just|managed|barely|hardly|merely|scarcely|squeezed in|at most|no more than|not more than|"
    r"no longer than|nothing more than|a (?:mere|measly|paltry|lousy|token|meagre|pathetic|miserable)|a grand total of)\b[^,.?]{0,30}?(?=\b(?:an? |half |\d|3 quarters))|\b(?:half|a third|a quarter|a fraction|less) (?:of what|than (?:planned|i planned|usual|i should|i wanted|half|the plan))\b|\bmin (?:only|tops|max|maximum|at best|at most|was all|"
    r"is all|was it|and no more)\b|^(?:and |but |so )?that (?:is|was) all$|^no more$|\b(?:all|best) i (?:could|had|managed|got)\b"
)
LATER = re.compile(
    rf"\b(?:can|could|may|shall|would) (?:i|we|you) .*\b(?:{ANY_DAY}|later|another (?:day|time))\b|"
    rf"\b{_NOT} (?:quite |just |so far|as |done |finished |started |trained |been |gone |"
    rf"begun )?(?:it |one |that )?yet\b(?: (?:done|finished|started|begun|trained|completed))?|"
    rf"\byet to\b|\b(?:have|has|had|did|am|is) {_NOT} (?:\w+ ){{0,3}}yet\b|\b{_NOT} (?:started|"
    rf"begun)(?: it)?\b|\bhave not (?:started|begun|had (?:a |the )?(?:chance|time))\b|"
    rf"\b(?:still to do|still to come|pending|outstanding|on my list|on the list|in the diary)\b|"
    rf"\btrying to\b|\b(?:i |we )?(?:will|shall) (?:still |definitely |probably |hopefully |try |"
    rf"try to |have to |be |get to )*(?:do|doing|try|go|going|train|training|get|fit|make (?:it|up|"
    rf"time)|squeeze|hit|start|starting|catch|give it|attempt|have a go|knock)\b|"
    rf"(?<!was )(?<!were )(?<!not )\bgoing to (?:\w+ )?(?:do|train|try|get|hit|start|fit|squeeze|make|"
    rf"give|go|knock|have)\b|(?<!was )(?<!were )\bgoing (?:now|later|in|soon|after|tonight|tomorrow|(?:at )?[tc]?\d\d?:\d\d|"
    rf"this|to the gym|down)\b|(?<!was )(?<!were )\b(?:just )?about to(?: \w+)?\b|(?<!was )\babout to$|"
    rf"\b(?:on (?:my|the) way|heading|headed|off) (?:to the gym|to gym|down|there|over|in|out|now|"
    rf"to do|to it)\b|\bon (?:my|the) way\b(?! (?:home|back))|\b(?:starting|start|beginning) (?:in|now|"
    rf"at|soon|it|later|after|once|as soon)\b|\b(?:doing|do|get|getting|have|make) (?:it|this|that|"
    rf"mine|10|\d+ min|the session|my session)? ?(?:right )?(?:now|later|after|once|when|asap|soon|"
    rf"as soon as|before|in a bit|in a while)\b|\bdoing (?:it|this|mine|that)\b|\b(?:plan|planning|aim|"
    rf"aiming|intend|intending|hope|hoping|want|would like|scheduled|still plan) (?:to|on|for)\b|"
    rf"\bsoon\b|(?<!was )(?<!were )\bon it\b|\bgetting changed\b|\bwarming up\b|(?<!was )(?<!were )\bin the middle of it\b|\b(?:i )?(?:might|"
    rf"may)\b|\b(?:maybe|perhaps|possibly|hopefully|fingers crossed|with (?:any |a bit of )?luck)\b|"
    rf"\b(?:session|training|workout|mine|it) (?:moves|is moving|goes|shifts|slides|has to move) (?:to |on )?(?:{ANY_DAY})\b|"
    rf"\bi (?:do|make) (?:it|this|that|mine|them) (?:on |the |in the )?(?:next |this )?{ANY_DAY}\b|^(?:(?:i|am|still|currently|just) )*(?:in|at) the gym(?: now| right now)?$|^mid (?:session|set|training)$|(?:\d+|one|an?) (?:more )?(?:min|sets?|exercises?|rounds?) (?:left|to go)$|\b(?:mov(?:e|ing)|shift(?:ing)?|push(?:ing)?|postpon(?:e|ing)|reschedul(?:e|ing)|swap(?:ping)?) (?:the |my |todays? )?(?:session|training|workout)\b|\bmove me\b|\bput me down for (?:{ANY_DAY})|\brain ?check\b|^(?:on the (?:mat|(?:bus|train|tram) to the gym)|changing(?: shoes| into \w+)?|soonish|any (?:minute|moment)(?: now)?|at reception|waiting for (?:a|the) (?:rack|bench|lift|room|slot))$|\b(?:just )?walked in(?:to)? (?:to )?the gym\b|\btry to\b|\bgive me (?:an?|half|\d+)\b|\blater\b(?! than)|\basap\b|\bmin now\b|"
    rf"\b(?:any )?(?:an)?other (?:day|time)\b|\bmoving (?:it|this|that|to|my|the)\b|\bnext thing\b|"
    rf"\b(?:could|can|may) it (?:be|wait (?:for|until)) (?:this |next )?{ANY_DAY}\b|\b(?:re ?schedule|postpone|(?:pass|put|carry|transfer) (?:it|this|that) (?:over )?to|push (?:it|this|that|back|to)|move (?:it|this|that|my|to|the|today|"
    rf"tomorrow)|shift (?:it|this|to|my|the)|swap (?:it|this|that|to|with|for|the|my|today|tomorrow|"
    rf"days|sessions?|{DAY})|switch (?:it|this|that|to|with|for|the|my|today|tomorrow|days|sessions?|"
    rf"{DAY})|delay it|put it off|bump it|rearrange|re ?arrange|make it up)\b(?! (?:places|sides|on|"
    rf"off)\b)"
)
WILL_MISS = re.compile(
    r"\b(?:will|going to|am|have to|had to|need to|must|better|rather|prefer to|choose to|decided to|"
    r"let me|lets|want to) (?:probably |just |sadly |have to |be |need to |better )*(?:skip|skipping|"
    r"miss|missing|give (?:it|this|this one|today|that) a (?:miss|rest|pass)|sit (?:it|this one) out|"
    r"pass(?: on| today| this time| on this one|$)|let (?:it|this one) go|bail(?! (?:out )?(?:half\w*|after|at|early|mid\w*|part)))\b|\bskipping (?:it|this|today)\b|\b(?:will|am|is|are|"
    r"be) not (?:be )?(?:able|going|possible)\b(?! to (?:skip|miss|stop))|"
    r"\b(?:will|can) not (?:be|get) (?:it )?(?:done|finished)\b"
)
UNDONE = re.compile(
    r"\b\d+ (?:min |sets? |rounds? |more )?(?:to go|remaining)$|"
    r"^(?:(?:be|all|will|i|should|am) )*(?:done|finished) in (?:an? (?:bit|sec|second|tick|mo|moment|minute|few|couple)|[1-9](?! min)|5 min)(?: \w+)?$|"
    r"^(?:the )?(?:warm ?up|first (?:half|part|round|block)) (?:is |was )?(?:done|finished)$|\b(?:half way|midway|in the middle)\b.*\bnow\b|\b(?:nearly|almost) (?:done|finished|through)$|"
    r"\b(?:not|never) (?:\w+ ){0,3}?yet\b|\bstill (?:have|need) to do\b"
)
WHEN = re.compile(
    rf"\b(?:{ANY_DAY})\b|\bafter(?:wards)?\b|\b(?:at|over|before|around) (?:lunch|dinner|noon|"
    rf"breakfast|work|bed)\b|\bin (?:an? (?!way\b|\w+ way|good|bad)|half |\d+)|\bif (?:i|the|we|my|there)\b|\bonce (?:i|we|they|"
    rf"the \w+|my \w+) (?:get|are|is|am|have|are|land|finish|arrive|can)\b|\bwhen (?:i|we|the)\b"
    r"|(?:^| )[tc]\d\d?:\d\d|\bbetween (?:the )?(?:shows?|rehearsals?|flights?|calls)\b|"
    r"\bbefore (?:bed|dinner|the|i|my)\b|^(?:at |around )?\d{1,2}:\d\d$|\banother (?:day|time)\b|"
    r"\bthis (?:evening|afternoon)\b|\bnext\b(?! to\b)"
)
SPEAKS_OF_IT = re.compile(
    rf"^(?:(?:and|so|but|then|ok|well|maybe|probably|perhaps|either|or|only|just|the|this|early|late|straight|right|new try|"
    rf"around|about|hopefully) )*(?:{ANY_DAY}|in|at|on|after|afterwards|before|between|once|when|if|over|next|[tc]?\d(?! (?:shows?|flights?|matinees?|meetings?|calls?|kids)\b))|"
    rf"\b(?:do|doing|make|making|have|be|wait|train|training|session|it|one|prefer|planning|plan|try)\b"
)
"""A time is a plan where it comes first or the session is spoken of: 'tonight after eight', not 'we open tonight'."""
PROPOSES = re.compile(
    rf"^(?:(?:or|maybe|how about|what about|on|so|perhaps|rather|then|could be|lets say|say|can i have|"
    rf"i can do|make it|but|is|lets do it|i could do|i would rather|better) )*(?:on )?(?:this |"
    rf"next )?{ANY_DAY}"
    r"(?: (?:at )?\S*\d\S*)?(?: (?:morning|evening|afternoon|night|instead|then|please|ok|okay|is|"
    r"would|be|better|works?|for me|possible|maybe|fine|good|suits|me|at))*$"
)
MISSED = re.compile(
    rf"\b(?:missed|skipped|skipping|skip|bailed|ditched|dodged|forgot|forgotten|blew it off|flaked|"
    rf"passed on it|failed)\b|\b(?:did|have|could|was|were|can|had|would|am) {_NOT} {_SOON}(?:do|did|"
    rf"done|train|trained|manage|managed|make|made|happen|have (?:a |the |any )?(?:chance|time|"
    rf"opportunity|energy)|go|going|get|got|gotten|fit|have time|able|work out|exercise|face|"
    rf"be bothered|possible|possibly|up to|at it|in the mood)\b(?: {_IT})?|\b(?:will|is|am) not (?:be |"
    rf"going to )?(?:happening|happen|make|able|do|doing|train|training|manage|going|possible|today)\b|"
    rf"\bnot (?:happening|going to happen|going to make|going to|possible|able|managed|today|this time|"
    rf"doing it|training|trained|made it)\b|\b(?:can|could|did) not(?: (?:today|this|either|again|"
    rf"tonight|sorry|at all|{DAY}))?$|\bnot a (?:chance|hope|prayer)\b|\bwrite ?off\b|\bhard pass\b|\b0 (?:sessions?|training|reps|sets|workouts?|(?:was |got |is )?done)\b|^(?:so |well )?yes (?:no|nah)$|\bme n?either$|\bwithout (?:having )?(?:done|doing) (?:a|one|any|a single)\w*(?: single)? (?:thing|set|rep|exercise)\b|\bdid not get (?:it |the session |this one )?done\b|\b(?:session|training|workout|gym) (?:is |was )?a (?:no|nope|no go)\b|\bbody said no\b|\bslept in$|^(?:i am |am |was |just |way |far |simply |still |much )*too (?:tired|busy|knackered|late|wrecked|drained|hungover|sore|ill|sick|jet ?lagged|exhausted|wiped|drunk|lazy)(?: (?:today|tonight|sorry|from \w+|after \w+))?$|\b(?:binned|sacked|canned|shelved|ditched|swerved|jibbed) (?:it|the session|today|this one|off)\b|\b(?:sack|bin|can) (?:it|the session)(?: off)?$|\bcalled it off\b|\bmake (?:a )?(?:pause|break)(?: today)?$|^forget (?:today|it)$|^(?:today (?:is )?)?a no$|\bno gym (?:today|for me)\b|\bno (?:time|chance|"
    rf"way|training|session|exercise|luck|energy|can do|joy|session today)\b"
    r"|\bgav?e it a miss\b|\bgiving it a miss\b|\b(?:give|gave|giving) (?:it|this one|"
    r"today) (?:a )?(?:miss|up|a skip)\b|\b(?:day|night) off\b|\brest day\b|\b(?:took|take|"
    r"taking) (?:a |the )?(?:day|rest)\b|\bnothing (?:today|done|happened)\b|\btoday nothing\b|\bno training for me\b|\bdo not train\b(?! (?:on|every|at|with|for|in)\b)|\blet (?:it|this one|"
    r"that one) go\b|\bleft (?:it|the session|this one|that one|today s?) (?:alone|be)\b|\b(?:left|leaving) it(?: out)?(?: (?:for today|today|tonight|this time|for now))?$|\bleave it (?:for|this|today|be)\b|\bslept (?:through|past) (?:my|the|it|all|"
    r"and)\b|\boverslept\b|\b(?:got|ran|slipped) away from me\b|\btoo late(?: now| today)?$|"
    r"\bback too late\b|\bwas(?: just)? too (?:tired|busy|knackered|late|much|lazy|ill|sick|sore|exhausted|wiped|hungover|drunk|stressed)\b|(?:went |fell )?straight to bed\b|\btoo (?:tired|busy|"
    r"knackered|late|wrecked|drained|hungover) (?:to|for|today|after)\b|\bfell asleep\b|\bdozed off\b|"
    r"^(?:that is |it is |its )?a no$|\bdid not$|\bhave not$|\bnever (?:got|made it|went|happened|"
    r"managed|did)\b|\bnot (?:get|got) (?:round|around)\b|\bhas not happened\b|\bnot done (?:today|"
    r"it today|yesterday)\b|\bzero\b|\b(?:nada|zilch|zip|bugger all|sod all|naff all|jack all|diddly squat)\b|\bnot a (?:single )?(?:rep|set|minute|thing|sausage|squat)\b|\bbig fat (?:no|zero|nothing)\b|"
    rf"\b(?:bed|sofa|couch|pillow|duvet|netflix|pub|bar|beer|weather|tide|schedule|jet lag|jetlag|sleep|fatigue|life|laziness|hangover|rain) (?:won|got me|beat me|took over|happened)\b"
)
OTHER_SPORT = re.compile(
    r"\b(?:swim\w*|swam|football|soccer|yoga|pilates|hik\w+|jog\w*|climb\w*|cycl\w+|bike ride|biked|"
    r"bouldering|walk|walked|walking|tennis|badminton|squash|golf|surf\w*|ski\w*|snowboard\w*|padel|"
    r"basketball|volleyball|danc\w+|paddl\w*|kayak\w*|rowed|sail\w*|ran|went for a run|a run|running|\d+ km run|a (?:\w+ ){1,2}run|"
    r"rugby|cricket|skat\w+|spin class|zumba|boxing|chess|stretch\w*|aqua\w*|div(?:ed|ing)|"
    r"snorkel\w*)\b(?<!walked)(?<!\bran)(?<!climbed)|\b(?:walked|ran|climbed)\b(?! (?:in|into|out|up to|over|past|off|away|late|for (?:the|my|a) (?:bus|train|plane|tram|ferry|gate|flight|door|cover)|"
    r"behind|low|through|around|to (?:the|my) (?:bus|train|gate|station|gym|venue|theatre|boat|ship|hotel))\b)"
)
WENT_FOR = re.compile(
    r"^(?:i |we |just )*(?:went|had a|did|played|ran|cycled|swam|hiked|walked|climbed|go|gone|got)\b"
)
ENDED_DOING = re.compile(
    r"\b(?:ended up|finished|enjoyed|loved|liked|managed|got round to|been|was|were|after|"
    r"kept on) (?:just |actually |even |happily )?(?:doing|training|working out|lifting|squatting|"
    r"going|finishing|squeezing|getting)\b(?! to\b)"
)
DONE = re.compile(
    rf"\b(?:banged|bashed|hammered|cranked|knocked|powered|pumped|churned|ground) (?:it |them |one |"
    rf"the \w+ |a \w+ )?(?:out|through)\b|\b(?:it|that|this one|all) went (?:ok|well|fine|great|good|"
    rf"alright|smoothly|badly)\b|\bmission accomplished\b|\b(?:that is )?me (?:done|finished)\b|"
    rf"^(?:an? |another |1 )?extra (?:one|session|training)(?: today| yesterday| this morning| on \w+day)?$|"
    rf"\b(?:done|finished|completed|complete|trained|smashed|nailed|crushed|sorted|finito|bossed|aced|"
    rf"wrapped(?: it)? up|worked out|knocked (?:it|that|one) out|squatted|deadlifted|benched|lifted|"
    rf"exercised|(?:destroyed|killed|banked|murdered|demolished) (?:it|that|that one|the session))\b|\bboxed (?:it )?off\b|\bdid (?:all |a |an |another |my |the |half )*(?:lighter |easier |extra |full |"
    rf"whole |quick |second |longer |modified |hotel |other )*{_IT}\b|\bdid (?:\d+|half an|an hour|"
    rf"today|yesterday|what|hers|his)\b|\bticked (?:it )?off\b|\bin the bag\b|\bin the books\b|"
    rf"\bgot (?:it|that|them|one|mine|this) (?:done|in|through|out|over)\b"
    r"|\b(?:got|getting|made it|powered|went|worked|gritted|pushed|battled|struggled|"
    r"slogged) through(?: it)?\b|\bmanaged (?:it|the|all|everything|to (?:do|finish|fit|complete|get|"
    r"train|squeeze)|my|a|an|\d)\b|\bmade it\b(?! to (?!the (?:gym|end)|gym|training))|\bdid i\b(?! (?:fuck|hell|heck|balls|bollocks|shite?|buggery|arse)\b)|"
    r"\bi did\b(?! (?:not|sleep))|\bwent (?:anyway|in the end|after all|ahead|to the gym|well|fine|"
    r"great|and)\b|\b(?:session|training|training session) (?:was )?(?:made|happened|is over|over|ok|"
    r"good|great|complete)\b|\b(?:did|got|fitted|fit|squeezed|put) (?:a |it |my |the |one |"
    r"an )(?:session |hour |extra |training |quick one )?in\b|\b(?:fitted|fit|squeezed)(?: session| training| hour| extra)? in\b|"
    r"\b(?:got|put) (?:training )?in (?=(?:an? |my |\d|one |half )(?!(?:car|van|bus|cab|taxi|lift|train|plane)\b))|\bsqueezed (?:it |one )?in\b(?! (?:the|a|my) (?!session|training|morning|afternoon|evening|gap|break|middle|end|lounge|gym|hotel))|"
    r"\ball (?:of it|sets|sorted)\b|\b(?:made|had) (?:the|my|a|today|our) (?:training|session)\b|"
    r"\bi do (?:the|my) (?:training|session)\b|\b(?:hit|been to|back from|was at|"
    r"went to) (?:the )?gym\b|\b(?:gym|training) at \d|\bgot \d+(?: min)? (?:in|done)\b|\bdid (?:some |a few |my |the |a )?(?:press ups|push ups|squats|lunges|bands|circuits?|core|body ?weight|dumbbells)\b|\bnew pb\b|\bpb\b|"
    r"\bdid \d+\b|\b(?:100|whole|full|entire) (?:thing|session|workout|lot)(?: done)?\b|\bjob done\b|"
    r"\b(?:got|did|hit|made|finished) (?:every|all)\b|\b(?:had|was|"
    r"got in)? ?(?:a |an )?(?:\w+ )?(?:good|great|nice|solid|decent|tough|strong|lovely|"
    r"brilliant) (?:session|training)\b|\bhecho?\b(?!.)|\bcheck(?:ed)?(?: that)? off\b|\bput in \d+|\bin the (?:bank|can|bag|book)\b|^(?:box |all )?tick(?:ed)?$|\banother one (?:down|done)\b|\bbagged (?:it|that|one)\b|^slayed(?: it)?$|^dusted$|^went$|\bate that (?:session|workout)(?: up)?\b|\bgot it over with\b|\bgave it (?:a good |a solid |a decent )?\d+\b|\b(?:come|came|coming|just) (?:back |home )?from (?:the )?(?:gym|training)\b"
)
YES = re.compile(
    r"^(?:lol |haha |ha |um |well |oh )*(?:(?:technically|basically|obviously|naturally|definitely|finally|luckily|just about|but of course) (?:yes|i did)|as (?:always|ever|usual|promised|planned)$|obviously$|naturally$|goes without saying|(?:that is|it is|its) a yes|thumbsup(?: thumbsup)*$|too right|too bloody right|did i ever|sorted(?: thanks)?$|yes|in the end yes|sure did|i have$|i did$|of course(?! not)|absolutely|"
    r"certainly|yes i|check|you bet)\b(?! (?:and no|tomorrow|but|i will|later|please|maybe))"
)
NO = re.compile(
    r"^did i (?:fuck|hell|heck|balls|bollocks|shite?|buggery|arse)\b|^(?:absolutely|definitely|certainly|clearly|of course|obviously) not(?: lol| today| sorry| haha)*$|^(?:i am )?(?:technically|basically|obviously|definitely|sadly|unfortunately|afraid|alas|regrettably|sorry|of course)(?: i| but| ,)? (?:no|"
    r"not|nope|i did not)(?: today| this time)?$|^(?:oh |um |lol |haha |ha |sorry |well |sadly |"
    r"unfortunately )*no\b(?=$| (?:i|we|it|that|this|my|the|not|no|yes|sorry|did|could|can|was|because|as|too|just|really|only|still|"
    r"never|today|tonight|afraid|unfortunately|sadly|but|and|time|chance|luck|way|joy|session|training|exercise|energy|motivation|"
    r"space|strength|power|good|go|show|can do|dice|gym)\b)(?! (?:gym (?:here|in|at)|can do tomorrow))"
)
RESUMED = re.compile(
    r"(?<!never )(?<!not )\b(?:came|went|got) back (?:\w+ ){0,3}(?:and )?(?:finish\w*|did the rest|complet\w+)\b|(?<!never )(?<!not )\b(?:finished|did|completed) (?:it off|it|the rest)(?: off)? (?:later|after\w*|in the end|anyway)\b"
)
THE_SPORT = re.compile(r"\b(?:did|went|played|had|instead|managed)\b.*")
