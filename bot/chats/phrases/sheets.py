"""What a coach hears of a spreadsheet that they sent: what it is, what it would change, what was done."""

from collections.abc import Sequence

from bot.chats.phrases.common import listed, safe, sessions
from core.digest.packing import Block, packed
from core.how_many import how_many
from core.people.model import Client
from core.terms import Outcome
from core.usecases.history_in import PastOf

_COLUMNS = (
    "a programme has the columns block, week, session, exercise, sets and repetitions (/programme sends one to begin with); "
    "a history has client, date, promised, outcome, minutes, away and slept_h (/history); "
    "a year has name, from, to, kind, importance and wants (/year)"
)


def not_read(ending: str) -> str:
    if ending == ".ics":
        return (
            "A calendar of trips is for the client to send, in their own chat: I show them what I understood and ask for the room. "
            "You can tell me of a trip of theirs in a line, under /clients."
        )
    if ending == ".xls":
        return "That is an old .xls file: save it as .xlsx, and I can read it."
    return (
        "I read spreadsheets, .xlsx or .csv: a programme, a history, or what is coming up in a year. "
        "To send a file on to a client, use /write, or reply to a message of theirs."
    )


def no_kind(name: str) -> str:
    return f"I cannot tell what {safe(name, 80)} is by the names of its columns: {_COLUMNS}."


def left() -> str:
    return "Left. Nothing was taken in."


# --- a programme ------------------------------------------------------------------------------------------------------


def programme_whose(number: int, exercises: int) -> str:
    return f"A programme: {sessions(number)}, {how_many(exercises, 'exercise')}. For whom?"


def whose_instead() -> str:
    return "For whom?"


def programme_read(name: str, weeks: int, number: int, exercises: int, before: int) -> str:
    what = f"{how_many(weeks, 'week')}, {sessions(number)}, {how_many(exercises, 'exercise')}"
    lines = [f"A programme for <b>{safe(name)}</b>: {what}. Every cell can be read."]
    if before:
        lines.append(f"It takes the place of the {sessions(before)} from your last file for {safe(name)}.")
    lines.append(
        "They come in their order, one a time, before what I build, wherever room and minutes allow."
    )
    return "\n".join(lines)


def programme_taken(name: str, number: int) -> str:
    return f"Taken in: {sessions(number)} for {safe(name)}. The first comes with their next session."


def programme_undone(name: str, gone: int, before: int) -> str:
    again = (
        f"the {sessions(before)} of your file before hold again"
        if before
        else "sessions are mine to build again"
    )
    return (
        f"Taken out again: {sessions(gone)} for {safe(name)}; {again}. What was sent already stays with them."
    )


# --- a history --------------------------------------------------------------------------------------------------------


def history_read(past: Sequence[PastOf]) -> list[str]:
    """One message, or as many as the lines of all clients need."""
    closing = "The forecasts will count these weeks as they count mine. Shall I take them in?"
    lines = ["<b>A history</b>", *history_lines(past), closing]
    return list(packed(Block(line, tight=True) for line in lines))


def history_lines(past: Sequence[PastOf]) -> list[str]:
    """What a file has of each client, and what is left out of it."""
    lines = [*(_of(each) for each in past if each.rows), *_left_out(past)]
    brought = sum(each.in_place_of for each in past)
    if brought:
        lines.append(f"An earlier file had {how_many(brought, 'week')} of these; this one takes their place.")
    return lines


def _of(past: PastOf) -> str:
    asked = sum(row.is_ask for row in past.rows)
    done, short = past.count(Outcome.DONE), past.count(Outcome.SHORT)
    first, last = past.weeks[0].monday, past.weeks[-1].sunday
    said = [f"{done + short} of {asked} promised sessions done"]
    said += [f"{short} of them short"] if short else []
    said += [
        f"{number} {word}"
        for word, number in (
            ("missed", past.count(Outcome.MISSED)),
            ("unanswered", past.count(Outcome.UNANSWERED)),
            ("excused", past.count(Outcome.EXCUSED)),
        )
        if number
    ]
    extras = past.count(Outcome.EXTRA)
    said += [how_many(extras, "extra")] if extras else []
    when = f"{first.day} {first:%b %Y} to {last.day} {last:%b %Y}"
    return f"{safe(past.client.name)}, {how_many(len(past.weeks), 'week')} from {when}: {', '.join(said)}."


def _left_out(past: Sequence[PastOf]) -> list[str]:
    lines = [
        f"Left out: {how_many(each.recorded_here, 'row')} of {safe(each.client.name)}, of weeks that I count myself."
        for each in past
        if each.recorded_here
    ]
    unended = sum(each.without_outcome for each in past)
    if unended:
        lines.append(f"Left out: {how_many(unended, 'row')} without an outcome.")
    return lines


def history_nothing_new(past: Sequence[PastOf]) -> str:
    return "\n".join(["There is nothing in it that I could add.", *_left_out(past)])


def history_taken(past: Sequence[PastOf]) -> str:
    weeks = listed(
        f"{how_many(len(each.weeks), 'week')} of {safe(each.client.name)}" for each in past if each.weeks
    )
    return f"Taken in: {weeks}. The next recommendation counts them; what was issued stays as it was."


def history_undone(gone: Sequence[tuple[Client, int]]) -> str:
    weeks = listed(f"{how_many(number, 'week')} of {safe(client.name)}" for client, number in gone)
    return f"Taken out again: {weeks}. What has been corrected since stays."


# --- a year -----------------------------------------------------------------------------------------------------------


def year_whose() -> str:
    return "What is coming up in a year. Whose year?"
