"""Floors on sentences that no rule was tuned on.

The floors hold what was counted on them last, with a little room for so small a sample, and are never looser than an aim that is met:
replies right in 82 of 100 and wrong in 1.5, red flags found or asked about in 97, harmless words alarmed in 4.5 of 100 and asked about
in 9, trips right in 82 and wrong in 5. What we aim at: replies right in 85 and wrong in under 2 of 100, red flags found or asked about
in 95, harmless words alarmed in under 2 and asked about in under 10, trips right in 80 and wrong in under 3. So too few replies are
read right, and too many harmless words alarm and too many trips are wrong.

Nothing that was misread there has been mended. Whoever mends it moves these sentences to the others, and writes new ones.
"""

from tests.core.replies.corpora import flag_verdicts, reply_verdicts, rows, trip_verdicts


def test_the_corpora_are_as_large_as_they_should_be() -> None:
    sizes = {
        name: len(rows(name, "built with")) + len(rows(name, "set aside"))
        for name in ("replies", "red_flags", "trips")
    }
    assert sizes["replies"] >= 600
    assert sizes["red_flags"] >= 300
    assert sizes["trips"] >= 120
    assert len(rows("replies", "set aside")) >= 200
    assert len(rows("red_flags", "set aside")) >= 140
    assert len(rows("trips", "set aside")) >= 60


def test_replies_set_aside_are_read_right_and_hardly_ever_wrong() -> None:
    verdicts = reply_verdicts(rows("replies", "set aside"))
    total = verdicts.total()
    assert verdicts["right"] >= 0.8 * total
    assert verdicts["wrong"] < 0.02 * total


def test_red_flags_set_aside_are_found_and_harmless_words_left_alone() -> None:
    verdicts = flag_verdicts(rows("red_flags", "set aside"))
    flags = {
        taken: sum(verdicts[said, taken] for said in ("alarm", "ask"))
        for taken in ("alarm", "ask", "nothing")
    }
    harmless = {taken: verdicts["nothing", taken] for taken in ("alarm", "ask", "nothing")}
    assert flags["nothing"] <= 0.05 * sum(flags.values())
    assert harmless["alarm"] <= 0.06 * sum(harmless.values())
    assert harmless["ask"] < 0.1 * sum(harmless.values())


def test_trips_set_aside_are_entered_right_or_asked_about() -> None:
    verdicts = trip_verdicts(rows("trips", "set aside"))
    assert verdicts["right"] >= 0.8 * verdicts.total()
    assert verdicts["wrong"] <= 0.06 * verdicts.total()
