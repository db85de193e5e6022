"""Times of day in plain words.

Wording has made one word of most of them: t22:30 is sure, c10:30 may be morning or evening. A bare 'at 7' is 07:00.
"""

import datetime as dt
import re

TIME = r"(?:[tc]\d{1,2}:\d\d|\d{1,2}:\d\d|\d{1,2}h\d\d|\d{1,2}\.\d\d|\d{1,2})"
_SURE = re.compile(r"(?<![\d.:/])(?:t(\d\d):(\d\d)|c(\d{1,2}):(\d\d)|(\d{1,2}):(\d\d))(?![\d:])")
_AFTER_AT = re.compile(
    r"\b(?:at|by|around|about|from|@|for) (?:about |around |"
    r"roughly )?(\d{1,2})(?:[.h](\d\d))?(?: o'?clock|oclock)?(?![\d:./])(?! (?:min|hour|km|kg|reps|"
    r"sets|x|days?|weeks?|more|sessions?|percent|out|rounds|-|next week|this week|per week|a week)\b)"
)
_TONIGHT = re.compile(r"(?<![\d.:/])(\d{1,2}) (?=tonight|this evening|tomorrow (?:morning|evening|night))")
_POINT = re.compile(r"(?<![\d.:/])(\d{1,2})\.([0-5]\d)(?![\d.])(?! ?(?:min|hour|km|kg|miles)\b)")
_EVENING = re.compile(r"\b(?:tonight|evening|night|afternoon|after (?:the )?(?:show|dinner|work))\b")


def time_of_day(text: str) -> dt.time | None:
    """The last time that the words name, or None."""
    times = times_of_day(text)
    return times[-1] if times else None


def times_of_day(text: str) -> list[dt.time]:
    """The times that the words name, each once, in their order."""
    for pattern in (_SURE, _POINT, _AFTER_AT, _TONIGHT):
        times = (_time(found, text) for found in pattern.finditer(text))
        said = list(dict.fromkeys(time for time in times if time is not None))
        if said:
            return said
    return []


_NOT_A_PLAN = re.compile(
    r"\b(?:since|until|past|till|after|before|was at|were at|up at|woke at|finished at|ended at|ran to|not|(?:planned|meant|supposed|(?:was|were) going|originally|wanted)(?: (?!but|so|then|now)\w+){0,5}(?: (?:at|for))?) $"
)


def _time(found: re.Match[str], text: str) -> dt.time | None:
    if _NOT_A_PLAN.search(text[: found.start()]):
        return None
    hour, minute = ([int(part) for part in found.groups() if part is not None] + [0])[:2]
    if not found.group().startswith("t") and 1 <= hour < 12 and _EVENING.search(text):
        hour += 12
    return dt.time(hour % 24, minute) if hour <= 24 and minute < 60 else None


def minutes_of(time: str) -> tuple[int, bool] | None:
    """Minutes after midnight, and whether it may as well be twelve hours later; None if there is no such time."""
    sure = time.startswith("t")
    hour, _, minute = re.sub(r"[:.h]", ":", time.lstrip("tc")).partition(":")
    if int(hour) > 24 or int(minute or 0) >= 60:
        return None
    two_ways = not sure and 1 <= int(hour) <= 12 and not hour.startswith("0")
    return int(hour) % 24 * 60 + int(minute or 0), two_ways
