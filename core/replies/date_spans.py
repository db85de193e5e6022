"""One date or stretch of dates as it is written, and what it means against today and the date before it."""

import datetime as dt
import re
from collections.abc import Callable
from dataclasses import dataclass

from core.replies.date_named import (
    DAY,
    MONTH,
    date_named,
    first_of_month,
    last_of_month,
    order_of,
)

TH = r"(?:st|nd|rd|th)"
_WITH_DAY = rf"(?:(?:on |the )*{DAY} ?,? ?(?:the )?)?"
"""'Friday the 4th', 'Sat 5/12': the weekday belongs to the date, which has to agree with it."""
_UNTIL = r"(?:to|until|-|through)"
_ATOM = (
    r"(?:(?P<iso{n}>\d{{4}}_\d\d_\d\d)"
    rf"|(?P<dm{{n}}>{_WITH_DAY}(?:the )?\d{{{{1,2}}}}{TH}?(?: of)? {MONTH}\b(?: 20\d\d)?)|"
    rf"(?P<md{{n}}>{_WITH_DAY}{MONTH} (?:the )?\d{{{{1,2}}}}{TH}?(?! ?(?:days|weeks|nights|min|"
    rf"hour))\b(?: 20\d\d)?)"
    rf"|(?P<num{{n}}>{_WITH_DAY}\d{{{{1,2}}}}[/.]\d{{{{1,2}}}}(?:[/.](?:20)?\d\d)?(?![\d/.]))"
    rf"|(?P<th{{n}}>{_WITH_DAY}(?:the )?\d{{{{1,2}}}}{TH}\b)"
    rf"|(?P<bare{{n}}>(?:{DAY} (?=\d{{{{1,2}}}} {_UNTIL} (?:{DAY} )?(?:the )?\d{{{{1,2}}}}(?:{TH}| {MONTH}\b)))?"
    r"(?:the )?\d{{1,2}}\b(?!:|\.\d|/|h\d| ?(?:min|hour|days?|weeks?|nights?|months?|km|"
    r"kg|shows?|people)))"
    rf"|(?P<day{{n}}>(?:a week on |the |next |this |coming |on |following )*{DAY}\b(?: week\b|"
    r" after next\b| after\b(?= ?(?:$|[,.]))| after that\b)?)"
    r"|(?P<near{n}>today|tonight|now(?! (?:starts?|begins?|it|moved|from|on|in|only|the \d|\d|monday|tuesday|wednesday|thursday|friday|saturday|sunday))|this (?:morning|afternoon|evening)|the day after tomorrow|"
    r"day after tomorrow|tomorrow|new years? eve|new years? day|christmas eve|christmas day|christmas|"
    r"boxing day))"
)


def _atom(number: int) -> str:
    return _ATOM.format(n=number)


