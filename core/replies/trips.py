"""Trips in words: where, from when to when, called off, or back on another day than planned.

A trip is only entered when a place and its dates are beyond doubt; else the missing part is asked. Places are looked up offline.
"""

import datetime as dt
import re
from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import partial

from core.calendar.countries import country_code
from core.replies.called_off import called_off
from core.replies.dates import Dates, find_dates
from core.replies.legs import PREPOSITION, TRAVELS, Leg, find_legs
from core.replies.meaning import Return, Trip, TripDoubt, TripQuestion, TripSaid

_RETURNS = re.compile(
    r"\b(?:back|home|return|returning|returns|come back|coming back|fly(?:ing)? back|until|till|"
    r"through|ending|ends|end on|run until|leave again|stay(?:ing)? until)\b(?: (?:home|here|at home|"
    r"again|on|by|the|in the|until|in|already|already on|at|to base|ashore|from there|from it|around|"
    r"there)\b)* ?,? ?(?:on )?(?:the )?$"
)
_BACK = re.compile(
    r"\b(?:(?:come|coming|be|am|are|get|getting|fly|flying|flight|head|heading|headed|travel\w*|drive|"
    r"driving|sail\w*) )?(?:back(?! (?:pain|is|was|hurts|ache|squats?|from the gym|in the gym|"
    r"at the gym|to (?:normal|training|the gym|it|back|sleep|work)))|home|return(?:ing)?)\b"
)
_COMES_BACK = re.compile(
    r"\b(?:home|early|earlier|sooner|already|fly|flying|flight|return\w*|coming|come|ashore|longer|"
    r"extended|headed|heading)\b"
)
_LONGER = re.compile(r"\blonger\b|\bextra (?:day|days|night|nights)\b")


_STAYS = re.compile(r"\b(?:stay|staying|here|stuck|extended|extending)(?: \w+){0,2} (?:until|to|till)\b")
_BODY = re.compile(r"\b(?:my|lower|upper|bad|sore) back\b|\bback (?:is|was|hurts|pain)\b")


_HERE = re.compile(
    r"\b(?:landed|arrived|here|now in|am in|are in|just got (?:to|in)|currently|staying|stuck in|"
    r"at the moment|in)\b"
)
_OPEN = re.compile(
    r"\b(?:open end(?:ed)?|no end date|no end (?:yet|in sight)|no return(?: date| flight| ticket)?(?: yet)?(?: booked| fixed| planned| set)?|one way(?: ticket| only)?|until further notice|indefinitely|(?:do not|not) (?:know|sure|"
    r"clear) (?:yet )?(?:when|how long|until when|for how long)|no idea (?:when|how long|for how long|"
    r"until when)|for now|for the foreseeable|who knows (?:when|how long)|not sure (?:yet )?(?:when|"
    r"how long|until)|end (?:date )?(?:is )?(?:open|unknown|not known|tbc|tba)|"
    r"return (?:date )?(?:is )?(?:open|unknown|tbc|tba)|until (?:i|they|we) (?:know|say|hear|finish|"
    r"are done)|tbc|tba)\b"
)
_AWAY_SOON = re.compile(
    r"\b(?:travelling|traveling|travel|going away|be away|am away|are away|going abroad|on the road|"
    r"on tour|going on (?:a |another |my |our )?(?:trip|tour|holiday|vacation|cruise|survey)|on (?:a |"
    r"another )?(?:work |business )?trip|trip coming up|away|abroad|at sea|offshore|on (?:a |the )?(?:boat|"
    r"ship|rig)|(?:we|i|am|are) (?:fly|flying|leave|leaving)(?: out| off)?(?= (?:on )?#|$| ,)|fly(?:ing)? out|where they send (?:me|us)|out of (?:town|the country|station|the office)|overseas|interstate|on holiday|on vacation|on survey)\b"
)
_GOES_OUT = re.compile(
    r"\b(?:fly|flying|go|going|head|heading|leave|leaving|sail|sailing|set|setting|off) (?:out|off|away|on)\b|"
    r"\b(?:leaves|departs?|sails|leaving (?!again)|leave (?!again|here|early))(?= ?\S)"
)
"""Both the way out and the way back are told."""
_FUTURE = re.compile(
    r"\b(?:soon|again|next|coming up|will be|going (?:away|on)|abroad|from|until|for|tomorrow)\b"
)


