"""What a coach hears of red flags and of what clients write, and what is passed between the two."""

import datetime as dt
from collections.abc import Sequence

from bot.chats.phrases.common import listed, safe
from core.people.model import Client, Coach
from core.people.records import RedFlag

# --- care -------------------------------------------------------------------------------------------------------------


def red_flag(client: Client, flag: RedFlag, where: str, local: dt.datetime) -> str:
    head = "RED FLAG" if flag.sure else "POSSIBLE RED FLAG"
    again = f" (told {flag.told} times)" if flag.told > 1 else ""
    doubt = (
        ""
        if flag.sure
        else "\nIt may be a figure of speech: I have asked, and it counts until it is answered."
    )
    return (
        f"<b>{head}</b>{again}: {safe(client.name)}, {safe(where)}, {local:%a %H:%M} there.\n"
        f"<blockquote>{safe(flag.words)}</blockquote>{doubt}\n"
        "They were told to stop, to get medical care, and whom to call. Nothing asks them to train until you clear it, with a note."
    )


def figure_of_speech(client: Client) -> str:
    return f"{safe(client.name)} says it was a manner of speaking. Nothing is held back any more; you have seen the words."


def seen(client: Client) -> str:
    return f"Seen. {safe(client.name)} stays excused until you clear it."


def clear_note(client: Client) -> str:
    return f"Write the note that clears it for {safe(client.name)}: what was found, by whom, and what may be done. It is kept."


def cleared(client: Client) -> str:
    return f"Cleared, with your note. {safe(client.name)} is asked again from the next session on."


def client_cleared() -> str:
    return "Your coach has cleared you to go on. Start easy, and tell me at once if anything feels wrong."


def nothing_to_clear(client: Client) -> str:
    return f"There is nothing to clear for {safe(client.name)} any more."


# --- talking ----------------------------------------------------------------------------------------------------------


def passed_on(
    client: Client,
    words: str,
    kind: str,
    where: str,
    local: dt.datetime,
    *,
    asked: str,
    so_far: str,
    session: str = "",
) -> str:
    kinds = {
        "question": "asks",
        "pain": "reports pain",
        "unwell": "is unwell",
        "unread": "wrote (I could not read it)",
        "media": "sent",
    }
    context = f"{safe(where)}, {local:%a %H:%M} there; this week {so_far}"
    if asked and asked != "nothing":
        context += f"; asked last: {asked}"
    if session:
        context += f"; {safe(session)}"
    return f"<b>{safe(client.name)}</b> {kinds.get(kind, 'wrote')}:\n<blockquote>{safe(words, 1500)}</blockquote>\n<i>{context}</i>"


def during(title: str, exercises: Sequence[str]) -> str:
    return f"session: {title}" + (f", at {listed(exercises)}" if exercises else "")


def write_to(names: Sequence[str]) -> str:
    return f"Write the message for {safe(listed(names))}; text, voice or video. /cancel leaves it."


def sent_to(names: Sequence[str]) -> str:
    return f"Sent to {safe(listed(names))}."


def from_coach(coach: Coach, words: str) -> str:
    return f"<b>{safe(coach.name)}</b>:\n{safe(words, 3500)}"


def media_from_coach(coach: Coach) -> str:
    return f"From <b>{safe(coach.name)}</b>:"


def no_recipient() -> str:
    return "Choose at least one client."


def not_reachable(names: Sequence[str]) -> str:
    return f"Not reachable: {safe(listed(names))}."
