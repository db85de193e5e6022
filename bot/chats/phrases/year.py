"""What is said of the year, the programme and the lifts of one client."""

import datetime as dt
from collections.abc import Sequence

from bot.chats.phrases.common import date, dates, safe
from core.programme.year.coming_up import ComingUp


def year_whose() -> str:
    return "Whose year?"


def year_how(name: str, start: dt.date, weeks: int, rows: Sequence[str]) -> str:
    lines = [f"<b>{safe(name)}: the year</b>, {weeks} weeks from {date(start)} on."]
    lines += [safe(row) for row in rows] or ["Nothing is coming up yet."]
    lines.append(
        "Write what is coming up, a line each:\n<code>Opening night,2027-03-20,,event,3,strength</code>\n"
        "<code>Summer break,2027-07-05,2027-07-18,holiday</code>\n"
        "Name, from, to (may be empty), then event, holiday or trip; for an event also how much it matters, 1 to 3, and what it "
        "wants: hypertrophy, strength, power or power endurance."
    )
    return "\n".join(lines)


def year_row(event: ComingUp) -> str:
    more = f", {event.wants}, {event.importance} of 3" if event.wants else ""
    return f"{dates(event.first, event.last)}: {event.name} ({event.kind}{more})"


def year_drawn(name: str, words: str) -> str:
    return f"<b>{safe(name)}</b>\n{safe(words, 3500)}"


def year_accepted(name: str) -> str:
    return f"Accepted. {safe(name)}'s sessions are built for these blocks from now on."


def year_faults(faults: Sequence[str]) -> str:
    return "Nothing was changed:\n" + "\n".join(safe(fault) for fault in faults[:20])


def year_too_much(rows: int, most: int) -> str:
    return f"With these there would be {rows} lines; a year has up to {most}. Leave out what does not change the training."


def lifts(name: str, listed_lifts: Sequence[str]) -> str:
    if not listed_lifts:
        return f"{safe(name)} has told no results yet. After a session I ask for them."
    return "\n".join([f"<b>{safe(name)}: lifts</b>", *(safe(line) for line in listed_lifts)])


def programme_whose() -> str:
    return "Whose programme, as a spreadsheet?"


def programme_file(name: str, weeks: int) -> str:
    return (
        f"{safe(name)}: the next {weeks} weeks as they would be built today, a row an exercise. "
        "Change what you like and send the file back; you see what it would do before it does it."
    )


def same_as_csv() -> str:
    return "The same as .csv."


def lifts_whose() -> str:
    return "Whose lifts?"


def no_own_sessions() -> str:
    return "No session of your own is kept yet. Write one here, and keep it."
