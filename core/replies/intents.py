"""What is said to the bot or the coach rather than of a session: stop, questions, courtesy, messages to pass on."""

import datetime as dt
import re

from core.replies.clauses import Clause
from core.replies.days import ANY_DAY, DAY
from core.replies.word_lists import words_of
from core.terms import Weekday

_NO_STOP = re.compile(
    r"\b(?:ask\w*|question\w*|messag\w*|text\w*|remind\w*|prompt\w*)(?: me)? (?:about|on|for|of) (?:the |my |how )?(?:sleep\w*|nights?|effort|hard|i sle\w+|hours)\b|\b(?:sleep|effort|night) (?:questions?|messages?|prompts?|reminders?)\b|"
    r"\b(?:messag\w*|text\w*|writ\w*|ask\w*|prompt\w*|ping\w*|remind\w*|send\w*|me|these|them)\b(?: \S+){0,3} (?:at night|at \S*\d|during|after \S*\d|before \S*\d|so (?:early|late|often)|on (?:show|travel|matinee|mon|tues|wednes|thurs|fri|satur|sun)\w*(?: days?)?|while|in the (?:morning|evening|night|middle))\b|\b(?:do|did|does|will|would|could|can|must|never) not (?:\w+ )?(?:stop|pause)\b|\bnever stop\b|"
    r"\bnon ?stop\b|\bhad to stop\b|\b(?:when|if|until|unless|once|every time|after|before) i (?:\w+ )?(?:stop|quit)\b|\bnot (?:stop|quit)\b|\bbus stop\b"
)
_STOP = re.compile(
    r"\b(?:please|kindly) (?:do not|no) (?:more )?(?:messag\w*|text\w*|writ\w*|contact\w*|ask\w* (?:me )?(?:again|any ?more|every|these|so|questions|daily)|prompt\w*|reminders?)\b|"
    r"\b(?:be|go|stay|keep) (?:quiet|silent) (?:for|until)\b|\b(?:leave|lay|hold|back|knock|ease) off (?:with )?(?:on )?(?:the |all |your )?(?:messag\w*|reminders?|texts?|texting|prompts?|pings?|pinging|questions?|asking|nagging)\b|\bdo not (?:message|text|contact|write(?: to)?) (?:me|us|again)\b|\bno messages (?:for|until)\b|"
    r"^(?:please |ok |pls |just |now )*(?:stop|pause|unsubscribe|cancel|quit|end)(?: (?:please|now|it|"
    r"this|that|everything|all|coach))*$|\bstop (?:\w+ )?(?:messag\w*|text\w*|send\w*|ask\w*|writ\w*|"
    r"contact\w*|remind\w*|bother\w*|prompt\w*|ping\w*|bugging|nagging|these|them|all (?:this|of this|"
    r"messages|reminders)|the (?:messages|reminders|prompts|bot)|it all)\b|\bstop (?:for|until)\b|"
    r"\bstop this (?:programme|program|plan|training|coaching)\b|\bunsubscribe\b|\bleave (?:me|us) (?:alone|be)\b|\btake me off\b|\bremove me\b|\bopt out\b|"
    r"\bdelete me\b|\bi (?:want to |am going to |am |would like to |need to )?(?:quit|quitting|stop|"
    r"drop out|cancel)(?: (?:this|the (?:programme|program|plan|training|coaching)|now|please|for good|"
    r"everything))?$|\bno more (?:messages|reminders|prompts|texts|of these)\b|\bpausing (?:this|it|for|everything|until|training)\b|\b(?:please |to |"
    r"can we |can you |can i |could you |could we |i will |lets |want a |need a |"
    r"take a )pause\b(?! (?:squats?|reps?|bench|deadlifts?))|\bpause (?:for|everything|this|it|until|"
    r"me|my|the|all|please|training|things|\d+)(?! (?:squats?|reps?))\b|\b(?:need|want|take|taking|have|"
    r"having|like) (?:a |some )?(?:\w+ )?(?:break|time off|time out)(?= (?:from (?:this|it|training|"
    r"everything|the|all)|for|of|please|until|,)|$)|\bput (?:it|this|everything|things|me) on hold\b|"
    r"\bfreeze (?:my|everything|it)\b"
)
_BREAK_ELSEWHERE = re.compile(
    r"\b(?:lunch|coffee|tea|toilet|short|quick|between|in the|on my|during) (?:\w+ )?break\b"
)
_LENGTH = re.compile(
    r"\b(?:(a|an|1|\d{1,3}|couple of|a couple of|few|a few|half a)|(?:for|the|"
    r"next) (?:the )?(?:next )?(\d{1,3})?) ?(days?|weeks?|months?|fortnight)\b|\b(fortnight)\b"
)
_UNIT_DAYS = {"day": 1, "week": 7, "month": 30, "fortnight": 14}
_WHOLE = {"a": 1, "an": 1, "couple of": 2, "a couple of": 2}
_UNTIL_DAY = re.compile(rf"\buntil (?:next )?({DAY})\b")