_Draft = tuple[str, list[Leg], list[Dates]]
"""A text with the places and the dates in it."""


def read_trip(texts: Sequence[str], typed: str, today: dt.date, *, busy: bool, zone: str) -> TripSaid | None:
    """What the words say of a trip, or None.

    ``texts`` are the client's own words, unmended, each correcting the one before; ``busy`` where the message answers about a
    session, so that only a full trip is read; of towns of one name, one in the client's own ``zone`` is likelier.
    """
    draft = partial(_draft, typed=typed, today=today, zone=zone)
    return _combined(list(map(draft, texts)), today, draft, busy=busy)


def _draft(text: str, typed: str, today: dt.date, zone: str) -> _Draft:
    dates = find_dates(text, today)
    return text, _once_each(list(find_legs(text, typed, dates, zone)), dates), dates


def _once_each(legs: list[Leg], dates: list[Dates]) -> list[Leg]:
    """Without places that are only announced ('Tokyo and Osaka: Tokyo 1 - 3 Dec, Osaka 4 - 6 Dec')."""
    names = [leg.name for leg in legs]
    once = [leg for number, leg in enumerate(legs) if leg.name not in names[number + 1 :] or not dates]
    return [leg for leg in once if not (leg.by_chance and len(once) > 1)]


def _names_another_place(before: _Draft, after: _Draft) -> bool:
    """'Flying to Turin tomorrow, no wait, Milan, back Sunday': the place is corrected, the start still holds."""
    text, legs, dates = after
    starts_anew = any(one.last or not _RETURNS.search(text[: one.at]) for one in dates)
    return (
        len(legs) == len(before[1]) == 1
        and bool(before[2])
        and not starts_anew
        and legs[0].at <= _PREPOSITION_AT_MOST
    )


_PREPOSITION_AT_MOST = 6


_Drafter = Callable[[str], _Draft]


def _combined(drafts: Sequence[_Draft], today: dt.date, draft: _Drafter, *, busy: bool) -> TripSaid | None:
    """The last word wins, place and dates apart: 'Lisbon 3 - 7 Dec, no wait, 4 - 8 Dec'."""
    text, legs, dates = drafts[-1]
    for before in reversed(drafts[:-1]):
        if _names_another_place(before, (text, legs, dates)):
            old, new = before[1][0], legs[0]
            text = f"{before[0][: old.at]}{new.name}{before[0][old.end :]} {text[new.end :].lstrip()}"
            text, legs, dates = draft(text)
        elif not legs and dates and before[1]:
            shift = len(before[0]) + 2
            moved = [replace(one, at=one.at + shift, end=one.end + shift) for one in dates]
            text, legs, dates = f"{before[0]} , {text}", before[1], moved
        elif not legs and not dates:
            text, legs, dates = before
    return called_off(text, legs, busy=busy) or _meaning(text, legs, dates, today, busy=busy)


def _meaning(
    text: str, legs: list[Leg], dates: list[Dates], today: dt.date, *, busy: bool
) -> TripSaid | None:
    if _BODY.search(text) and not legs:
        return None
    coming_back = _return(text, legs, dates, today, busy=busy)
    if coming_back:
        return coming_back
    if not legs:
        return None if busy else _without_place(text, dates, today)
    dated = _dated(text, legs, dates, today)
    return _asked_or_entered(text, dated, dates, busy=busy)


_WAS_THERE = re.compile(
    r"\b(?:was|were|had been|came back|just back|got back|had (?:a|an|\d+) (?:\w+ )?(?:week|day|night|time|show)s?) (?:in|from|at) $"
)
"""A trip that is told of, not announced."""


