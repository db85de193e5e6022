"""Floors on sentences that no rule was tuned on: what we aim at.

Of the sentences set aside (`corpora.py` says whose they are), replies are read right in 94.0 of 100 and wrong in 0.8; red flags are
found or asked about in 96.2, harmless words alarmed in 1.4 and asked about in 4.3; trips entered right in 89.1 and wrong in 0.9. It
differs by the hand: of fourteen that were counted before they were read, between 74 and 92 of 100 replies were right and between 1 and
9 wrong, the worst where the author had been asked for irony and for nights told in pieces.

Whoever mends something that was misread there moves these sentences to the others, and has new ones written.
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
    assert len(rows("replies", "set aside")) >= 480
    assert len(rows("red_flags", "set aside")) >= 300
    assert len(rows("trips", "set aside")) >= 340


def test_replies_set_aside_are_read_right_and_hardly_ever_wrong() -> None:
    verdicts = reply_verdicts(rows("replies", "set aside"))
    total = verdicts.total()
    assert verdicts["right"] >= 0.85 * total
    assert verdicts["wrong"] < 0.02 * total


def test_red_flags_set_aside_are_found_and_harmless_words_left_alone() -> None:
    verdicts = flag_verdicts(rows("red_flags", "set aside"))
    flags = {
        taken: sum(verdicts[said, taken] for said in ("alarm", "ask"))
        for taken in ("alarm", "ask", "nothing")
    }
    harmless = {taken: verdicts["nothing", taken] for taken in ("alarm", "ask", "nothing")}
    assert flags["nothing"] <= 0.05 * sum(flags.values())
    assert harmless["alarm"] < 0.02 * sum(harmless.values())
    assert harmless["ask"] < 0.1 * sum(harmless.values())


def test_trips_set_aside_are_entered_right_or_asked_about() -> None:
    verdicts = trip_verdicts(rows("trips", "set aside"))
    assert verdicts["right"] >= 0.8 * verdicts.total()
    assert verdicts["wrong"] < 0.03 * verdicts.total()