_WH = re.compile(
    r"^(?:and |also |ok |hey |hi |coach |so |sorry |but |btw |quick question |please |well |"
    r"one question )*(?:what|which|who|whom|why|how|whose)\b(?! (?:a |an |i |we |the hell|ever|is (?:suspicious|nice|good|great|fine|new|rare|odd|weird|strange|why)|was|means|makes|made|leaves|leave|gives|explains))|"
    r"^(?:and |also |coach |hey |hi |but |so |btw |please )*(?:is (?:it|there|this|that)|are there|"
    r"are (?:you|we)|do (?:you|we|i)|did you|have you (?:got|seen|had|read|looked)|does|can (?:i|you|we)|could (?:i|you|we)|should (?:i|we)|"
    r"shall (?:i|we)|may i)\b|^(?:and |also |coach |hey |hi |but |so |btw |please )*(?:is|are|was|were|does|do|will|would|when is|when are|when do|when does|when will)(?: (?:the|my|a|an|your|our|next))? "
    r"(?!(?:not|done|it|was|still|already|so|very|too|in|on|at|over|ok|fine|good|back|home|all|really|hard|tough|easy|no|going|away|the session|tired|about)\b)(?:\w+ ){0,3}(?:worth|ok|okay|fine|safe|bad|good|better|enough|necessary|allowed|needed|normal|too|next|deload|"
    r"start|begin|end|change|helpful|useful|recommended|still on|included|possible|open)\b"
)
_MOVES = re.compile(
    rf"^(?:can|could) (?:i|we) (?:just |please |only )?(?:do|make it|have|manage|try|get away with|"
    rf"drop to|go down to|go up to|go to|get) (?:\d|once|twice)\b(?! ?(?:min|hour|exercises|sets))|"
    rf"\b(?:how|what) about (?:\w+ ){{0,3}}?(?:{ANY_DAY})\b|\b(?:move|moved|shove|nudge|slide|bump|kick|knock|swap|switch|shift|push|put|pass|carry|transfer|"
    rf"postpone|reschedule|instead|do it|make it|have it|wait|works?|better|train|possible|do|go for|"
    rf"delay|bring|change it|skip to|can i have|doing it|chance|say)\b.*\b(?:{ANY_DAY}|later|"
    rf"another (?:day|time)|t\d\d:\d\d)\b|\b(?:{ANY_DAY})\b.*\b(?:instead|ok|possible|better|work|"
    rf"works|fine|alright)\b|^(?:how about|what about|or|maybe|and|perhaps|is|could be|"
    rf"on)? ?(?:on )?(?:{ANY_DAY})(?: (?:at )?\S+)?$|\bbe (?:on )?(?:{ANY_DAY})\b|\b(?:re ?schedule|postpone|"
    rf"move it|another day|other day)\b|\bwhat is the point\b"
)
_ASKS_ADVICE = re.compile(
    r"^(?:and |so |but |also |ok |coach |hey |hi )*(?:should (?:i|we)|do (?:i|we) (?:need|have)|would it|is it (?:ok|okay|fine|"
    r"safe|bad|better|worth|normal|too)|how (?:hard|much|many|long|heavy|soon|often)|why|does it)\b"
    r"(?!.*\b(?:move|shift|swap|switch|push|postpone|re ?schedule|delay|instead)\b)"
    rf"(?!.*\bif (?:i|we) (?:do|did|make|made|train\w*|have|had|go|went|take|took)\b.*\b{ANY_DAY}\b)"
)
"""What is asked of the coach's judgement, even where a day is named."""
_TAG_QUESTION = re.compile(
    r"^(?:ok|right|yes|no|sorry|really|lol|haha|eh|huh|deal|fair|you|and you|alright|yeah|please|"
    r"is that ok|ok with you|all good|good)$"
)
_CHECK = re.compile(r"^\W*\?+\W*$")
_REQUEST = re.compile(
    r"\b(?:can|could|would|will) you (?:please )?(?:call|send|tell|give|explain|show|check|look|help|"
    r"ring|phone|write|share|make|add|change|adjust|have a look|let)\b|\b(?:please |pls )?(?:remind me|"
    r"explain|(?<!to )tell me)\b|\b(?:please |pls )(?:call(?! off)|send me|tell me|explain|advise|help)\b|"
    r"\bany (?:advice|tips|ideas?|suggestions?)\b|\b(?:i )?(?:was )?wondering (?:if|whether|what|"
    r"how)\b|\bnot sure (?:what|how|which|whether|if)\b(?! i)|\bquestion (?:for|about)\b|\bis it (?:ok|"
    r"okay|normal|safe|fine|bad|possible to)\b|\bshould i\b|\bwhat (?:should|do|can|weight|exercise)\b"
)