_TO = r"(?:to|until|-|through|thru|and|,? ?until|up to)(?: the| and including)?"
SPAN = re.compile(
    rf"(?P<week>(?:the )?(?<!\ba )(?<!\bone )(?<!\b1 )week (?:of|from|starting|beginning|commencing) (?:the |monday )?{_atom(3)})|"
    rf"(?:\b(?:until|through|to) (?P<month_end>(?:the )?(?:end of (?:the|this) month|month end)))|(?P<weekdays>\b(?:from )?{DAY} \d{{1,2}} (?:to|until|-|through) {DAY} \d{{1,2}}\b(?!:|\.\d|/|{TH}| ?(?:min|hour|{MONTH})))|"
    rf"(?P<cue>\b(?:from|between|starting|"
    rf"since) (?:the )?(?:on )?)?(?<![\w.:/]){_atom(1)} {_TO} (?P<second>{_atom(2)})"
    rf"|(?P<month>\b(?:for |during |over )?(?:all(?: through| of)?|(?:the )?(?:whole|entire|full)(?: month)?(?: of)?|the month of|throughout) {MONTH}\b"
    rf"(?: 20\d\d)?(?! (?:\d|and|to|until|-|through)))|"
    rf"(?P<within>\b(?:in|during|sometime in|some time in|early|mid|late|(?:the )?(?:beginning|start|middle|end) of|(?:most|much|part) of|(?:the )?(?:first|second|third|last|1st|2nd|3rd|4th) (?:week|half|weekend) (?:of|in)) {MONTH}\b(?! (?:the )?\d)|(?<![\w] ){MONTH}(?= (?:in|at)\b))"
    rf"|\b(?P<sometime>(?:some ?time|at some point)(?: (?:in|next|this|the|early|late|around|during))* (?:{MONTH}|month|year|spring|summer|autumn|winter)|"
    r"(?:early |late |later |sometime )?next year|shortly|(?:the )?(?:end|middle|start|beginning) of (?:the|next|this) month|(?:in|over) (?:the )?(?:spring|summer|autumn|winter)|(?:over|around|at) (?:easter|christmas))\b"
    r"|\b(?P<named>(?:for )?(?:the )?rest of (?:the|this) (?:week|month|year)|(?:(?:all|the whole|whole|during|for|over) )?(?:of )?(?:(?:not next week ,? ?(?:but )?)?the week after(?: next)?(?! (?:that|the|my|this))|the week after next|(?<!not )next week(?! ?end)|"
    r"this week(?! ?end)|(?:whole|full|entire) week|the week(?! ?end)|(?:this|the|next|coming|for the) weekend|next month|"
    r"all week))|\b(?:for|the|another) (?:the )?(?P<next>next )?(?:about |around )?(?P<count>\d{1,3}|a|"
    r"an|couple of|a couple of|the)? ?(?P<unit>days?|nights?|weeks?|fortnight|months?)\b(?! (?:after|before))|"
    rf"(?<![\w.])(?!(?:a|one|1) (?:week|fortnight) from (?:the |this |next )?(?:{DAY}|tomorrow))(?P<count2>\d{{1,3}}|one|a) (?P<unit2>nights?|days?|weeks?|fortnight|months?)(?= (?:in|at|of|trip|from|starting)\b)|"
    r"(?:(?<=, )|(?<=staying )|(?<=stay ))(?P<count3>\d{1,2}|a|one) (?P<unit3>nights?|days?|weeks?|fortnight|months?)(?= ?(?:$|[,.]|on\b|away\b|there\b|offshore\b|at sea\b))|"
    r"(?P<both>\btomorrow and the (?:day after|next day|following day))|(?P<start>\b(?:from|starting|as of|since) (?:the )?)?(?<![\w.:/])"
    + _atom(4)
)
_ORDINAL = re.compile(_atom(4))
_COMES_BACK = re.compile(r"\b(?:return|returning|back|home|until|till)(?: on)? $")
_UNIT_DAYS = {"day": 1, "night": 1, "week": 7, "fortnight": 14, "month": 30}
_COUNTS = {"a": 1, "an": 1, "one": 1, "couple of": 2, "a couple of": 2, "the": 1, None: 1, "": 1}


@dataclass(frozen=True, slots=True, kw_only=True)
class Dates:
    """A date or a stretch of dates in a text, from ``at`` to ``end``.

    ``first`` and ``last`` are inclusive; ``length`` counts days where only that was said; ``nights`` of them are nights;
    ``opens`` where only a beginning was named ('from Monday'); ``vague`` is next month; ``doubtful`` must be asked back.
    """

    at: int
    end: int
    first: dt.date | None = None
    last: dt.date | None = None
    length: int | None = None
    nights: bool = False
    opens: bool = False
    vague: bool = False
    doubtful: bool = False
    from_today: bool = False


def dates_in(found: re.Match[str], today: dt.date, base: dt.date | None, order: str) -> Dates | None:
    """What one match of ``SPAN`` means, read against today and the date before it."""
    readers = (reader for groups, reader in _READERS if any(found[group] for group in groups))
    return next(readers, _single)(found, today, base, order)


def _whole_month(found: re.Match[str], today: dt.date, _base: dt.date | None, _order: str) -> Dates:
    begins = first_of_month(found["month"], today)
    return Dates(at=found.start(), end=found.end(), first=max(begins, today), last=last_of_month(begins))


