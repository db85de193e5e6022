"""Days of the week and numbers of sessions, as promises are made of them."""

import datetime as dt
import re
from collections.abc import Iterable
from dataclasses import dataclass

from core.replies.date_named import MONTH
from core.replies.meaning import Near
from core.terms import Weekday

_NAMES = {day.name.casefold(): day for day in Weekday}
DAY = r"(?:monday|tuesday|wednesday|thursday|friday|saturday|sunday)"
_NEAR = r"(?:today|tonight|this evening|this afternoon|in the (?:evening|afternoon)|tomorrow)"
ANY_DAY = rf"(?:{DAY}|{_NEAR}|the day after tomorrow|day after tomorrow)"
_RANGE = re.compile(rf"\b({DAY}) (?:-|to|until|through) ({DAY})\b")
_NOT_DAY = re.compile(
    rf"\b(?:not|no|except|never|instead of|rather than|other than|apart from|(?:can|could|"
    rf"will) not (?:do|make|manage|train)?(?: it)?(?: on)?) (?:on )?(?:this |next )?{ANY_DAY}(?: (?:or|"
    rf"and|nor) {ANY_DAY})*|\b(?:scrap|drop|lose|skip|forget|cancel) (?:the )?{ANY_DAY}|\b(?:leave|leaving|fly|flying|travel|travelling|sail|sailing|arrive|land) (?:out |home |back )?(?:on )?{ANY_DAY}|{ANY_DAY} (?:is |are |was |will be )?(?:a |all |just |really |pretty |so |too )?(?:not (?!{ANY_DAY}|on )|no (?!{ANY_DAY})|impossible|out\b|off\b|rehears\w+|tech|load|mad|hell|crazy|manic|chaos|packed|rammed|full on|"
    rf"nightmare|tough|tricky|tight|dead|blocked|booked|flights?|matinees?|press night|opening|dress|double|two show|2 show|shows|survey|dive|diving|transit|sea day|"
    rf"gone|busy|full|bad\b|get in|travel|a travel|show|rest|taken|(?:the|a|an|our|my) (?!same|best|one|better|good|day|only|safest|usual)\w+)(?:\w+ ?){{0,2}}"
)
_RANGE_OUT = re.compile(
    rf"\b{DAY} (?:-|to|until|through) {DAY} (?:is|are|will be|s) (?:\w+ )?(?!free|good|fine|ok|best|better|great|possible|open|clear|perfect)\w+|"
    rf"\b(?:at sea|on the road|on tour|on board|offshore|away|gone|touring|travelling|rehearsing|in rehearsals?|in tech|on call|on watch|working)(?: from)? {DAY} (?:-|to|until|through) {DAY}\b|"
    rf"\bon {DAY} (?:we|they|there|i (?:have|fly|travel|work|leave|sail|play|perform|open|load|unload|need|must)) (?!train|can|could|do|lift|go again)\w+"
)
"""'Monday to Thursday is rehearsal', 'on Wednesday we unload': why other days were chosen."""
_SO = re.compile(
    rf"\bleav(?:es|ing) (?:(?:you|me|us|only|just|with) )*(?={DAY})|(?<!or )(?<!and )(?<!not )\bso\b(?! far)(?=.*\b{DAY}\b)|"
    r"\b(?:put me down for|sign me up for|book me (?:in )?for|count me in for|let me (?:do|have)|give me|i (?:will )?take)\b"
)
"""'... which leaves you Friday', 'we drive Monday, so put me down for Friday': what stood against the others came before."""
_BESIDE = re.compile(r"\b(?:too|also|as well)\b")
_EVENT = (
    r"(?:load ?(?:in|out)|get ?(?:in|out)|fit ?up|tech|dress|opening|press night|shows?|matinees?|flights?|crew change|rehearsals?|fittings?|survey|travel day|transfer|"
    r"departure|mobilisation|port call|deadline|meetings?|day off|recording)"
)
_ON_WHICH = re.compile(
    rf"\b{_EVENT} (?:(?:is|are|comes|falls|on) )*(?:on )?{DAY}\b(?: and {DAY})*|{DAY} (?:(?:do|does) not|barely|hardly|never)\b|"
    rf"\b(?:we|they) (?!train|can|could|do\b|go again)\w+ (?:\w+ ){{0,4}}on {DAY}\b|\b{DAY}(?: (?:-|to|until|through) {DAY})? (?:we|they|i (?:am|have|work|fly|travel|sail|play|drive|perform)) (?!train|can|could|do\b|go again|free|good|off\b|open|available|home)\w+|\bsince {DAY}\b(?= (?:is|are|has|we|they|i)\b)|"
    rf"\b{DAY} (?:is|are) (?!free|good|fine|ok|best|better|great|possible|open|clear|perfect|yes|in\b|on\b|and\b|or\b|also|ideal|easi\w+|preferred|still|probably|definitely|always|when|where|{DAY}|"
    r"(?:a|the|my|our) (?:good|great|best|better|yes|go|only|usual|safest|one|day|perfect|fine)|what|how|my\b|it\b|likely|usually|looking|nicer?|cool|enough|that|this|for)\w+"
)
"""'Load-in is Thursday', 'Tuesday is fittings': what a day is taken up by."""
_ALL_BUT = re.compile(
    rf"\b(?:any ?day|any ?thing|any ?time|every ?day|all days?|all week|when ?ever|what ?ever(?: works)?|all|any) (?:but|except|apart from|other than|"
    rf"bar) (?:on |the |for )*({DAY}|weekends?)(?: (?:and|or) ({DAY}))?"
)
_EVERY = re.compile(r"\b(?:every ?day|all week|daily|each day|all 7(?: days)?|7 days)\b")
_WORK = re.compile(
    r"(?<!last )(?<!this )(?<!next )\b(?:week ?days?|working days|work days)\b(?! (?:are|is|belongs?|they|we|i (?:have|am)|have|has|kill|eat)\b)"
)
_NO_WEEKEND = re.compile(
    r"\b(?:no|not|never|without|except|but not|nothing) (?:on |at |the |this |for )*(?:the )?weekends?\b"
)
_WEEKEND = re.compile(
    r"\b(?:weekends?)\b(?! (?:are|is|belongs?|they|we|i (?:have|am)|have|has)\b(?! (?:free|good|fine|ok|best|better)))"
)
_INITIALS = re.compile(r"^\W*(?:m|tu|w|th|f|sa|su)(?:[ ,/]+(?:m|tu|t|w|th|f|sa|su|s)){1,5}\W*$")
_RUN_TOGETHER = re.compile(r"(?:m|tu|w|th|f|sa|su){2,6}")
_INITIAL_DAYS = {"m": 1, "tu": 2, "w": 3, "th": 4, "f": 5, "sa": 6, "su": 7}
_TENTATIVE = re.compile(
    r"\b(?:if (?:the|i|we|my|they|all)|maybe|perhaps|possibly|might|if i can|if possible|not sure|hopefully)\b"
)