_NAMES_COACH = re.compile(r"\b(?:tell|message for|note for|let|ask) (?:the |my )?coach\b")
_TO_COACH = re.compile(
    r"\b(?:tell|message for|note for|let) (?:the |my )?coach\b|^coach\b.*\b(?:need|want|talk|call|"
    r"listen)\b|\bneed to (?:talk|speak|chat)\b|\b(?:talk|speak|chat) to (?:the |my )?coach\b|"
    r"\bcall me\b|\bring me\b|\bfyi\b|\bjust (?:so you know|letting you know)\b|\bwanted (?:you|"
    r"to let you) (?:to )?know\b|\b(?:no|not a|not any|only (?:has|have|got)|just (?:has|have|got)|"
    r"have only|without (?:a|any)|lost|forgot|broke|broken|out of|is closed|was closed|shut|"
    r"there is no|there are no|missing)\b.*\b(?:gym|rack|bands?|dumbbells?|barbell|machines?|bench|"
    r"equipment|kettlebells?|weights?|space|kit)\b|\b(?:gym|rack|bands?|dumbbells?|equipment|"
    r"kit)\b.*\b(?:closed|shut|broken|only|missing|lost|tiny|no|stolen|snapped|broke)\b|"
    r"\bi only have\b|\bonly have (?:bands|dumbbells|a|my|body ?weight|10|20|30)\b"
)
_COURTEOUS = re.compile(
    r"\b(?:fine|ok|good) (?:by|with|for) me\b|\bworks for me\b|\b(?:thanks|thank|ok|great|cool|perfect|"
    r"nice|lovely|awesome|brilliant|hi|hello|hey|hiya|morning|evening|night|got it|sounds|looks good|"
    r"look good|will do|appreciate\w*|thumbsup|happy|merry|bye|see you|have a|noted|understood|roger|"
    r"copy|deal|agreed|grateful|super|excellent|wonderful|fantastic|welcome|take care|alright|amazing|"
    r"good)\b"
)


def wants_stop(clauses: list[str]) -> bool:
    """Whether the client asks us to be silent, for good or for a while."""
    return any(
        _STOP.search(clause) and not _NO_STOP.search(clause) and not _BREAK_ELSEWHERE.search(clause)
        for clause in clauses
    )


