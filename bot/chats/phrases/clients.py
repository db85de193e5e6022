"""What a coach reads and sets of each client, under /clients."""

import datetime as dt
from collections.abc import Sequence

from bot.chats.phrases.common import date, dates, hour, listed, safe, weekday
from core.people.model import Client, SleepAsked, Stage
from core.people.records import PlannedTrip, RedFlag


def nobody_yet() -> str:
    return "You have no clients yet. Write <code>/invite Name</code>, and I give you a link for the first."


def nobody_active() -> str:
    return "Nobody has begun yet: a client answers the first questions, then you confirm. /clients shows how far each is."


def clients(everybody: Sequence[tuple[str, str]]) -> str:
    """Names, and what to know of each first."""
    if not everybody:
        return nobody_yet()
    lines = [
        "<b>Your clients</b>",
        *(f"{safe(name)}: {state}" for name, state in everybody),
    ]
    return "\n".join(lines)


def not_readable(why: str) -> str:
    return f"cannot be read: {safe(why)}; please ask whoever runs this bot to look, with 'keptword doctor'"


def state(client: Client, where: str, *, flagged: bool) -> str:
    """What a coach should know first of a client; where all is ordinary, where they are. ``flagged``: a red flag is open."""
    flag = "<b>red flag open</b>, " if flagged else ""
    return flag + _ordinary_state(client, where)


def _ordinary_state(client: Client, where: str) -> str:
    if client.unreachable:
        return "has blocked the bot or is gone"
    stages = {
        Stage.ENROLLING: "answering the questions" if client.telegram_id else "has not opened the link yet",
        Stage.WAITING: "waits for your confirmation",
        Stage.STOPPED: "stopped",
    }
    if client.stage in stages:
        return stages[client.stage]
    if client.silent_since:
        return f"silent since {date(client.silent_since)}"
    return f"{where}; pauses until {date(client.paused_until)}" if client.paused_until else where


def one_client(
    client: Client, where: str, week: str, trips: Sequence[PlannedTrip], flag: RedFlag | None = None
) -> str:
    lines = [f"<b>{safe(client.name)}</b>, {where}"]
    if flag is not None:
        lines.append(f"Red flag since {date(flag.raised_at.date())}: “{safe(flag.words, 200)}”")
    lines.append(week)
    lines += [f"Away: {safe(trip.place)}, {dates(trip.first, trip.last)}" for trip in trips]
    days = days_of_week(client.usual_days)
    lines.append(f"Likes to train {f'on {days}' if days else 'on any day'} at {hour(client.usual_time)}.")
    floor = f", never below {client.floor}" if client.floor is not None else ""
    lines.append(
        f"I recommend the largest number that would be kept in {client.confidence * 100:.0f} of 100 such weeks{floor}."
    )
    return "\n".join(lines)


def days_of_week(numbers: Sequence[int]) -> str:
    return listed(weekday(number) for number in numbers)


def nothing_promised(begins: dt.date | None) -> str:
    return "Nothing is promised this week." if begins is None else f"Begins on {date(begins)}."


# --- what is set ------------------------------------------------------------------------------------------------------


def how_sure(client: Client) -> str:
    return f"Of 100 weeks like the coming one, how many should {safe(client.name)} keep? The more, the smaller the number that I recommend."


def promised_from(client: Client, hundred: int) -> str:
    return f"{safe(client.name)}: from now on I recommend the largest number that would be kept in {hundred} of 100 such weeks."


def floor_how(client: Client) -> str:
    return f"What is the least that {safe(client.name)} should promise?"


def floor_set(client: Client, floor: int | None) -> str:
    if floor is None:
        return f"{safe(client.name)}: there is no least number."
    return f"{safe(client.name)}: never below {floor}. Where even that is doubtful, I say so, and you talk first."


SLEEP_WORDS = {
    SleepAsked.TRAINING: "sleep on training days",
    SleepAsked.DAILY: "sleep every day",
    SleepAsked.NEVER: "never about sleep",
}


def asking(client: Client) -> str:
    never = client.sleep_asked is SleepAsked.NEVER
    asks = "I never ask about sleep" if never else f"I ask about {SLEEP_WORDS[client.sleep_asked]}"
    return (
        f"{safe(client.name)}: {asks}, and I write first at most {times(client.daily_limit)} a day "
        f"and {times(client.weekly_limit)} a week. What you send yourself is not counted."
    )


def times(number: int) -> str:
    return {1: "once", 2: "twice"}.get(number, f"{number} times")


# --- taking away ------------------------------------------------------------------------------------------------------


def remove_sure(client: Client) -> str:
    return f"This removes everything held about {safe(client.name)}, for good. Remove it all?"


def removed(client: Client) -> str:
    return f"{safe(client.name)} is removed, with everything that was held."


def not_removed() -> str:
    return "Nothing was removed."


def opened_already(client: Client) -> str:
    return f"{safe(client.name)} has opened a link already. If that was the wrong person, remove them and invite anew."
