"""Which days a reply tells of, and how each ended."""

import datetime as dt

import pytest

from core.replies import Asked, understand
from core.replies.meaning import Said
from core.replies.session_days import session_days

THURSDAY = dt.datetime(2026, 11, 26, 12, tzinfo=dt.UTC)


def read(piece: str) -> Said | None:
    return understand(piece, asked=Asked.SESSION, now=THURSDAY, zone="Europe/London").outcome


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("done", ""),
        ("Tuesday done", "24 done"),
        ("tue: done", "24 done"),
        ("trained yesterday", "25 done"),
        ("done Monday and Tuesday", "23 done, 24 done"),
        ("did both Mon and Wed, missed Tuesday", "23 done, 24 missed, 25 done"),
        ("did Monday but skipped Tuesday", "23 done, 24 missed"),
        ("did Monday and missed Wednesday", "23 done, 25 missed"),
        ("I trained Monday, Tuesday and Wednesday", "23 done, 24 done, 25 done"),
        ("Monday, Tuesday done", "23 done, 24 done"),
        ("only managed 10 minutes on Monday", "23 short"),
        ("did Thursday", "26 done"),  # today
        ("did Friday", "20 done"),  # the last one: nobody has trained on a day to come
        ("did yesterday and today", "25 done, 26 done"),
        ("trained today and yesterday", "25 done, 26 done"),
        ("missed Monday, did today", "23 missed, 26 done"),
        ("no training today, did it yesterday", "25 done, 26 missed"),
        ("did Monday's session today", "23 done"),
        # no day of a session that is over
        ("can't Friday", ""),
        ("done, moving the next one to Friday", ""),
        ("done, will do Saturday too", ""),
        ("slept badly on Monday", ""),
        ("done today", ""),
        ("did today, slept 7", ""),
        ("done, then I sat in the sun", ""),
        ("Friday instead please", ""),
        ("", ""),
    ],
)
def test_the_days_of_sessions_that_are_over(text: str, told: str) -> None:
    found = session_days(text, THURSDAY.date(), read)
    assert ", ".join(f"{day:%d} {said.value}" for day, said in found) == told
