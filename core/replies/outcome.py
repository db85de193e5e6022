"""What became of a session: done, short, missed or later.

Each clause is searched for signs, the more particular first, and what is found is masked, so that 'not done yet' is no 'done'.
What was only intended ('was going to skip') counts for nothing. Then the signs of the whole message are weighed.
"""

import re
from dataclasses import dataclass

from core.replies.clauses import Clause
from core.replies.days import ANY_DAY, DAY
from core.replies.meaning import Said

_IT = (
    r"(?:it|this|that|the|mine|my|one|them|today|yesterday|session|training|everything|both|all|two|"
    r"an?|some|do|train|2|3)"
)
_NOT = r"(?:not|never)"
_SOON = r"(?:actually |even |really |quite |get to |manage to |be able to |able to |going to |gonna )*"

_INTENDED = re.compile(
    r"\b(?:(?:was|were) (?:just |really |so |very |only )?(?:going|about|planning|tempted|supposed|"
    r"hoping|meaning|close|ready|all set) to|"
    r"(?:nearly|almost) (?=skip|miss|bail|did not|gave up|quit|forgot)|(?:very |so |really )?(?:wanted|"
    r"tempted|meant|planned|intended|hoped|tried|expected|supposed) (?:to|on)\b|"
    r"(?:thought|thinking|think) (?:about|of)|considered|contemplated|felt like|feel like|toyed with|"
    r"planned(?= \d)|did not want to|do not want to|"
    r"(?:did|do) not (?:really )?(?:feel like|fancy)(?: it)?|instead of|rather than|without (?=skipp|"
    r"miss)|close to|on the verge of)[^,.?]*?(?= and (?:then |i |we )?(?:did|went|made|finished|"
    r"trained|managed)\b|$)"
)
_TO_DO_IT = re.compile(
    r"\b(?:was|were|wanted|meant|planned|intended|hoped|tried|supposed)\b(?!.*\b(?:skip|miss|bail|quit|"
    r"give up|cancel)\w*)"
)
_NOT_SKIPPED = re.compile(
    rf"\b(?:did|have|had) {_NOT} {_SOON}(?:skip|miss|bail|skipped|missed|give up|quit)\w*\b(?! (?:one|"
    rf"any|a (?:session|day|single)) (?:yet|so far))"
    r"|\bno(?:t)? (?:skipping|missing)\b"
)
_NEVER_SKIPS = re.compile(
    r"\b(?:have |had )?(?:never|not) (?:missed|skipped|miss|skip) (?:one|any|a \w+)\b|\bno (?:problem|"
    r"worries|prob|stress|pain|excuses)\b|\bnot tired\b|\bno gain\b"
)
_PART_LEFT_OUT = re.compile(
    r"\b(?:skipped|missed|left out|dropped|without|minus|except|apart from|did not do|"
    r"forgot) (?:for )?(?:the |my |a |some )?(?:(?:last|final|first|1|2|3|pull|push|sit) )*"
    r"(?:set|exercises?|exercise|round|rounds|finisher|warm ?up|cool ?down|planks?|lunges?|squats?|"
    r"pull ups?|push ups?|press|deadlifts?|rows?|carries|stretch\w*|reps?|core|burpees|abs|ups)\b"
)
_SHORT = re.compile(
    r"\bhalf ?way\b|\bhalf(?! an? )(?! (?:hour|term|board|asleep|hearted|dead))\b|\b(?:a )?(?:bit|part|"
    r"some|most|fraction|chunk|third|quarter|little|couple of rounds) of (?:it|the|that|my|today)\b"
    r"|\b(?:partly|partially|unfinished|incomplete|abandoned|abbreviated|shortened)\b|\b(?:nearly|"
    r"almost|not|not quite) (?:all|everything)\b|\bnot the (?:full|whole|entire|complete)\b"
    r"|\bcut (?:it |that |mine |the \w+ |today |my \w+ )?short\b|\b(?:short|shorter|shortened|quick|"
    r"mini|tiny|express|condensed) (?:one|version|session|training)\b"
    rf"|\b(?:did|could|have|was|were|do) {_NOT} {_SOON}(?:finish|complete|get through|"
    rf"make it to the end|get all)\w*"
    r"|\b(?:gave up|bailed(?: out)?|quit|stopped|packed it in|pulled out|left|interrupted|"
    r"called it) (?:half\w*|after|at|early|because|when|as|mid\w*|part|short)\b"
    r"|\bhad to (?:stop|quit|bail|cut|break off|leave|abort|end)\b(?: (?:at|after|early|half\w*|when|"
    r"because|it))?"
    r"|\b(?:only|just) (?:did|got|managed|had|done|made|the|a) (?:the |a |about |around |"
    r"like )?(?:warm ?up|first|few|half|1|2|3|4|one|bit|some|part|\d+ (?:min|exercises|sets|rounds))\b"
    r"|\b(?:only|just) (?:\d+|a few|a couple of|the|one|some) (?:of the )?(?:warm|rounds?|sets?|"
    r"exercises?|first|last|min\b|half|squats|half)"
    r"|\b(?:first|1st) (?:half|few|\d|one|two|couple)(?: (?:exercises?|sets|rounds|"
    r"moves))?\b(?! thing)|\b(?:10|\d+) min (?:version|one|option|job)\b|\b\d+ (?:rounds|sets|"
    r"exercises)(?: \w+)? (?:only|instead of)\b"
    r"|\b\d+ (?:out )?of (?:the )?\d (?:exercises|sets|rounds)\b"
)
_STARTED = re.compile(
    r"(?<!once i )\b(?:started|began|begun)\b(?! (?:now|just|feeling|to feel))(?: it| the \w+| well)?"
)
_RAN_OUT = re.compile(r"\bran out of (?:time|steam|energy|puff)\b")
LIMITED = re.compile(
    r"\b(?:only|just|managed|barely|hardly|merely|scarcely|squeezed in|at most|no more than|"
    r"a mere)\b[^,.?]{0,30}?(?=\b(?:an? |half |\d|3 quarters))|\bmin (?:only|tops|max|was all|is all)\b"
    r"|\b(?:all|best) i (?:could|had|managed|got)\b"
)
_NO_LIMIT = re.compile(
    r"\bjust (?:now|finished|done|did|completed|got back|back|wrapped|came|got (?:it|home|in))\b|"
    r"\bmanaged (?:it|the (?:whole|full|session|entire|lot)|all|everything|to (?:do|finish|fit|"
    r"complete|get it))\b|\bnot (?:only|just)\b"
)
_LATER = re.compile(
    rf"\b{_NOT} (?:quite |just )?yet\b(?: (?:done|finished|started|begun|trained|completed))?|"
    rf"\byet to\b|\b(?:have|has|had|did|am|is) {_NOT} (?:\w+ ){{0,3}}yet\b|\b{_NOT} (?:done|finished|"
    rf"started|begun|completed)(?: it)?\b(?! (?:with|much|a lot))"
    r"|\bhave not (?:started|begun|had (?:a |the )?(?:chance|time))\b|\b(?:still )?(?:to do|to come|"
    r"pending|outstanding|on my list|on the list|in the diary)\b"
    r"|\b(?:i |we )?(?:will|shall) (?:still |definitely |probably |hopefully |try |try to |have to |"
    r"be |get to )*(?:do|doing|try|go|going|train|training|get|fit|make (?:it|up|time)|squeeze|hit|"
    r"start|starting|catch|give it|attempt|have a go|knock)\b"
    r"|(?<!was )(?<!were )(?<!not )\bgoing to (?:\w+ )?(?:do|train|try|get|hit|start|fit|squeeze|make|"
    r"give|go|knock|have)\b|(?<!was )(?<!were )\bgoing (?:now|later|in|soon|after|tonight|tomorrow|"
    r"this|to the gym|down)\b"
    r"|(?<!was )(?<!were )\b(?:just )?about to(?: \w+)?\b|(?<!was )\babout to$|\b(?:on (?:my|the) way|"
    r"heading|headed|off) (?:to the gym|to gym|down|there|over|in|out|now|to do|to it)\b|\bon (?:my|"
    r"the) way\b(?! (?:home|back))"
    r"|\b(?:starting|start|beginning) (?:in|now|at|soon|it|later|after|once|as soon)\b|\b(?:doing|do|"
    r"get|getting|have|make) (?:it|this|that|mine|10|\d+ min|the session|"
    r"my session)? ?(?:right )?(?:now|later|after|once|when|asap|soon|as soon as|before|in a bit|"
    r"in a while)\b"
    r"|\bdoing (?:it|this|mine|that)\b|\b(?:plan|planning|aim|aiming|intend|intending|hope|hoping|want|"
    r"would like|scheduled|still plan) (?:to|on|for)\b|\bsoon\b|\bon it\b|\bgetting changed\b|"
    r"\bwarming up\b|\bin the middle of it\b"
    r"|\b(?:i )?(?:might|may)\b|\b(?:maybe|perhaps|possibly|hopefully|fingers crossed|with (?:any |"
    r"a bit of )?luck)\b|\btry to\b|\bgive me (?:an?|half|\d+)\b|\blater\b(?! than)|\basap\b|"
    r"\bnext thing\b"
    r"|\b(?:re ?schedule|postpone|push (?:it|this|that|back|to)|move (?:it|this|that|my|to|the|today|"
    r"tomorrow)|shift (?:it|this|to|my|the)|swap|switch|delay it|put it off|bump it|rearrange|"
    r"re ?arrange|make it up)\b(?! (?:places|sides|on|off)\b)"
)
_WHEN = re.compile(
    rf"\b(?:{ANY_DAY})\b|\bafter(?:wards)?\b|\b(?:at|over|before|around) (?:lunch|dinner|noon|"
    rf"breakfast|work|bed)\b|\bin (?:an? |half |\d+)|\bif i\b|\bonce (?:i|we) (?:get|am|have|are|land|"
    rf"finish|arrive|can)\b|\bwhen (?:i|we|the)\b"
    r"|(?:^| )t\d\d:\d\d|\bbefore (?:bed|dinner|the|i|my)\b|^(?:at |around )?\d{1,2}:\d\d$|"
    r"\banother (?:day|time)\b|\bthis (?:evening|afternoon)\b|\bnext\b"
)
_PROPOSES = re.compile(
    rf"^(?:(?:or|maybe|how about|what about|on|so|perhaps|rather|then|could be|lets say|say|can i have|"
    rf"i can do|make it|but|is|lets do it|i could do|i would rather|better) )*(?:on )?(?:this |"
    rf"next )?{ANY_DAY}"
    r"(?: (?:at )?\S*\d\S*)?(?: (?:morning|evening|afternoon|night|instead|then|please|ok|okay|is|"
    r"would|be|better|works?|for me|possible|maybe|fine|good|suits|me|at))*$"
)
_MISSED = re.compile(
    rf"\b(?:missed|skipped|skipping|skip|bailed|ditched|dodged|forgot|forgotten|blew it off|flaked|"
    rf"passed on it|failed)\b"
    rf"|\b(?:did|have|could|was|were|can|had|would|am) {_NOT} {_SOON}(?:do|did|done|train|trained|"
    rf"manage|managed|make|made|happen|go|going|get|got|gotten|fit|have time|able|work out|exercise|"
    rf"face|be bothered|possible|possibly|up to|at it|in the mood)\b(?: {_IT})?"
    rf"|\b(?:will|is|am) not (?:be |going to )?(?:happening|happen|make|able|do|doing|train|training|"
    rf"manage|going|possible|today)\b|\bnot (?:happening|going to happen|going to make|going to|"
    rf"possible|able|managed|today|this time|doing it|training|trained|made it)\b"
    rf"|\b(?:can|could|did) not(?: (?:today|this|either|again|tonight|sorry|at all|{DAY}))?$|"
    rf"\bno (?:time|chance|way|training|session|gym|exercise|luck|energy|can do|joy|session today)\b"
    r"|\bgav?e it a miss\b|\bgiving it a miss\b|\b(?:give|gave|giving) (?:it|this one|"
    r"today) (?:a )?(?:miss|up|a skip)\b|\b(?:day|night) off\b|\brest day\b|\b(?:took|take|"
    r"taking) (?:a |the )?(?:day|rest)\b|\bnothing (?:today|done|happened)\b"
    r"|\blet (?:it|this one|that one) go\b|\bleave it (?:for|this|today|be)\b|\b(?:slept|"
    r"overslept) (?:through|in and|past)\b|\boverslept\b|\bgot away from me\b|"
    r"\bwas(?: just)? too (?:tired|busy|knackered|late|much)\b|\btoo (?:tired|busy|knackered|late|"
    r"wrecked|drained|hungover) (?:to|for|today|after)\b"
    r"|\bdid not$|\bhave not$|\bhas not happened\b|\bnot done (?:today|it today|yesterday)\b|\bzero\b"
)
_OTHER_SPORT = re.compile(
    r"\b(?:swim\w*|swam|football|soccer|yoga|pilates|hik\w+|jog\w*|climb\w*|cycl\w+|bike ride|biked|"
    r"bouldering|walk|walked|walking|tennis|badminton|squash|golf|surf\w*|ski\w*|snowboard\w*|padel|"
    r"basketball|volleyball|danc\w+|paddl\w*|kayak\w*|rowed|sail\w*|ran|went for a run|a run|running|"
    r"rugby|cricket|skat\w+|spin class|zumba|boxing|chess|stretch\w*|aqua\w*|div(?:ed|ing)|"
    r"snorkel\w*)\b"
)
_WENT_FOR = re.compile(
    r"^(?:i |we |just )*(?:went|had a|did|played|ran|cycled|swam|hiked|walked|climbed|go|gone|got)\b"
)
_DONE = re.compile(
    rf"\b(?:done|finished|completed|complete|trained|smashed|nailed|crushed|sorted|finito|bossed|aced|"
    rf"wrapped(?: it)? up|worked out|knocked (?:it|that|one) out|squatted|deadlifted|benched|lifted|"
    rf"exercised|destroyed it)\b"
    rf"|\bdid (?:all |a |an |my |the |half )*(?:lighter |easier |extra |full |whole |quick |second |"
    rf"longer |modified |hotel |other )*{_IT}\b|\bdid (?:\d+|half an|an hour|today|yesterday|what|hers|"
    rf"his)\b|\bticked (?:it )?off\b|\bin the bag\b|\bin the books\b|\bgot (?:it|that|them|one|mine|"
    rf"this) (?:done|in|through|out|over)\b"
    r"|\b(?:got|getting|made it|powered|went|worked|gritted|pushed|battled|struggled|"
    r"slogged) through(?: it)?\b|\bmanaged (?:it|the|all|everything|to (?:do|finish|fit|complete|get|"
    r"train|squeeze)|my|a|an|\d)\b|\bmade it\b|\bdid i\b|\bi did\b(?! (?:not|sleep))|\bwent (?:anyway|"
    r"in the end|after all|ahead|to the gym|well|fine|great|and)\b"
    r"|\b(?:session|training|training session) (?:was )?(?:made|happened|is over|over|ok|good|great|"
    r"complete)\b|\b(?:did|got|fitted|fit|squeezed|put) (?:a |it |my |the |one |an )?(?:session |hour |"
    r"extra )?in\b|\bsqueezed (?:it |one )?in\b|\ball (?:of it|sets|sorted)\b|\b(?:made|had) (?:the|my|"
    r"a|today|our) (?:training|session)\b"
    r"|\bi do (?:the|my) (?:training|session)\b|\b(?:hit|been to|back from|was at|"
    r"went to) (?:the )?gym\b|\b(?:gym|training) at \d|\bgot \d+ min (?:in|done)\b|\bnew pb\b|\bpb\b|"
    r"\bdid \d+\b|\b(?:100|whole|full|entire) (?:thing|session|workout|lot)(?: done)?\b|\bjob done\b|"
    r"\bhecho?\b(?!.)|\bcheck(?:ed)?(?: that)? off\b|\bput in \d+"
)
_YES = re.compile(
    r"^(?:yes|sure did|i have|i did|of course|sure|absolutely|certainly|yes i|check|"
    r"you bet)\b(?! (?:but|i will|later|please|maybe))"
)
_NO = re.compile(
    r"^(?:oh |um |sorry |well )*no\b(?! (?:pain|problem|worries|prob|stress|idea|gym|signal|wait|doubt|"
    r"one|bands|weights|rack|dumbbells|bench|equipment|more|dizziness|chest|palpitations|injur\w+|"
    r"excuse))"
)