_NOT_KNOWN_YET = re.compile(
    r"\b(?:no idea|(?<!not )depends|do not know|(?:rota|schedule|call sheet|roster) (?:comes|is) out)\b"
)
"""'No idea, the rota comes out Friday'."""
_COUNT_WORDS = {"once": 1, "twice": 2, "thrice": 3}
_COUNT = re.compile(
    r"(?<![\d.:/])([1-7]) (?:x|times?|sessions?|trainings?|days?|of them|workouts?)\b(?! (?:of|ago|"
    r"long|off|in bed)\b)|\b(?:do|manage|make it|just|only|promise|go for|aim for|settle for|say|try|"
    r"want|take|be|commit to|keep it at|keep it to|stick to|with|down to|up to|lets do|for|please|"
    r"can) ([1-7])(?![\d.:/])(?! (?:min|hour|km|kg|reps|sets|rounds|am|pm)\b)|\b(once(?! (?:the|i|we|my|our|that|he|she|they|it|all|everyone|everything|this)\b)|twice|thrice)\b|"
    r"^\W*([1-7])(?![\d.:/])(?= (?:this|next|please|per|a) |\W*(?:please|,|thanks|for|should|is|sounds|"
    r"seems|feels|again|max|$))|(?<!of )\b([1-7]) (?=(?:this|next|per|a|for next|for the) week\b)"
)
_AFTER_A_COUNT = (
    r"x|times?|sessions?|trainings?|days?|this|next|please|per|a|and|or|but|is|should|if|for|then|max|tops|again|thanks|it|i|of|so|seems|sounds|feels|because|"
    r"with|at|on|in (?:total|all|a week)|maybe|provided|as|only|would|will|still|coach|haha|realistic|enough|ok|works|we|to be|not|no|yes|btw|like|same|sorry|from|until|since|though|when|while|before|after|by|around"
)
_BARE_COUNT = re.compile(
    r"(?<![\w.:/])([1-7])(?![\w.:/])(?! (?:min|hour|-|to \d)\b)(?= ?(?:$|[,.?;!+]|"
    rf"(?:{_AFTER_A_COUNT}|{DAY})\b))"
)
_NO_COUNT = re.compile(
    r"\b(?:at|by|around|from|before|after|until|till|\d+ (?:to|-)|first|other|last|these|those|both|room|deck) \d+\b(?: days?\b)?|\bthere (?:is|are) \d"
)
_COUNT_RANGE = re.compile(r"(?<![\d.:/])\d (?:-|to|or) \d(?![\d:/])")


