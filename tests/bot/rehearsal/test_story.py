"""What happened, in one sentence."""

import datetime as dt

from bot.rehearsal.record import Entry
from bot.rehearsal.story import a_while, one_moment

SUNDAY = dt.datetime(2026, 11, 29, 18, tzinfo=dt.UTC)


def entry(chat: str, author: str, kind: str, text: str = "", key: str = "k") -> Entry:
    return Entry(
        at=SUNDAY, zone="Europe/Lisbon", chat=chat, author=author, what=kind, text=text, kind=kind, key=key
    )


def test_a_moment_is_told_by_its_first_event_with_the_hour_there() -> None:
    told = one_moment(
        [
            entry("Ines Prado", "bot", "digest"),
            entry("Ines Prado", "bot", "settle"),
            entry("Mara L", "bot", "weekly"),
        ]
    )
    assert told == "Sun 18:00 in Lisbon: the digest comes to Ines. (1 more at that moment)"


def test_what_somebody_did_is_told_in_their_words() -> None:
    assert one_moment([entry("Mara L", "client", "press", "Done")]).endswith(": Mara taps 'Done'.")
    assert one_moment([entry("Mara L", "client", "message", "did half")]).endswith(
        ": Mara writes 'did half'."
    )


def test_nothing_is_said_to_be_nothing() -> None:
    assert one_moment([]) == "Nothing is waiting to happen."
    assert a_while([], "In that hour") == "In that hour: nothing happened."


def test_a_longer_time_is_counted_and_a_digest_once() -> None:
    digest = [
        entry("Ines Prado", "bot", "digest", key=f"digest:1:2026-W48:{n}") for n in ("text:0", "picture")
    ]
    prompts = [entry(name, "bot", "prompt") for name in ("Mara L", "Teo V")]
    answers = [entry("Mara L", "client", "press", "Done")]
    assert (
        a_while([*digest, *prompts, *answers], "In that day")
        == "In that day: 2 prompts, 1 digest, 1 message from a client."
    )
    assert a_while(digest, "In that hour") == "In that hour: 1 digest."
