"""The dates of a trip, each with the place that it belongs to."""

import datetime as dt
import re
from dataclasses import replace

from core.replies.date_spans import Dates
from core.replies.legs import TRAVELS, Leg

RETURNS = re.compile(
    r"\b(?:back|home|return|return flight|returning|returns|come back|coming back|fly(?:ing)? back|until|till|"
    r"through|ending|ends|end on|run until|leave again|stay(?:ing)? until)\b(?: (?:home|here|at home|"
    r"again|on|by|the|in the|until|in|already|already on|at|to base|ashore|from there|from it|around|"
    r"there)\b)* ?,? ?(?:on )?(?:the )?$"
)


OPEN = re.compile(
    r"\b(?:open end(?:ed)?|no end date|no end (?:yet|in sight)|no return(?: date| flight| ticket)?(?: yet)?(?: booked| fixed| planned| set)?|one way(?: ticket| only)?|until further notice|indefinitely|(?:do not|not) (?:know|sure|"
    r"clear) (?:yet )?(?:when|how long|until when|for how long)|no idea (?:when|how long|for how long|"
    r"until when)|for now|for good|permanently|for the duration|as long as it takes|for the foreseeable|who knows (?:when|how long)|not sure (?:yet )?(?:when|"
    r"how long|until)|end (?:date )?(?:is )?(?:open|unknown|not known|tbc|tba)|"
    r"(?:nobody|no ?one|none of us|they|who|only god|god|we|i) (?:\w+ ){0,2}(?:knows?|says?|tells?|told|saying|decided?|can say|can tell|will (?:tell|say)|"
    r"could say)(?: us| me| anyone| yet)* (?:when|how long|until when|the end|on board|later)|(?:nobody|no ?one|who|only god|god|heaven) knows|"
    r"no (?:clue|idea|word|news|info)(?: yet)?(?: on| about| of)? (?:when|how long|until when|for how long|(?:the |my |our )?(?:return|end|way home|way back))|"
    r"(?:return|end|way back|way home|ticket of return|return ticket)(?: date| flight| ticket)?(?: (?:is|still|yet|date|we|i|they))* (?:open|unknown|unclear|tbc|tba|tbd|"
    r"to be (?:confirmed|decided|announced|seen)|not (?:known|fixed|booked|set|clear|decided)|have not|do not have|nobody knows|tell us|will tell us)|"
    r"(?:the )?(?:weather|tide|sea|client|boat|ship|job) decides|depends on the (?:weather|tide|job|client|work)|"
    r"until (?:the |it |this )?(?:job|work|survey|thing|all)?(?: is)? ?(?:done|finished|over)|(?:that is|thats) all (?:they|i|we)(?: have)? (?:told|said|know|got|heard)|until they (?:let|send) (?:me|us)|when they let (?:me|us)|"
    r"return (?:date )?(?:is )?(?:open|unknown|tbc|tba|tbd)|until (?:i|they|we) (?:know|say|hear|finish|"
    r"are done)|tbc|tba)\b"
)


def dated(text: str, legs: list[Leg], dates: list[Dates], today: dt.date) -> list[Leg]:
    """Each leg with the dates that belong to it: those behind it, or before it where the message names dates first."""
    dates_first = bool(dates) and dates[0].at < legs[0].at
    owned: list[list[Dates]] = [[] for _ in legs]
    for one in dates:
        owned[_owner(one, text, legs, dates_first=dates_first)].append(one)
    numbered = [
        (replace(leg, number=number), mine)
        for number, (leg, mine) in enumerate(zip(legs, owned, strict=True))
    ]
    return _joined([_with_dates(text, leg, mine, today) for leg, mine in numbered], text)


def _owner(one: Dates, text: str, legs: list[Leg], *, dates_first: bool) -> int:
    """The number of the leg that a date belongs to; 'until' and 'back' look behind them."""
    before = sum(leg.at < one.at for leg in legs)
    looks_back = one.length is not None or bool(RETURNS.search(text[: one.at]))
    if not before or (dates_first and not looks_back):
        return min(before, len(legs) - 1)
    return before - 1


_DEPARTS = re.compile(
    r"\b(?:fly|flying|flight|leave|leaving|depart|departing|set(?:ting)? off|head(?:ing)?|off|sail|sailing|travel|travelling|go|going)(?: (?:out|off|over|on|is|there|down|up|the|in))* $"
)
"""'We open on the 18th, I fly out on the 16th': the day of leaving is the trip's first."""


