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
from core.replies.date_named import DAY, MONTH
from core.replies.date_spans import TH, Dates
from core.replies.dates import INSTEAD_OF, find_dates
from core.replies.homecoming import BACK, homecoming
from core.replies.leg_dates import OPEN, RETURNS, dated
from core.replies.legs import TRAVELS, Leg, find_legs
from core.replies.meaning import Trip, TripDoubt, TripQuestion, TripSaid
from core.replies.place_candidates import PREPOSITION

_BODY = re.compile(r"\b(?:my|lower|upper|bad|sore) back\b|\bback (?:is|was|hurts|pain)\b")


_AWAY_SOON = re.compile(
    r"\b(?:travelling|traveling|travel|going away|be away|am away|are away|going abroad|on the road|"
    r"on tour|going on (?:a |another |my |our )?(?:trip|tour|holiday|vacation|cruise|survey)|on (?:a |"
    r"another )?(?:work |business )?trip|trip coming up|away|abroad|at sea|offshore|on (?:a |the )?(?:boat|"
    r"ship|rig)|(?:we|i|am|are) (?:fly|flying|leave|leaving)(?: out| off)?(?= (?:on )?#|$| ,)|fly(?:ing)? out|where they send (?:me|us)|(?:vacation|holidays?|annual leave)(?= from| #)|not (?:here|around|at home|in town|home)|(?:i|we) (?:will |shall )?fly(?= on #| on the| \w+day)|(?:got|have|has|having) (?:a |an |another )?(?:work |business |tour )?trip|tour (?:is )?(?:back )?on again|(?:fly|travel|go) again soon|bus\w* trip|out of (?:town|the country|station|the office)|overseas|interstate|on holiday|on vacation|on survey)\b"
)


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
    sure = [leg for leg in once if leg.places and not leg.forgiven and not leg.by_chance]
    return [leg for leg in once if leg in sure or not (sure or (leg.by_chance and len(once) > 1))]


def _names_another_place(before: _Draft, after: _Draft) -> bool:
    """'Flying to Turin tomorrow, no wait, Milan, back Sunday': the place is corrected, the start still holds."""
    text, legs, dates = after
    starts_anew = any(one.last or not RETURNS.search(text[: one.at]) for one in dates)
    return (
        len(legs) == len(before[1]) == 1
        and bool(before[2])
        and not starts_anew
        and legs[0].at <= _PREPOSITION_AT_MOST
    )


_PREPOSITION_AT_MOST = 6
_LAST_DAY = re.compile(rf"(?:{DAY}|(?:the )?\d{{1,2}}{TH}?(?: (?:of )?{MONTH})?)$")


def _end_moved(before: _Draft, text: str, date: Dates) -> str:
    """'Monday to Friday, sorry, Thursday': the text with the last day of its stretch corrected; '' where that cannot be."""
    stretches = [one for one in before[2] if one.last or one.doubtful]
    said = text[date.at : date.end]
    if len(stretches) != 1 or date.last or date.length or not _LAST_DAY.fullmatch(said):
        return ""
    stretch = stretches[0]
    kept = _LAST_DAY.sub("", before[0][stretch.at : stretch.end])
    if kept.strip() in {"", "from", "the", "on"}:
        return ""
    return f"{before[0][: stretch.at]}{kept}{said} {text[date.end :].strip()}".strip()


_Drafter = Callable[[str], _Draft]


def _combined(drafts: Sequence[_Draft], today: dt.date, draft: _Drafter, *, busy: bool) -> TripSaid | None:
    """The last word wins, place and dates apart: 'Lisbon 3 - 7 Dec, no wait, 4 - 8 Dec'."""
    text, legs, dates = drafts[-1]
    for before in reversed(drafts[:-1]):
        if _names_another_place(before, (text, legs, dates)):
            old, new = before[1][0], legs[0]
            text = f"{before[0][: old.at]}{new.name}{before[0][old.end :]} {text[new.end :].lstrip()}"
            text, legs, dates = draft(text)
        elif not legs and len(dates) == 1 and before[1] and _end_moved(before, text, dates[0]):
            text, legs, dates = draft(_end_moved(before, text, dates[0]))
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
    coming_back = homecoming(text, legs, dates, today, busy=busy)
    if coming_back:
        return coming_back
    if _NOT_ME.search(text):
        return None
    if not legs:
        return None if busy else _without_place(text, dates, today)
    placed = dated(text, legs, dates, today)
    return _asked_or_entered(text, placed, dates, today, busy=busy)


_WAS_THERE = re.compile(
    r"\b(?:was|were|had been|came back|just back|got back|had (?:a|an|\d+) (?:\w+ )?(?:week|day|night|time|show)s?) (?:in|from|at) $"
)
"""A trip that is told of, not announced."""


_NOT_ME = re.compile(
    r"(?:^|[,.] ?|\bbut |\band )(?:i (?:do|am|will|shall) not(?: (?:going|joining|travelling|go|join|travel|coming|come))?|not me|without me|i (?:stay|am staying)(?: (?:home|here|put|behind|at home))?) ?(?:$|[,.]|and\b)|\bwithout me\b(?! if)"
)
"""Others go, and the client does not."""