@dataclass(frozen=True, slots=True)
class Signs:
    """What points to each outcome, as the number of the last clause that does; -1 for none."""

    done: int = -1
    short: int = -1
    missed: int = -1
    later: int = -1
    hinted: int = -1
    limited: bool = False
    intended: bool = False
    started: bool = False
    sport: bool = False

    def outcome(self, *, has_minutes: bool) -> Said | None:
        """The signs weighed: a plan to do it outlives a miss, a part done is short, else the last word counts."""
        if self.short >= 0 or (self.limited and has_minutes):
            return Said.SHORT
        if self.started and max(self.done, self.missed) < 0 and max(self.later, self.hinted) < 0:
            return Said.SHORT
        if self.done > max(self.missed, self.later if self.missed >= 0 else -1) or (
            self.done >= 0 and self.missed < 0
        ):
            return Said.DONE
        if self.later >= 0:
            return Said.LATER
        if self.missed >= 0 or self.sport:
            return Said.MISSED
        if self.hinted >= 0:
            return Said.LATER
        return Said.MISSED if self.intended else None


def read_signs(clauses: list[Clause], *, asked: bool) -> Signs:
    """The signs in the client's own clauses; ``asked`` when the session was asked about: then 'yes' is an answer."""
    last = {"done": -1, "short": -1, "missed": -1, "later": -1, "hinted": -1}
    flags = {"limited": False, "intended": False, "started": False, "sport": False}
    for number, clause in enumerate(clauses):
        if clause.own and clause.real:
            found, noted = _signs_of(clause, asked=asked, first=number == 0)
            last |= dict.fromkeys(found, number)
            flags |= dict.fromkeys(noted, True)
    return Signs(**last, **flags)  # type: ignore[arg-type]