_DATED = re.compile(rf"\b\d{{1,2}}(?:st|nd|rd|th)?(?: of)? {MONTH}\b|\b{MONTH} (?:the )?\d{{1,2}}\b")
"""Days of the month: which of the week they are, the client may have counted wrong."""


@dataclass(frozen=True, slots=True)
class Week:
    """Days and a number of sessions that the words name; ``doubtful`` where some of it was left open."""

    days: tuple[Weekday, ...] = ()
    promise: int | None = None
    doubtful: bool = False

    @property
    def is_told(self) -> bool:
        return bool(self.days or self.promise)


def read_week(text: str, today: dt.date, *, asked: bool) -> Week:
    """The days that are wanted and how many; bare numbers count only where days were asked for."""
    days = wanted_days(text, today)
    if asked and _DATED.search(text):
        return Week(doubtful=True)
    promise, open_count = _promise(text, asked=asked)
    tentative = bool(_TENTATIVE.search(text)) and bool(days or promise)
    if tentative or open_count or (days and _NOT_KNOWN_YET.search(text)):
        return Week(doubtful=True)
    if promise and days and promise < len(days):
        return Week(doubtful=True)
    return Week(days, promise)


_REST_IS_FINE = re.compile(
    rf"\b(?:not|no) (?:on )?{DAY}\b.*\b(?:(?:the )?rest (?:is |are )?(?:fine|ok|good|free|open|possible|all right)|otherwise (?:i am (?:yours|free|good|open)|any ?(?:day|time|thing)|fine|ok|all good)|any other day)\b"
)
"""'Not Monday, not Tuesday, the rest is fine'."""


def _all_days_but(left_out: Iterable[Weekday]) -> tuple[Weekday, ...]:
    out = set(left_out)
    return tuple(day for day in Weekday if day not in out)


def wanted_days(text: str, today: dt.date) -> tuple[Weekday, ...]:
    all_but = _ALL_BUT.search(text)
    if all_but:
        return (
            _all_days_but(_NAMES[name] for name in all_but.groups() if name in _NAMES)
            if ("weekend" not in all_but.group())
            else tuple(Weekday)[:5]
        )
    if _REST_IS_FINE.search(text):
        return _all_days_but(_NAMES[name] for name in re.findall(rf"\b(?:not|no) (?:on )?({DAY})", text))
    unsaid = _unsaid(text)
    text = what_it_comes_to(_LAST_WEEK.sub(" ", text))
    text = _NO_WEEKEND.sub(" ", _NOT_DAY.sub(" ", _ON_WHICH.sub(" ", _RANGE_OUT.sub(" ", text))))
    days = {Weekday(n) for found in _RANGE.finditer(text) for n in _run(_NAMES[found[1]], _NAMES[found[2]])}
    days |= {_NAMES[name] for name in re.findall(rf"\b{DAY}\b", text)}
    days |= set(Weekday) if not days and _EVERY.search(text) else set()
    days |= set(list(Weekday)[:5]) if _WORK.search(text) else set()
    days |= {Weekday.SATURDAY, Weekday.SUNDAY} if _WEEKEND.search(text) else set()
    if re.search(r"\btomorrow\b", text):
        days.add(Weekday((today + dt.timedelta(days=1)).isoweekday()))
    return tuple(sorted(days - unsaid or (set() if days else _by_initials(text))))