def pause_days(text: str, today: dt.date) -> int | None:
    """How many days of silence the words name: a week is 7, a fortnight 14, a month 30."""
    until = _UNTIL_DAY.search(text)
    if until:
        day = Weekday[until[1].upper()]
        return (day - today.isoweekday() - 1) % 7 + 1
    found = _LENGTH.search(text)
    if not found:
        return None
    if found[4]:
        return 14
    said = found[1] or found[2] or "1"
    count = _WHOLE.get(said) or (int(said) if said.isdigit() else 0)
    return count * _UNIT_DAYS[found[3].rstrip("s")] or None


def reads_as_question(clause: Clause) -> bool:
    """Whether a clause is built as a question, with its mark or without."""
    return clause.asks or bool(_WH.search(clause.text))


def is_question(clauses: list[Clause]) -> bool:
    """Whether something is asked that only the coach can answer; asking to move a session is no such question."""
    return any(_is_question(clause) for clause in clauses if clause.real)


def _is_question(clause: Clause) -> bool:
    text = clause.text
    if _TAG_QUESTION.search(text) or (_MOVES.search(text) and not _ASKS_ADVICE.search(text)):
        return False
    if clause.asks:
        return (
            bool(re.fullmatch(r"(?:any )?(?:tips|advice|ideas|thoughts|suggestions|help)", text))
            or len(text.split()) > 1
            or bool(_WH.search(text))
        )
    return bool(_REQUEST.search(text)) or (bool(_WH.search(text)) and len(text.split()) > 2)


def names_coach(clauses: list[str]) -> bool:
    """Whether the client asks for something to be passed on, whatever else is said."""
    return any(_NAMES_COACH.search(clause) for clause in clauses)


def is_for_coach(clauses: list[str]) -> bool:
    """Whether the coach is named, or told of the room or the kit."""
    return any(_TO_COACH.search(clause) for clause in clauses)


_THANKS_FOR = re.compile(
    r"(?:ok |and |so |many |big |huge )*thanks (?:a lot |so much |again |coach |very much )*for (?:the|your|that|all|this|"
    r"being|checking|asking|everything|always|last|today|yesterday|tonight)\b(?: (?!but|not|no|i|my|we)[a-z]+){0,6}[ .]*"
)
"""Thanks for anything, as long as it comes to no more."""
_WISHES = re.compile(
    r"\b(?:have|enjoy) (?:a |your |the )?(?:\w+ )?(?:one|day|evening|night|weekend|week|trip|holiday|rest|time)\b|\b(?:you are|what|you) (?:a |an |the |such a |absolute |total )*(?:star|legend|best|gem|angel|hero|rock|diamond|lifesaver)\b|^(?:absolute |total |what a )?(?:legend|star)$|"
    r"\b(?:you are|that (?:is|was)) (?:so |very |really |most |too )*(?:good|kind|decent|sweet|nice|lovely|thoughtful|generous)(?: (?:of|to) (?:you|me))?\b|"
    r"\b(?:speak|talk|chat) (?:to you )?(?:soon|later)\b|\b(?:merry|happy) (?:christmas|new year|birthday|easter|holidays|diwali|friday|weekend)(?: to (?:you|all)(?: and (?:the |your )?(?:team|family|all))?)?\b|\bthanks (?:muchly|very much|a bunch|a million|a ton|big ears|heaps)\b"
)
_SEE_YOU = re.compile(
    r"\b(?:see|talk|speak|catch) (?:to )?you (?:later|soon|tomorrow|then|monday|next week)\b"
)


def is_courtesy(plain: str) -> bool:
    """Whether a message is courtesy and nothing else."""
    plain = re.sub(r"\bx+\b(?=[ .,]*$)", " ", _WISHES.sub(" bye ", _SEE_YOU.sub(" bye ", plain)))
    if _THANKS_FOR.fullmatch(plain):
        return True
    words = re.findall(r"[a-z']+|\d", plain)
    return (
        bool(words)
        and all(word in words_of("courtesy.txt") for word in words)
        and bool(_COURTEOUS.search(plain))
    )