def _tomorrow_and_next(found: re.Match[str], today: dt.date, _base: dt.date | None, _order: str) -> Dates:
    tomorrow = today + dt.timedelta(days=1)
    return Dates(at=found.start(), end=found.end(), first=tomorrow, last=tomorrow + dt.timedelta(days=1))


def _end_of_month(found: re.Match[str], today: dt.date, base: dt.date | None, _order: str) -> Dates:
    return Dates(
        at=found.start("month_end"), end=found.end(), first=last_of_month((base or today).replace(day=1))
    )


def _single(found: re.Match[str], today: dt.date, base: dt.date | None, order: str) -> Dates | None:
    returns = _COMES_BACK.search(found.string, 0, found.start())
    named = returns or _GOES_THEN.match(found.string, found.end())
    if found["bare4"] and not (found["bare4"].startswith("the ") and named):
        return None
    first = date_named(found, 4, today, base, order)
    if (found["start"] or "").startswith("since"):
        first = _past(first, found["day4"], today)
    return Dates(
        at=found.start(), end=found.end(), first=first, opens=bool(found["start"]), doubtful=first is None
    )


_GOES_THEN = re.compile(r" ?,? ?(?:i|we) (?:will |shall )?(?:travel|fly|go|leave|come|return|am|are)\b")
"""'The 20 I travel to Bogota'."""
_LONGEST_TRIP = 200
"""Days; a longer stretch was rather misread."""
_ACROSS_A_MONTH = 14
"""'29 to 2 February' crosses into the next month; '7 - 3 December' is a slip."""
_ENDS_THERE = re.compile(r" ?(?:$|[,.]|and\b|then\b)")


def _range(found: re.Match[str], today: dt.date, base: dt.date | None, order: str) -> Dates | None:
    if found["bare1"] and not (found["dm2"] or found["th2"]):
        if not (base and found["bare2"] and _ENDS_THERE.match(found.string, found.end())):
            return None
        if int(re.sub(r"\D", "", found["bare1"])) < base.day:
            return None  # '1 - 5 Feb , then 6 - 8' goes on in the same month
    first = date_named(found, 1, today, base, order, month_of=_month_of_start(found, today))
    if (found["cue"] or "").startswith("since"):
        first = _past(first, found["day1"], today)
    order = order or order_of(found["num1"], first)
    last = date_named(found, 2, today, first or base, order, month_of=found["md1"] or found["dm1"], ends=True)
    if _is_running(found, today, base):
        return Dates(at=found.start(), end=found.end(), doubtful=True)
    apart = (last - first).days if first and last else 0
    if not 0 <= apart <= _LONGEST_TRIP and (found["th2"] or found["bare2"]):
        last = date_named(found, 2, today, first, order, ends=True)
    if first and first == last and found["day1"] and found["day2"]:
        last = first + dt.timedelta(days=7)  # 'Sunday to Sunday'
    if first is None or last is None or last < first or (last - first).days > _LONGEST_TRIP:
        return Dates(at=found.start(), end=found.end(), doubtful=True)
    return Dates(at=found.start(), end=found.end(), first=first, last=last)


def _is_running(found: re.Match[str], today: dt.date, base: dt.date | None) -> bool:
    """'12th to 16th', said on the 13th, is of this month, or of the next."""
    if base or not (found["th1"] or found["bare1"]) or not (found["th2"] or found["bare2"]):
        return False
    if re.search(rf"\b(?:{MONTH}|next month)\b", found.string):
        return False
    start, end = (int(re.sub(r"\D", "", found[f"th{n}"] or found[f"bare{n}"])) for n in (1, 2))
    return start < today.day <= end


def _month_of_start(found: re.Match[str], today: dt.date) -> str | None:
    """'29 to 2 February' begins in January."""
    if not found["dm2"] or not (found["bare1"] or found["th1"]):
        return found["dm2"]
    start, end = (int(re.sub(r"\D", "", text)[:2]) for text in (found["bare1"] or found["th1"], found["dm2"]))
    if start - end < _ACROSS_A_MONTH:
        return found["dm2"]
    return f"{first_of_month(found['dm2'], today) - dt.timedelta(days=1):%B}".casefold()