_TENTATIVE = re.compile(
    r"\bif (?:we|i|they|it|all|the \w+) (?:get|gets|win|wins|land|go|goes|works?|is confirmed)\b|\b(?:maybe|perhaps|possibly|thinking (?:of|about)|"
    r"might (?:be|go|fly|have|get|travel|end up))\b"
)
"""No trip yet."""
_DATES_TO_COME = re.compile(
    r"\bdates? (?:is |are |still |yet |will )*(?:to (?:be|come|follow)|tbc|tba|tbd|not|unknown|unclear|pending|open|follow)\b|\bno (?:exact |fixed )?dates?\b"
)
_MOVED = re.compile(
    r"\b(?:moved|moves|shifted|pushed|brought|changed|postponed|delayed)\b(?: \w+){0,2} from\b"
)
"""'Moved from the 3rd to the 10th' is no stretch from the one to the other."""


def _asked_or_entered(text: str, legs: list[Leg], dates: list[Dates], *, busy: bool) -> TripSaid | None:
    if all(_WAS_THERE.search(text[: leg.at]) for leg in legs) or _TENTATIVE.search(text[: legs[0].at]):
        return None
    first = legs[0]
    travels = bool(TRAVELS.search(text) or _DATES_TO_COME.search(text))
    if not dates and (busy or not travels):
        return None
    if any(leg.doubtful for leg in legs) or _MOVED.search(text):
        return _question(TripDoubt.WHICH_DATE, first)
    if any(leg.places or country_code(leg.name) for leg in legs if not leg.found):
        return _question(TripDoubt.WHICH_PLACE, first) if dates else _question(TripDoubt.BOTH, first)
    unplaced = any(leg.found is None for leg in legs)
    undated = any(leg.starts is None or (leg.ends is None and not leg.is_open) for leg in legs)
    if unplaced:
        return _question(TripDoubt.BOTH if undated else TripDoubt.PLACE, first)
    if undated:
        return _question(TripDoubt.DATES, first)
    trips = [_trip(leg) for leg in legs]
    return replace(trips[0], then=tuple(trips[1:]))


def _question(about: TripDoubt, leg: Leg) -> TripQuestion:
    return TripQuestion(about=about, places=leg.places, starts=leg.starts, ends=leg.ends)


def _trip(leg: Leg) -> Trip:
    place = leg.found
    if place is None or leg.starts is None:
        raise ValueError("only a leg with a place and a date is a trip")
    return Trip(place=place.name, country=place.country, zone=place.zone, starts=leg.starts, ends=leg.ends)


def _without_place(text: str, dates: list[Dates], today: dt.date) -> TripQuestion | None:
    """Away, but where? Only what lies ahead is asked about."""
    if not _AWAY_SOON.search(text) or re.search(r"\b(?:was|were|been|had)\b", text):
        return None
    ahead = [
        one
        for one in dates
        if one.vague or one.length or one.doubtful or (one.last or one.first or today) > today
    ]
    if not ahead:
        return TripQuestion(about=TripDoubt.BOTH) if _FUTURE.search(text) and not dates else None
    certain = next((one for one in ahead if one.first), None)
    if certain is None:
        return TripQuestion(about=TripDoubt.BOTH)
    return TripQuestion(about=TripDoubt.PLACE, starts=certain.first, ends=certain.last)


