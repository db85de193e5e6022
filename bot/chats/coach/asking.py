"""How often a client is asked: about the night, and how many messages unasked. The coach sets it for each."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from bot.chats.buttons import Button, button
from bot.chats.coach.clients import own_client
from bot.chats.phrases import clients as of_clients
from bot.chats.phrases import coach as say
from bot.chats.turn import Turn
from core.people.model import Client, Coach, SleepAsked
from core.store import house

BY_LETTER: Mapping[str, SleepAsked] = {
    "t": SleepAsked.TRAINING,
    "d": SleepAsked.DAILY,
    "n": SleepAsked.NEVER,
}
A_DAY, A_WEEK = (1, 2, 3), (6, 12, 18)


async def on_asking(turn: Turn, coach: Coach, args: Sequence[str]) -> None:
    """Show what holds; a second press sets one of the three."""
    client = await own_client(turn, coach, args[0])
    if client is None:
        await turn.say(say.stale_button())
        return
    if len(args) > 1:
        client = await house.clients.save(turn.tx, changed(client, args[1], args[2]))
        turn.touched.add(client.id)
        await turn.edit_here(of_clients.asking(client), _rows(client))
        return
    await turn.say(of_clients.asking(client), _rows(client))


def changed(client: Client, what: str, to: str) -> Client:
    match what:
        case "sleep":
            return replace(client, sleep_asked=BY_LETTER[to])
        case "day":
            return replace(client, daily_limit=int(to))
        case _:
            return replace(client, weekly_limit=int(to))


def _rows(client: Client) -> list[list[Button]]:
    """One row a setting, one button a choice; what holds is marked."""

    def choice(label: str, what: str, to: object, *, holds: bool) -> Button:
        return button(f"{label} •" if holds else label, "asking", client.id, what, to)

    return [
        *(
            [choice(of_clients.SLEEP_WORDS[asked], "sleep", letter, holds=asked is client.sleep_asked)]
            for letter, asked in BY_LETTER.items()
        ),
        [choice(f"{n} a day", "day", n, holds=n == client.daily_limit) for n in A_DAY],
        [choice(f"{n} a week", "week", n, holds=n == client.weekly_limit) for n in A_WEEK],
    ]
