"""What a client hears inside a session, and of what they lifted."""

from collections.abc import Sequence

from bot.chats.phrases.common import listed, safe
from core.programme.session import LONGEST, SHORTEST

# --- sessions ---------------------------------------------------------------------------------------------------------


def swap_which() -> str:
    return "Which one can you not do there?"


def swap_for(name: str, *, any_left: bool) -> str:
    if not any_left:
        return f"I have nothing else of that kind for where you are. Leave {safe(name)} out: the rest counts."
    return f"Instead of {safe(name)}:"


def leave_out(names: Sequence[str], places: Sequence[str], *, can_swap: bool) -> str:
    """Before a session that asks something of what hurts."""
    instead = "or take something else for it below" if can_swap else "or ask your coach what to do instead"
    return (
        f"You told me of the {listed(places)}: leave out {listed(safe(name) for name in names)}, {instead}."
    )


def other_minutes(said: str, minutes: int) -> str:
    """Before a session of another length than was asked for."""
    asked = safe(said, 40)
    return (
        f"A session takes {SHORTEST} to {LONGEST} minutes, and I read '{asked}': here is one of {minutes}. "
        "Another length: /now 20, say."
    )


def media_first(name: str) -> str:
    return f"{safe(name)}, from your coach:"


def how_long() -> str:
    return "And how long did it take, in minutes?"


# --- lifts ------------------------------------------------------------------------------------------------------------


def lift_question(name: str, *, first: bool) -> str:
    start = "If you kept count: " if first else ""
    return f"{start}{safe(name)}? Write it, like <i>3x8 at 20</i> or <i>20 kg 8 8 7</i>, or tap."


def lift_noted(name: str, words: str) -> str:
    return f"{safe(name)}: {safe(words)}. Noted."


def lifts_noted(words: str) -> str:
    return f"All of it {safe(words)}: noted. The next session follows from that."


def not_counted() -> str:
    return "Not counted, then. That is fine."


def lifts_end() -> str:
    return "Thanks. The next session follows from that."


def which_lift(names: Sequence[str]) -> str:
    return f"Which one was that? Begin with its name: {safe(listed(names))}."


def session_end() -> str:
    return "That is all of it. Stop if anything hurts, and tell me how it went."


def no_sessions_while_flagged() -> str:
    return (
        "Not now: you told me of something that a doctor should look at first. Your coach has been told, and sessions go on "
        "once your coach has cleared it with you. If it gets worse, call the emergency number."
    )