def _past(date: dt.date | None, weekday: str | None, today: dt.date) -> dt.date | None:
    """'Since Monday' is the last Monday; another date that lies ahead is none to be there since."""
    if date is None or date <= today:
        return date
    return date - dt.timedelta(days=7) if weekday else None


def _week_of(found: re.Match[str], today: dt.date, base: dt.date | None, order: str) -> Dates:
    day = date_named(found, 3, today, base, order)
    if day is None:
        return Dates(at=found.start(), end=found.end(), doubtful=True)
    monday = day - dt.timedelta(days=day.isoweekday() - 1)
    return Dates(at=found.start(), end=found.end(), first=monday, last=monday + dt.timedelta(days=6))


def _named(found: re.Match[str], today: dt.date, _base: dt.date | None, _order: str) -> Dates:
    """'Next week' is Monday to Sunday after this one; 'this week' begins today."""
    monday = today - dt.timedelta(days=today.isoweekday() - 1)
    words, week = found["named"], dt.timedelta(days=7)
    at, end = found.span()
    if "rest of" in words:
        return Dates(at=at, end=end, doubtful=True)
    if "month" in words:
        return Dates(at=at, end=end, vague=True)
    if "weekend" in words:
        saturday = (
            monday
            + dt.timedelta(days=5)
            + (week if "next" in words or today.isoweekday() == 7 else dt.timedelta(0))
        )
        return Dates(at=at, end=end, first=max(saturday, today), last=saturday + dt.timedelta(days=1))
    if "after" in words:
        return Dates(at=at, end=end, first=monday + 2 * week, last=monday + 2 * week + dt.timedelta(days=6))
    if "next" in words:
        return Dates(at=at, end=end, first=monday + week, last=monday + week + dt.timedelta(days=6))
    if words.endswith(("the week", "whole week", "full week", "entire week")):
        return Dates(at=at, end=end, length=7)
    return Dates(at=at, end=end, first=today, last=monday + dt.timedelta(days=6))


_SAYS_WHEN = re.compile(r" (?:i|we) ")
"""'The next week I am in Porto': seven days from now, or from Monday."""


def _with_weekdays(found: re.Match[str], today: dt.date, base: dt.date | None, order: str) -> Dates:
    """'Mon 22 to Sat 27': days of the month, whose weekdays have to agree."""
    days = [_ORDINAL.search(f"{part}th") for part in re.findall(rf"{DAY} \d{{1,2}}", found["weekdays"])]
    starts = date_named(days[0], 4, today, base, order) if days[0] else None
    ends = date_named(days[1], 4, today, starts, order, ends=True) if starts is not None and days[1] else None
    first = starts if ends else None
    return Dates(at=found.start(), end=found.end(), first=first, last=ends, doubtful=ends is None)


def _length(found: re.Match[str], _today: dt.date, _base: dt.date | None, _order: str) -> Dates:
    unit = (found["unit"] or found["unit2"] or found["unit3"]).rstrip("s")
    if found.group() == "the next week" and _SAYS_WHEN.match(found.string, found.end()):
        return Dates(at=found.start(), end=found.end(), doubtful=True)
    said = found["count"] if found["unit"] else found["count2"] or found["count3"]
    count = int(said) if said and said.isdigit() else _COUNTS.get(said, 1)
    from_today = bool(found["unit"] and found["next"])
    return Dates(
        at=found.start(),
        end=found.end(),
        length=count * _UNIT_DAYS[unit],
        nights=unit == "night",
        from_today=from_today,
    )


_Reader = Callable[[re.Match[str], dt.date, dt.date | None, str], Dates | None]
_READERS: tuple[tuple[tuple[str, ...], _Reader], ...] = (
    (("named",), _named),
    (("month",), _whole_month),
    (("both",), _tomorrow_and_next),
    (("month_end",), _end_of_month),
    (("weekdays",), _with_weekdays),
    (("unit", "unit2", "unit3"), _length),
    (("week",), _week_of),
    (("second",), _range),
)
"""Which group of ``SPAN`` is read by what."""