def what_it_comes_to(text: str) -> str:
    """What follows the reasons, where it names a day and adds none to those before it."""
    for found in reversed(list(_SO.finditer(text))):
        after = text[found.end() :]
        if re.search(rf"\b(?:{DAY}|week ?days?|weekend)\b", after) and not adds_days(after):
            return after
    return text


def adds_days(text: str) -> bool:
    """Whether days are named beside others that were named before: 'and Thursday too'."""
    return bool(_BESIDE.search(text))


_LAST_WEEK = re.compile(r"\blast week\b[^,.]*")
_TAKEN_OUT = re.compile(rf"\b(?:scrap|drop|lose|forget|cancel|not|no) (?:the )?({DAY})\b")

_EXCEPTED = re.compile(
    rf"\b(?:week ?days?|every ?day|daily|all week|{DAY} (?:-|to|until|through) {DAY})\b[^.]*?\b(?:except|apart from|other than|bar|minus|without|save|but not|not)(?: for| on)? ({DAY})(?: (?:and|or) ({DAY}))?"
)


def _unsaid(text: str) -> set[Weekday]:
    """'Monday and Wednesday, no, scrap Wednesday': days named first and then taken out."""
    excepted = {_NAMES[name] for one in _EXCEPTED.finditer(text) for name in one.groups() if name}
    return excepted | {
        _NAMES[one[1]]
        for one in _TAKEN_OUT.finditer(text)
        if re.search(rf"\b{one[1]}\b", text[: one.start()])
    }


def day_to_move_to(text: str, today: dt.date) -> Weekday | Near | None:
    """The one day that an ask is to go to; None where there is none, or more than one."""
    left = _NOT_DAY.sub(" ", text)
    if re.search(r"\bday after tomorrow\b", left):
        return Weekday((today + dt.timedelta(days=2)).isoweekday())
    aimed = re.findall(
        rf"\b(?:to|on|for|about|say|have|do|by) (?:it )?(?:this |next |early |late )?({DAY}|{_NEAR})\b", left
    ) or re.findall(rf"\buntil (?:this |next |early |late )?({DAY}|{_NEAR})\b", left)
    named = aimed[-1:] or list(dict.fromkeys(re.findall(rf"\b{DAY}\b|\b{_NEAR}\b", left)))
    days = {_one_day(name) for name in named}
    if len(days) > 1 and Near.TODAY in days:
        days.discard(Near.TODAY)
    return days.pop() if len(days) == 1 else None


def _one_day(name: str) -> Weekday | Near:
    if name in _NAMES:
        return _NAMES[name]
    return Near.TOMORROW if name.startswith("tom") else Near.TODAY


def _run(first: Weekday, last: Weekday) -> list[int]:
    return [(first - 1 + step) % 7 + 1 for step in range((last - first) % 7 + 1)]


def _by_initials(text: str) -> set[Weekday]:
    """'M W F'; a lone 't' or 's' could be two days, so a set with one is not read."""
    if _RUN_TOGETHER.fullmatch(text.strip(" .,")):
        return {Weekday(_INITIAL_DAYS[letter]) for letter in re.findall(r"m|tu|w|th|f|sa|su", text)}
    if not _INITIALS.match(text):
        return set()
    letters = re.findall(r"[a-z]+", text)
    known = {Weekday(_INITIAL_DAYS[letter]) for letter in letters if letter in _INITIAL_DAYS}
    return known if len(known) == len(letters) else set()


def _promise(text: str, *, asked: bool) -> tuple[int | None, bool]:
    """(sessions a week, whether a number was meant that must be asked back)."""
    text = re.sub(
        r"\bnot (?:more than )?\d\b|\b\d (?:is|are|was|were|seems) (?:too|not|a bit|more than|hard|"
        r"unrealistic)[^,]*",
        " ",
        text,
    )
    if _COUNT_RANGE.search(text):
        return None, asked
    found = _COUNT.search(text)
    if found and (asked or re.search(r"\bweek\b", text)):
        said = next(group for group in found.groups() if group)
        return _COUNT_WORDS.get(said) or int(said), False
    bare = _BARE_COUNT.findall(_NO_COUNT.sub(" ", text)) if asked else []
    if len(set(bare)) == 1:
        return int(bare[0]), False
    return None, asked and re.search(
        r"(?<![tc:\d.])\b\d+\b(?![:/]|\.\d| (?:min|hour))",
        re.sub(r"\b(?:at|by|around|from) \d+\b", " ", text),
    ) is not None