def _with_dates(text: str, leg: Leg, dates: list[Dates], today: dt.date) -> Leg:
    starts: dt.date | None = None
    ends: dt.date | None = None
    length: Dates | None = None
    is_open = bool(OPEN.search(text))
    doubtful = _is_muddled(text, dates)
    dates = _without_training_days(text, _without_days_at_home(text, dates), leg)
    dates = _without_today_in_passing(text, dates, leg)
    for one in _from_the_day_of_leaving(text, dates):
        if one.length:
            length = one
        elif one.last:
            starts, ends = starts or one.first, one.last
        elif one.first and (_is_return(text, one) or (starts and not ends)):
            ends = one.first
            doubtful = doubtful or (starts == ends and _may_be_a_week(text, one))
        elif one.first:
            starts = one.first
            is_open = is_open or one.opens
    if length and length.length and not ends:
        starts = starts or (today if length.from_today or _is_there(text, leg) else None)
        ends = starts + dt.timedelta(days=length.length - (0 if length.nights else 1)) if starts else None
    if starts is None and (ends or is_open):
        starts = _begun(text, leg, today, has_end=ends is not None)
    if ends is None and starts and _WITHIN_A_DAY.search(text):
        ends = starts
    if (
        ends is None
        and starts
        and re.search(r"\bovernight\b(?! (?:bus|train|ferry|flight|coach|crossing|drive))", text)
    ):
        ends = starts + dt.timedelta(days=1)
    doubtful = doubtful or bool(starts and ends and ends < starts)
    is_open = is_open or bool(starts and not ends and _SETS_OUT.search(text))
    return replace(leg, starts=starts, ends=ends, is_open=is_open and ends is None, doubtful=doubtful)


def _is_return(text: str, one: Dates) -> bool:
    before = text[: one.at]
    if _LEAVES_AGAIN.search(before) and _ARRIVES.search(before):
        return True
    return bool(RETURNS.search(before) or _HOME_THEN.match(text[one.end :]))


_ARRIVES = re.compile(
    r"\b(?:reach|arrive|arriving|dock|docking|land|landing|berth|fly in|flying in|get in|in port|come in)\b"
)
_LEAVES_AGAIN = re.compile(
    r"\b(?:leave|leaving|sail|sailing|depart|departing|fly out|flying out|set off|go)(?: again| on)* (?:the )?$"
)
"""'We reach Bridgetown on the 26th and leave on the 1st'."""
_HOME_THEN = re.compile(r" (?:i am |we are |am )?(?:home|back home|back)(?= ?(?:$|[,.]))")
"""'Saturday home': the day before the word."""


def _may_be_a_week(text: str, one: Dates) -> bool:
    """'Flying Tuesday, back Tuesday' is a week, or a day."""
    return text[one.at : one.end].endswith("day") and not _WITHIN_A_DAY.search(text)


def _begun(text: str, leg: Leg, today: dt.date, *, has_end: bool) -> dt.date | None:
    """Today, where only an end was named and the client is there already, or about to go."""
    if has_end and leg.number == 0 and not _STILL_TO_GO.search(text):
        return today
    return today if re.search(r"\b(?:landed|arrived|here|am in|are in|now in)\b", text) else None


def _days_of(text: str, dates: list[Dates]) -> tuple[list[Dates], list[Dates]]:
    """(single days that are no return, those of them on which the client leaves)."""
    singles = [one for one in dates if one.first and not one.last and not _is_return(text, one)]
    return singles, [one for one in singles if _DEPARTS.search(text[: one.at])]


def _from_the_day_of_leaving(text: str, dates: list[Dates]) -> list[Dates]:
    """Where a day of leaving is named before other days there, it alone is the beginning."""
    singles, leaves = _days_of(text, dates)
    if len(leaves) != 1 or len(singles) < 2 or any(_day(one) < _day(leaves[0]) for one in singles):
        return dates
    return [one for one in dates if one is leaves[0] or one not in singles]


def _without_days_at_home(text: str, dates: list[Dates]) -> list[Dates]:
    """What comes after the day of return, in a clause that goes nowhere, is no part of the trip: 'home Friday, knees sore since Monday'."""
    back = [one for one in dates if one.first and _HOME_THEN.match(text[one.end :])][:1] or [
        one for one in dates if one.first and _is_return(text, one)
    ]
    if len(back) != 1:
        return dates
    home = back[0]
    return [
        one
        for one in dates
        if one.at <= home.at
        or one.last
        or one.length
        or (_is_return(text, one) and not _HOME_THEN.match(text[home.end :]))
        or not re.search(r"[,.]", text[home.end : one.at])
        or _DEPARTS.search(text[: one.at])
    ]


_TRAINS = re.compile(r"\b(?:train|session|gym|work ?out|lift)\b")


def _without_training_days(text: str, dates: list[Dates], leg: Leg) -> list[Dates]:
    """'Day trip to Brussels on Saturday, can train Sunday'."""
    return [one for one in dates if _goes_in(text, one, leg) or not _TRAINS.search(_clause_of(text, one))]


_TODAY = re.compile(r"today|tonight|now|this (?:morning|afternoon|evening)")


