"""What a coach hears of red flags and of what clients write, and what is passed between the two."""

import datetime as dt
from collections.abc import Sequence

from bot.chats.phrases.common import listed, safe
from core.people.model import Client, Coach
from core.people.records import RedFlag

MOST_NAMED = 8

# --- to the client ----------------------------------------------------------------------------------------------------


def was_it_meant() -> str:
    return (
        "One question first: did you feel that in your body, or is it a manner of speaking? If something is wrong right now, "
        "stop and call for help."
    )


def not_meant() -> str:
    return "Good, then nothing changes. Tell me at once if that is ever different."


def pain_noted(places: str) -> str:
    return f"Noted: {places}. Sessions will leave it alone. If a movement hurts, stop that movement."


def get_well(*, excused: bool) -> list[str]:
    lines = ["Today is excused: it counts neither for nor against you."] if excused else []
    return [*lines, "Get well first; training waits. Your coach knows, and I will ask before the next one."]


def recovered() -> str:
    return "Good to hear. From the next session on I ask as before; begin easy, and stop if it does not feel right."


def well_again() -> str:
    return "Good. Easy today: stop if it does not feel right."


# --- care -------------------------------------------------------------------------------------------------------------


def red_flag(client: Client, flag: RedFlag, where: str, local: dt.datetime | None) -> str:
    """``local``: when it was said, there; None where that is not known."""
    head = "RED FLAG" if flag.sure else "POSSIBLE RED FLAG"
    again = f" (told {flag.told} times)" if flag.told > 1 else ""
    told = (
        "They were told to stop, to get medical care, and whom to call. I ask for no training until you clear it, with a note."
        if flag.sure
        else "It may be a figure of speech: I have asked, and told them to stop and call for help if it is not. Until they say so, or you "
        "clear it with a note, I ask for no training."
    )
    when = "" if local is None else f", {local:%a %H:%M} there"
    return (
        f"<b>{head}</b>{again}: {safe(client.name)}, {safe(where)}{when}.\n"
        f"<blockquote>{safe(flag.words)}</blockquote>\n{told}"
    )


def red_flag_apart(name: str, words: str) -> str:
    """Of words that could not be dealt with in any other way."""
    return (
        f"<b>RED FLAG</b>: {safe(name)} wrote this, and I could not make more of it.\n<blockquote>{safe(words)}</blockquote>\n"
        "They were told to stop, to get medical care, and whom to call. I ask for no training until you clear it, with a note."
    )


def figure_of_speech(client: Client) -> str:
    return f"{safe(client.name)} says it was a manner of speaking: nothing to clear, and I ask for sessions again."


def seen(name: str) -> str:
    return f"Good: I do not repeat it. I ask {safe(name)} for no training until it is cleared."


def seen_and_over(name: str) -> str:
    return f"Good. It is cleared already: I ask {safe(name)} for sessions again."


def clear_note(client: Client) -> str:
    return (
        f"Write the note that clears it for {safe(client.name)}: what was found, by whom, and what they may do. It is kept. "
        "/cancel leaves the red flag open."
    )


def cleared(client: Client) -> str:
    return f"Cleared, with your note. I ask {safe(client.name)} again from the next session on."


def client_cleared() -> str:
    return "Your coach has cleared you to go on. Start easy, and tell me at once if anything feels wrong."


def clear_first(client: Client, flag: RedFlag) -> str:
    return f"A red flag of {safe(client.name)} is open: “{safe(flag.words, 300)}” Clear it first, with a note; then confirm."


def nothing_to_clear(client: Client) -> str:
    return f"There is nothing to clear for {safe(client.name)} any more."


# --- talking ----------------------------------------------------------------------------------------------------------


LAST_ASKED = {
    "session": "about the session",
    "sleep": "about the night",
    "effort": "how hard it was",
    "days": "which days suit",
}


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
        "unread": "wrote, and I could not make sense of it",
        "media": "sent",
    }
    context = f"{safe(where)}, {local:%a %H:%M} there; this week {so_far}"
    if asked in LAST_ASKED:
        context += f"; I had asked {LAST_ASKED[asked]}"
    if session:
        context += f"; {safe(session)}"
    return f"<b>{safe(client.name)}</b> {kinds.get(kind, 'wrote')}:\n<blockquote>{safe(words, 1500)}</blockquote>\n<i>{context}</i>"


def during(title: str, exercises: Sequence[str]) -> str:
    return f"session: {title}" + (f", at {listed(exercises)}" if exercises else "")


def write_to(names: Sequence[str]) -> str:
    return f"Write to {_whom(names)}: what you send next goes to {'them' if len(names) > 1 else 'this client'}, text, voice or video. /cancel leaves it."


def _whom(names: Sequence[str]) -> str:
    """Names, as many as one reads at a glance."""
    some = (
        names
        if len(names) <= MOST_NAMED
        else [*names[: MOST_NAMED - 1], f"{len(names) - MOST_NAMED + 1} more"]
    )
    return listed(safe(name) for name in some)


def sent_to(names: Sequence[str]) -> str:
    return f"Sent to {_whom(names)}."


def from_coach(coach: Coach, words: str) -> str:
    return f"<b>{safe(coach.name)}</b>:\n{safe(words, 3500)}"


def media_from_coach(coach: Coach) -> str:
    return f"From <b>{safe(coach.name)}</b>:"


def no_recipient() -> str:
    return "Tap at least one name first."


def not_reachable(names: Sequence[str]) -> str:
    return f"Not sent to {safe(listed(names))}: stopped, or the chat is blocked or gone. Please reach them another way."
