"""Floors on fresh sentences that no rule was tuned on.

The floors hold what was measured on them when they were first counted, with a little room for so small a sample: replies right
in 83 of 100 and wrong in 5.5, red flags found or asked about in 88, harmless words alarmed in 3.3 and asked about in 10, trips
right in 73 and wrong in 17. What we aim at is stricter: replies right in 85 and wrong in under 2 of 100, red flags found or asked
about in 95, harmless words alarmed in under 2 and asked about in under 10, trips right in 80 and wrong in under 3.

What was read wrongly at that first count has been mended since, so these sentences are read better now than fresh ones would be:
the floors stay where the first count put them, and a new figure wants new sentences.
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


def test_replies_set_aside_are_read_right_and_hardly_ever_wrong() -> None:
    verdicts = reply_verdicts("set aside")
    total = verdicts.total()
    assert verdicts["right"] >= 0.80 * total
    assert verdicts["wrong"] <= 0.065 * total


def test_red_flags_set_aside_are_found_and_harmless_words_left_alone() -> None:
    verdicts = flag_verdicts("set aside")
    flags = {
        taken: sum(verdicts[said, taken] for said in ("alarm", "ask"))
        for taken in ("alarm", "ask", "nothing")
    }
    harmless = {taken: verdicts["nothing", taken] for taken in ("alarm", "ask", "nothing")}
    assert flags["nothing"] <= 0.13 * sum(flags.values())
    assert harmless["alarm"] <= 0.04 * sum(harmless.values())
    assert harmless["ask"] <= 0.12 * sum(harmless.values())


def test_trips_set_aside_are_entered_right_or_asked_about() -> None:
    verdicts = trip_verdicts("set aside")
    assert verdicts["right"] >= 0.70 * verdicts.total()
    assert verdicts["wrong"] <= 0.19 * verdicts.total()
