"""What is said while a coach drafts, sends and follows a remote session."""

import datetime as dt
from collections.abc import Sequence

from bot.chats.phrases.common import listed, safe
from core.people.model import Client, Coach
from core.people.records import RemoteSession

# --- sessions ---------------------------------------------------------------------------------------------------------


def push_whom() -> str:
    return "Send a session to whom? Tap one or several, then go on."


def push_what(names: Sequence[str], room: str, minutes: int) -> str:
    return f"For {safe(listed(names))}: {room}, {minutes} minutes? Or write the session in your own words."


# --- sending ----------------------------------------------------------------------------------------------------------


def push_draft(text: str, notes: Sequence[str] = ()) -> str:
    more = "".join(f"\n\n<i>{safe(note)}</i>" for note in notes)
    return f"<b>Draft</b>\n{safe(text, 3200)}{more}"


def asleep(name: str, local: dt.datetime) -> str:
    return f"For {name} it is {local:%a %H:%M}, in quiet hours: sent now, it arrives without a sound."


def hurts(name: str, places: Sequence[str]) -> str:
    return f"{name} has said that it hurts: {listed(places)}. Your own words are not checked against that."


def has_media(names: Sequence[str]) -> str:
    return f"With a video or voice note of yours: {listed(names)}."


def swap_which() -> str:
    return "Which one shall go?"


def swap_for(name: str, *, any_left: bool) -> str:
    if not any_left:
        return f"Nothing else of that pattern fits this room and these complaints, so {safe(name)} stays."
    return f"Instead of {safe(name)}:"


def no_length_left(minutes: int) -> str:
    return f"{minutes} minutes is as far as it goes that way."


def line_how() -> str:
    return "Write the line: it stands before the session. /cancel leaves it."


def media_which() -> str:
    return "For which exercise? The video or voice note stays with it for every session."


def media_how(name: str, *, known: bool) -> str:
    first = "There is one already; a new one takes its place. " if known else ""
    return f"{first}Send the video or voice note for {safe(name)} now."


def media_for_what() -> str:
    return "A video or voice note stays with one exercise: tap “Video or voice note” under the draft first. /cancel, then /write, sends it by itself."


def media_kept(name: str) -> str:
    return f"Kept for {safe(name)}."


def media_gone(name: str) -> str:
    return f"{safe(name)} goes without from now on."


def media_kinds() -> str:
    return "A video, a round video or a voice note is what I can keep for an exercise."


def pushed(names: Sequence[str]) -> str:
    return f"On its way to {safe(listed(names))}. /sent shows what was opened and done."


def pushed_for_morning(when: Sequence[tuple[str, dt.datetime]]) -> str:
    times = [f"{name} {local:%a %H:%M} there" for name, local in when]
    return f"It goes out when quiet hours end: {safe(listed(times))}. /sent shows what was opened and done."


def not_pushed_flagged(names: Sequence[str]) -> str:
    return f"Not sent to {safe(listed(names))}: a red flag is open. Clear it first, with a note."


def session_for_client(coach: Coach, title: str) -> str:
    return f"<b>{safe(coach.name)}</b> sends you a session: {safe(title)}. It waits here until you have a moment; nothing is owed."


def session_done(client: Client, title: str) -> str:
    return f"{safe(client.name)} has done {safe(title)}."


def receipts(sent: Sequence[tuple[Client, RemoteSession, dt.tzinfo]]) -> str:
    if not sent:
        return "No session has been sent yet. /push sends one."
    lines = ["<b>Sessions sent</b>"]
    for client, session, zone in sent:
        state = [
            f"{word} {at.astimezone(zone):%a %H:%M}"
            for word, at in (
                ("sent", session.sent_at),
                ("opened", session.opened_at),
                ("begun", session.begun_at),
                ("done", session.done_at),
            )
            if at is not None
        ]
        lines.append(
            f"{safe(client.name)}, {safe(session.title, 60)}: {', '.join(state) or 'not gone out yet'}"
        )
    return "\n".join(lines)
