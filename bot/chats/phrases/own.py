"""What is said of the coach's own exercises and sessions."""

from collections.abc import Sequence

from bot.chats.phrases.common import listed, safe


def own_none() -> str:
    return (
        "Nothing of your own yet. Add an exercise, or write a whole session: I take what is yours before what is mine, "
        "wherever it fits."
    )


def own(exercises: Sequence[str], kept: Sequence[str]) -> str:
    lines = ["<b>Your own</b>"]
    if exercises:
        lines.append(f"Exercises: {safe(listed(exercises), 1500)}.")
    if kept:
        lines.append(f"Sessions: {safe('; '.join(kept), 1500)}.")
    lines.append("I take them before mine, wherever they fit.")
    return "\n".join(lines)


def own_name() -> str:
    return "What is the exercise called?"


def own_name_length(most: int) -> str:
    return f"A name of one to {most} characters, please; how it is done comes with the cues."


def own_pattern(name: str) -> str:
    return f"Which pattern does {safe(name)} train?"


def own_room() -> str:
    return "What does it need at least?"


def own_cues(avoids: Sequence[str]) -> str:
    return (
        f"Cues in your own words, a line each. Nobody whose {', '.join(avoids[:-1])} or {avoids[-1]} hurts will get it; "
        f"where it does no harm, add a line such as <i>Spares: {avoids[0]}</i>."
    )


def own_media(name: str) -> str:
    return f"And a video or voice note for {safe(name)}?"


def own_added(name: str, pattern: str, room: str) -> str:
    return f"{safe(name)} is yours now: {pattern}, {room}. I take it before mine where it fits."


def own_session_words() -> str:
    return "Write the session, as your clients shall read it. A blank line begins a new part."


def own_session_fit(title: str) -> str:
    return f"{safe(title)}: for which room at least, and how many minutes?"


def own_session_kept(title: str, room: str, minutes: int) -> str:
    return f"Kept: {safe(title)}, {room}, {minutes} minutes. I take it before one of mine where it fits."


def own_gone(name: str) -> str:
    return f"{safe(name)} is taken away. Sessions that were sent keep it."


def own_look(words: str) -> str:
    return safe(words, 3500)


def which_of_yours() -> str:
    return "Which of yours?"