def _without_today_in_passing(text: str, dates: list[Dates], leg: Leg) -> list[Dates]:
    """'No training today, flying to Bergen tomorrow': today is said of something else."""
    if len(dates) < 2:
        return dates
    if any(one.last or one.opens for one in dates):
        return [one for one in dates if not _TODAY.fullmatch(text[one.at : one.end])]
    return [one for one in dates if not _TODAY.fullmatch(text[one.at : one.end]) or _goes_in(text, one, leg)]


def _goes_in(text: str, one: Dates, leg: Leg) -> bool:
    """Whether the clause of a date names the place, or travels."""
    clause = _clause_of(text, one)
    start = text.index(clause)
    return start <= leg.at < start + len(clause) or bool(TRAVELS.search(clause))


def _clause_of(text: str, one: Dates) -> str:
    start = max(text.rfind(",", 0, one.at), text.rfind(" .", 0, one.at)) + 1
    stops = [at for at in (text.find(",", one.end), text.find(" .", one.end)) if at >= 0]
    return text[start : min(stops, default=len(text))]


def _day(one: Dates) -> dt.date:
    return one.first or dt.date.max


_MORE_OR_LESS = re.compile(
    r"\b(?:travel\w*|fl(?:y|ies|ying)|driv\w+|arriv\w+|leav\w+|going|out|in|up|down|there) (?:\w+ ){0,2}(?:the )?(?:day|night|evening|morning) (?:before|after)(?! tomorrow)\b|"
    r"\b(?:might|may|could) (?:extend|stay|run|go on|be longer)\b|\b(?:for )?the (?:whole|entire|full) month(?! of)\b"
)
"""'Travelling the day before', 'might extend': the dates named are not all."""


def _is_muddled(text: str, dates: list[Dates]) -> bool:
    """Whether nobody can put the dates in order: two stretches, a return within one, a leaving after days spent there."""
    singles, leaves = _days_of(text, dates)
    returns = any(one.first and _is_return(text, one) for one in dates)
    return (
        sum(one.last is not None for one in dates) > 1
        or any(one.last and _is_return(text, one) for one in dates)
        or (len(leaves) == 1 and returns and any(_day(one) < _day(leaves[0]) for one in singles))
        or any(one.doubtful for one in dates)
        or bool(_MORE_OR_LESS.search(text))
        or any(_day(single) > _day(one) for single in singles for one in dates if one.last)
    )


_WITHIN_A_DAY = re.compile(
    r"\b(?:day trip|just (?:the |for )?(?:1|one|a single) day|just for the day|(?:monday|tuesday|wednesday|thursday|friday|saturday|sunday|tomorrow) only|(?:one|1|a single) day only|(?:for|just) the day|there and back|(?:back|home|return\w*)(?: \w+)? (?:the |that )?same (?:day|night|evening|afternoon)|"
    r"(?:back|home) (?:again )?(?:that|the same|in the) (?:night|evening)|(?:back|home) (?:by|at|around|before) (?:\d\d?:\d\d|midnight|dinner|tea|bedtime))\b"
)


_SETS_OUT = re.compile(
    r"\b(?:fly|flying|off|heading|headed|leaving|travelling|sailing|moving|joining|shipping out) (?:out |over |up |down |across |back )*(?:to|for)\b|\b(?:just )?(?:landed|arrived|touched down) (?:in|at)\b"
)
"""Who says when they go, and no word of coming back, is gone until they say so."""
_STILL_TO_GO = re.compile(
    r"\b(?:fly|flying|going|go|off|heading|leaving|travelling|sailing|driving|send(?:ing)? (?:me|us)) (?:over |out |down |up )?to\b"
)
"""Not there yet: a trip without a beginning does not begin today."""


def _is_there(text: str, leg: Leg) -> bool:
    return bool(
        re.search(
            r"\b(?:landed|arrived|here|now in|am in|are in|currently|staying|stuck)\b",
            text[: leg.end] + " " + text[leg.end : leg.end + 12],
        )
    )


def _joined(legs: list[Leg], text: str) -> list[Leg]:
    """A leg without a beginning starts the day after the one before; one without an end, the day before the next."""
    if len(legs) < 2:
        return legs
    joined = legs[:1]
    for leg in legs[1:]:
        before = joined[-1]
        is_following = leg.starts is None or (
            leg.ends is not None and before.ends and leg.starts <= before.ends and "then" in text
        )
        if is_following and before.ends:
            leg = replace(leg, starts=before.ends + dt.timedelta(days=1))  # noqa: PLW2901 - the leg, completed
        elif before.ends is None and leg.starts and before.starts and leg.starts > before.starts:
            joined[-1] = replace(before, ends=leg.starts - dt.timedelta(days=1), is_open=False)
        joined.append(leg)
    return joined