_TENTATIVE = re.compile(
    r"\bif (?:we|i|they|it|all|my \w+|our \w+|the (?:\w+ )?\w+) (?:comes?|signs?|pays?|pans?|happens?|holds?|clears?|allows?|lets?|says?|is (?:on|signed|approved)|get|gets|win|wins|land|go|goes|works?|is confirmed)\b|\b(?:maybe|perhaps|possibly|thinking (?:of|about)|"
    r"might (?:be|go|fly|have|get|travel|end up)|(?:was|were) (?:meant|supposed|due|going|planning|hoping) to)\b"
)
"""No trip yet."""


DATES_TO_COME = re.compile(
    r"\bdates? (?:is |are |still |yet |will )*(?:to (?:be|come|follow)|tbc|tba|tbd|not|unknown|unclear|pending|open|follow)\b|\bno (?:exact |fixed )?dates?\b|"
    r"\b(?:not|nobody|no one|never) (?:\w+ ){0,2}(?:given?|told|tell|sent|confirmed|said|say|know|remember)(?: us| me)?(?: the| any)? (?:dates?|when)\b"
)


_MOVED = re.compile(
    r"\b(?:moved|moves|shifted|pushed|brought|changed|postponed|delayed)\b(?: \w+){0,2} from\b"
)
"""'Moved from the 3rd to the 10th' is no stretch from the one to the other."""


_EITHER_PLACE = re.compile(r"@ ?,? or (?:maybe |perhaps |possibly |even |else |in |to |at )*@")
"""'Cork or Galway': one of two."""


def _names_two_countries(text: str) -> bool:
    """'Perth on Wednesday. Scotland or Australia, who knows'."""
    return any(
        country_code(one) and country_code(other) for one, other in re.findall(r"\b(\w+) or (\w+)\b", text)
    )


def _named_as_places(text: str, legs: list[Leg]) -> str:
    for leg in reversed(legs):
        text = f"{text[: leg.at]}@{text[leg.end :]}"
    return text


def _is_announced(text: str, legs: list[Leg], dates: list[Dates], today: dt.date) -> bool:
    """Whether the client says that they go there, and not that they were or might have been."""
    ahead = any(
        one.first and one.first > today and re.search(r"\d|tomorrow|next", text[one.at : one.end])
        for one in dates
    )
    was_there = not ahead and all(_WAS_THERE.search(text[: leg.at]) for leg in legs)
    return not was_there and not _TENTATIVE.search(text[: legs[0].at])


def _asked_or_entered(
    text: str, legs: list[Leg], dates: list[Dates], today: dt.date, *, busy: bool
) -> TripSaid | None:
    travels = bool(TRAVELS.search(text) or DATES_TO_COME.search(text))
    if not _is_announced(text, legs, dates, today) or (not dates and (busy or not travels)):
        return None
    doubt = _doubt(text, legs, dates)
    if doubt:
        first = legs[0]
        return TripQuestion(about=doubt, places=first.places, starts=first.starts, ends=first.ends)
    trips = [_trip(leg) for leg in legs]
    return replace(trips[0], then=tuple(trips[1:]))


_DATE_LIKE = re.compile(
    rf"\bthe \d{{1,2}}{TH}?\b|\b\d{{1,2}}{TH}\b|(?<!\bno )\b{DAY}\b|"
    r"\b(?:fortnight|weeks|nights|months)\b"
)


def _has_unread_dates(text: str, dates: list[Dates]) -> bool:
    """Whether a day or a length is named that no date of the trip accounts for: then the others may be misread."""
    for one in dates:
        text = text[: one.at] + " " * (one.end - one.at) + text[one.end :]
    return bool(dates) and bool(_DATE_LIKE.search(INSTEAD_OF.sub(" ", text)))


def _doubt(text: str, legs: list[Leg], dates: list[Dates]) -> TripDoubt | None:
    """What has to be asked back, or None."""
    if _EITHER_PLACE.search(_named_as_places(text, legs)) or _names_two_countries(text):
        return TripDoubt.WHICH_PLACE
    if any(leg.doubtful for leg in legs) or _MOVED.search(text) or _has_unread_dates(text, dates):
        return TripDoubt.WHICH_DATE
    if any(leg.places or country_code(leg.name) for leg in legs if not leg.found):
        return TripDoubt.WHICH_PLACE if dates else TripDoubt.BOTH
    undated = any(leg.starts is None or (leg.ends is None and not leg.is_open) for leg in legs)
    if any(leg.found is None for leg in legs):
        return TripDoubt.BOTH if undated else TripDoubt.PLACE
    return TripDoubt.DATES if undated else None


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


def about_trip(clause: str, today: dt.date, *, after_so: bool) -> bool:
    """Whether a clause of a message with a trip speaks of it, so that its days are no training days."""
    if after_so:
        return (
            bool(PREPOSITION.search(clause + " "))
            and bool(find_dates(clause, today))
            and bool(re.search(r"\b(?:in|to|from)\b", clause))
        )
    return bool(
        find_dates(clause, today) or TRAVELS.search(clause) or BACK.search(clause) or OPEN.search(clause)
    )
