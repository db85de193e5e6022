"""The first questions to a client, in our words. Each can be left, gone back on, and changed later under /settings."""

from bot.chats.phrases.common import hour, hours_of_sleep, listed, safe, weekday
from core.how_many import how_many
from core.people.model import Client
from core.programme.words import ROOM_WORDS


def welcome(client: str, coach: str) -> str:
    return (
        f"Hello {safe(client)}. I am the assistant of your coach, {safe(coach)}. Once a week you promise a number of sessions, a small "
        "one; I ask at the right hour where you are, send sessions that fit the room and the minutes, and keep count.\n\n"
        "I keep what you tell me about training, sleep and health, encrypted; your coach sees it and nobody else. "
        "You can see it (/mine), take it along (/export) or remove it (/erase) at any time; /privacy says more. "
        "I am no medical device: if something hurts or worries you, stop and see a doctor.\n\n"
        "Is that all right with you? Then a dozen short questions follow."
    )


AGREE = "I agree, let's start"
NOT_NOW = "Not now"
LATER = "No problem. Whenever you are ready, write anything, and we go on from here."

ZONE = "Where do you live? Tap the clock that matches yours, write your city, or share your location."
LATELY = "How many sessions a week did you really do lately, on average over the last two months?"
MINUTES = "How many minutes does a session usually have?"
ROOM = "What is there to train with, where you mostly are?"
LEVEL = "How long have you trained with weights?"
COMPLAINTS = "Does anything hurt or need care when you train? Tap all that apply, then go on."
GOAL = "What should training do for you, in a few words?"
DAYS = "Which days suit you best?"
HOUR = "And at what time? Tap one or write it, like <i>6:30</i>."
SLEEP = "How many hours of sleep do you need to feel well?"
QUIET = "I keep quiet from 21:00 to 07:00 where you are. Is that all right? Otherwise write your hours, like <i>22-6</i>."
SCREENING = "Before any training: have you noticed, or been told of, any of these?\n{}\n\nTap what is true for you, or the button for none."

FLAGGED = (
    "While answering you told me of something that a doctor should look at first. Nothing begins until your coach "
    "has cleared it with you."
)

BACK = "Back"
GO_ON = "Go on"
NONE_HURT = "Nothing hurts"
NONE_OF_THESE = "None of these"


def zone_confirmed(place: str, now: str) -> str:
    return f"{safe(place)}, where it is {now} now."


def bad_minutes(words: str) -> str:
    return f"“{safe(words, 40)}” is not a length I can use. Write the minutes, from 10 to 120."


def bad_count(words: str) -> str:
    return f"“{safe(words, 40)}” is not a number of sessions a week. Write a number from 0 to 7."


def bad_sleep(words: str) -> str:
    return f"“{safe(words, 40)}” is not a night I can use. Write the hours, from 4 to 12, like <i>7.5</i>."


def bad_hour(words: str) -> str:
    return f"I cannot read “{safe(words, 40)}” as a time of day. Write it like <i>7:00</i> or <i>18:30</i>."


def bad_quiet(words: str) -> str:
    return f"I cannot read “{safe(words, 40)}” as quiet hours. Write from when to when, like <i>22-6</i> or <i>21:30-7:00</i>."


def bad_days(words: str) -> str:
    return f"I cannot read “{safe(words, 60)}” as days. Write them like <i>Mon Wed Fri</i>."


def tap_one() -> str:
    return "Please tap one of these."


def summary(client: Client, verdict: str) -> str:
    """What was told, to read over."""
    return f"<b>That is all. You told me:</b>\n{told(client)}\n\n{verdict}\n\nAnything wrong? Change it under /settings."


def told(client: Client) -> str:
    """All answers, a line for each or for those that go together."""
    return "\n".join(
        [
            "; ".join(told_of(client, each) for each in ("zone", "lately", "minutes", "room", "level")),
            told_of(client, "complaints"),
            told_of(client, "goal"),
            f"best days: {told_of(client, 'days')} {told_of(client, 'hour')}",
            f"{told_of(client, 'sleep')}; {told_of(client, 'quiet')}",
        ]
    )


def told_of(client: Client, question: str) -> str:
    """What was answered to one question."""
    return {
        "zone": safe(client.place or client.zone),
        "lately": f"{how_many(client.lately or 0, 'session')} a week lately",
        "minutes": f"{client.minutes} minutes",
        "room": ROOM_WORDS[client.room],
        "level": str(client.level),
        "complaints": f"hurts or needs care: {safe(listed(client.complaints) or 'nothing')}",
        "goal": f"goal: {safe(client.goal) or 'not said'}",
        "days": listed(weekday(d) for d in client.usual_days) or "any day",
        "hour": f"at {hour(client.usual_time)}",
        "sleep": f"sleep: {hours_of_sleep(client.sleep_need)}",
        "quiet": f"quiet from {hour(client.quiet_from)} to {hour(client.quiet_to)}",
    }[question]


def changed(client: Client, question: str) -> str:
    line = f"Changed: {told_of(client, question)}."
    if client.first_week is not None and question in {"minutes", "days", "hour"}:
        return f"{line} From the next plan on; what is planned already stays."
    return line


def settings(client: Client) -> str:
    return f"<b>You told me</b>\n{told(client)}\n\nWhat would you like to change?"
