"""Times of day in plain words.

Wording has made one word of most of them: t22:30 is sure, c10:30 may be morning or evening. A bare 'at 7' is 07:00.
"""

import datetime as dt
import re

TIME = r"(?:[tc]\d{1,2}:\d\d|\d{1,2}:\d\d|\d{1,2}h\d\d|\d{1,2}\.\d\d|\d{1,2})"
_SURE = re.compile(r"(?<![\d.:/])(?:t(\d\d):(\d\d)|c(\d{1,2}):(\d\d)|(\d{1,2}):(\d\d))(?![\d:])")
_AFTER_AT = re.compile(
    r"\b(?:at|by|around|about|from|@|for) (?:about |around |"
    r"roughly )?(\d{1,2})(?:[.h](\d\d))?(?: o'?clock|oclock)?"
    r"(?![\d:./])(?! (?:min|hour|km|kg|reps|sets|x|days?|weeks?|more|sessions?|percent|out|rounds|-)\b)"
)
_EVENING = re.compile(r"\b(?:tonight|evening|night|afternoon|after (?:the )?(?:show|dinner|work))\b")


def time_of_day(text: str) -> dt.time | None:
    """The last time that the words name, or None."""
    sure = list(_SURE.finditer(text))
    bare = list(_AFTER_AT.finditer(text))
    if sure:
        hour, minute = (int(part) for part in sure[-1].groups() if part is not None)
        certain = sure[-1].group().startswith("t")
    elif bare:
        hour, minute, certain = int(bare[-1][1]), int(bare[-1][2] or 0), False
    else:
        return None
    if not certain and 1 <= hour < 12 and _EVENING.search(text):
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
