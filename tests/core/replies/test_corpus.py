"""Floors on sentences that no rule was tuned on.

The floors hold what was counted on them last, with a little room for so small a sample, and are never looser than an aim that is met:
replies right in 86 of 100 and wrong in 3.2, red flags found or asked about in 94, harmless words alarmed in 1.4 of 100 and asked about
in 11.5, trips right in 87 and wrong in 1.5. What we aim at: replies right in 85 and wrong in under 2 of 100, red flags found or asked
about in 95, harmless words alarmed in under 2 and asked about in under 10, trips right in 80 and wrong in under 3. So too many replies
are read wrong, and slightly too few red flags found and too many harmless words asked about. It differs by the hand that wrote: of the
two whose other half was learned from, replies were read right in 91 and wrong in 1.5; of the one who was new, in 81 and 5.

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
    assert len(rows("replies", "set aside")) >= 400
    assert len(rows("red_flags", "set aside")) >= 280
    assert len(rows("trips", "set aside")) >= 200


def test_replies_set_aside_are_read_right_and_hardly_ever_wrong() -> None:
    verdicts = reply_verdicts(rows("replies", "set aside"))
    total = verdicts.total()
    assert verdicts["right"] >= 0.85 * total
    assert verdicts["wrong"] <= 0.035 * total


def test_red_flags_set_aside_are_found_and_harmless_words_left_alone() -> None:
    verdicts = flag_verdicts(rows("red_flags", "set aside"))
    flags = {
        taken: sum(verdicts[said, taken] for said in ("alarm", "ask"))
        for taken in ("alarm", "ask", "nothing")
    }
    harmless = {taken: verdicts["nothing", taken] for taken in ("alarm", "ask", "nothing")}
    assert flags["nothing"] <= 0.065 * sum(flags.values())
    assert harmless["alarm"] < 0.02 * sum(harmless.values())
    assert harmless["ask"] <= 0.125 * sum(harmless.values())


def test_trips_set_aside_are_entered_right_or_asked_about() -> None:
    verdicts = trip_verdicts(rows("trips", "set aside"))
    assert verdicts["right"] >= 0.8 * verdicts.total()
    assert verdicts["wrong"] < 0.03 * verdicts.total()