def _return(text: str, legs: list[Leg], dates: list[Dates], today: dt.date, *, busy: bool) -> Return | None:
    """Home on another day than planned, or staying on."""
    if _GOES_OUT.search(text) and sum(one.first is not None for one in dates) > 1:
        return None
    back = _BACK.search(text) or (_STAYS.search(text) if not legs else None)
    if not back or (any(not leg.returns for leg in legs) and not _LONGER.search(text)):
        return None
    if re.match(r"\s*(?:at|by|before) \S*\d", text[back.end() :]) and not _COMES_BACK.search(text):
        return None
    if busy and not _COMES_BACK.search(text):
        return None
    if sum(one.first is not None for one in dates) > 1 and not _CHANGED.search(text):
        return None
    after = [one for one in dates if one.first and not one.last and one.end > back.start()]
    if after and after[0].first:
        return Return(after[0].first)
    if (
        re.search(
            r"\b(?:am|are|is|got|just|safely|finally) (?:back|home)(?: home| now| again| early| already|$)|"
            r" home now\b",
            text,
        )
        and not dates
    ):
        return Return(today)
    return None


_CHANGED = re.compile(
    r"\b(?:instead|not|rather|earlier|early|later|longer|sooner|than|moved|now|was|were|changed|extended|already|extra|delayed)\b"
)


def _dated(text: str, legs: list[Leg], dates: list[Dates], today: dt.date) -> list[Leg]:
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
    looks_back = one.length is not None or bool(_RETURNS.search(text[: one.at]))
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
    first = leg.number == 0
    length: Dates | None = None
    leaves = [one for one in dates if one.first and not one.last and _DEPARTS.search(text[: one.at])]
    singles = [one for one in dates if one.first and not one.last and not _RETURNS.search(text[: one.at])]
    if (
        len(leaves) == 1
        and len(singles) > 1
        and leaves[0].first == min(one.first for one in singles if one.first)
    ):
        dates = [one for one in dates if one is leaves[0] or one not in singles]
    same_name = False  # 'flying Tuesday, back Tuesday' is a week, or a day
    is_open = bool(_OPEN.search(text))
    for one in dates:
        until = bool(_RETURNS.search(text[: one.at]))
        if one.length:
            length = one
        elif one.last:
            starts, ends = starts or one.first, one.last
        elif one.first and (until or (starts and not ends)):
            ends = one.first
            same_name = same_name or (
                starts == ends and text[one.at : one.end].endswith("day") and not _WITHIN_A_DAY.search(text)
            )
        elif one.first:
            starts = one.first
            is_open = is_open or one.opens
    if length and length.length and not ends:
        starts = starts or (today if length.from_today or _is_there(text, leg) else None)
        ends = starts + dt.timedelta(days=length.length - (0 if length.nights else 1)) if starts else None
    if starts is None and (ends or is_open) and (_is_there(text, leg) or ends):
        starts = (
            today
            if (ends and first and not _STILL_TO_GO.search(text))
            or re.search(r"\b(?:landed|arrived|here|am in|are in|now in)\b", text)
            else None
        )
    if ends is None and starts and _WITHIN_A_DAY.search(text):
        ends = starts
    stretches = sum(one.last is not None for one in dates)
    doubtful = (
        stretches > 1
        or same_name
        or any(one.doubtful for one in dates)
        or bool(starts and ends and ends < starts)
    )
    return replace(leg, starts=starts, ends=ends, is_open=is_open and ends is None, doubtful=doubtful)


_WITHIN_A_DAY = re.compile(
    r"\b(?:day trip|(?:for|just) the day|there and back|(?:back|home|return\w*)(?: \w+)? (?:the |that )?same (?:day|night|evening|afternoon)|"
    r"(?:back|home) (?:again )?(?:that|the same|in the) (?:night|evening)|(?:back|home) (?:by|at|around|before) (?:\d\d?:\d\d|midnight|dinner|tea|bedtime))\b"
)
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


def about_trip(clause: str, today: dt.date, *, after_so: bool) -> bool:
    """Whether a clause of a message with a trip speaks of it, so that its days are no training days."""
    if after_so:
        return (
            bool(PREPOSITION.search(clause + " "))
            and bool(find_dates(clause, today))
            and bool(re.search(r"\b(?:in|to|from)\b", clause))
        )
    return bool(
        find_dates(clause, today) or TRAVELS.search(clause) or _BACK.search(clause) or _OPEN.search(clause)
    )