def _signs_of(clause: Clause, *, asked: bool, first: bool) -> tuple[set[str], set[str]]:
    """(outcomes that a clause points to, what else it says)."""
    text, found, noted = _real_part(clause.text)
    if _is_other_sport(text):
        noted.add("sport")
        text = text if "session" in text else _THE_SPORT.sub(" ; ", text)
    for name, pattern in (("short", _SHORT), ("later", _LATER), ("missed", _MISSED), ("done", _DONE)):
        if pattern.search(text):
            found.add(name)
            text = pattern.sub(" ; ", text)
    if _RAN_OUT.search(text):
        found.add("short" if {"done", "short"} & found else "missed")
    if _STARTED.search(text):
        noted.add("started")
    return found | (_answers(clause.text, text, found, first=first) if asked else set()), noted


_THE_SPORT = re.compile(r"\b(?:did|went|played|had|instead|managed)\b.*")


def _real_part(text: str) -> tuple[str, set[str], set[str]]:
    """The clause without what was only intended or never happens, and the signs that this leaves."""
    found, noted = set(), set()
    if LIMITED.search(_NO_LIMIT.sub(" ", text)):
        noted.add("limited")
    intended = _INTENDED.search(text)
    if intended and _TO_DO_IT.search(intended.group()):
        noted.add("intended")
    text = _NEVER_SKIPS.sub(" ; ", _INTENDED.sub(" ; ", text))
    if _NOT_SKIPPED.search(text):
        found.add("done")
    return _PART_LEFT_OUT.sub(" ; ", _NOT_SKIPPED.sub(" ; ", text)), found, noted


def _answers(whole: str, left: str, found: set[str], *, first: bool) -> set[str]:
    """What only means something because the session was asked about."""
    if first and _YES.search(whole):
        return {"done"} if "later" not in found else set()
    if first and _NO.search(whole) and not found - {"missed"}:
        return {"missed"}
    if not found and _PROPOSES.search(whole):
        return {"later"}
    return {"hinted"} if not found and _WHEN.search(left) else set()


def _is_other_sport(text: str) -> bool:
    return bool(_OTHER_SPORT.search(text)) and bool(re.search(r"\binstead\b", text) or _WENT_FOR.search(text))
