"""Illness: today is excused, later asks are preceded by one question, and 'better' ends it."""

import re
from collections.abc import Sequence

from bot.chats.buttons import button
from bot.chats.client import answers
from bot.chats.phrases import care as of_care
from bot.chats.phrases import client as say
from bot.chats.turn import Turn
from core.people.model import Client
from core.terms import Outcome
from core.usecases import care

BETTER = "better"  # what was asked last of who is unwell: a 'yes' is no session that was done
WELL_AGAIN = frozenset(["yes", "yep", "yeah", "yup", "better", "fine", "well", "good", "recovered"])
NOT_WELL = frozenset(["no", "nope", "not", "still", "worse", "ill", "sick", "unwell"])
RECOVERED = re.compile(
    r"(?:(?:i.?m|i am|feeling|feel|all|much|a lot|quite) )*(?:better|well|fine|good|ok(?:ay)?|healthy|fit|recovered)"
    r"(?: (?:again|now|today|thanks|thank you))+[ .!]*|(?:fully )?recovered[ .!]*|back to normal[ .!]*",
    re.IGNORECASE,
)
BESIDE = re.compile(
    r"i|i'm|im|am|feel|feeling|all|much|a|lot|again|now|today|yet|really|quite|bad|in|bed|so|back|on|thanks|ok|okay"
)


async def unwell(turn: Turn, client: Client) -> list[str]:
    """Illness excuses today's ask, and stops later ones until it is over. Returns what to say of it."""
    _, excused = await care.fall_ill(turn.tx, client, turn.at)
    turn.touched.add(client.id)
    return of_care.get_well(excused=bool(excused))


async def on_better(turn: Turn, client: Client, args: Sequence[str]) -> None:
    """The answer to 'better?': back on, or the ask is excused too."""
    own = await answers.own_ask(turn, client, int(args[1]))
    ask = own if own is not None and own.is_open else None
    await turn.used()
    turn.touched.add(client.id)
    if args[0] == "y" and (ask is not None or client.unwell_since is not None):
        await care.recover(turn.tx, client)  # also where the day that it was asked for is over
        await turn.expect(
            asked="nothing" if ask is None else "session", about=None if ask is None else ask.id
        )
        rows = [] if ask is None else [[button("Show the session", "show", ask.id)]]
        await turn.say(of_care.well_again(), rows)
    elif ask is not None:
        await answers.write(turn, client, Outcome.EXCUSED, ask_id=ask.id)
    elif client.unwell_since is not None:
        await turn.say("\n".join(of_care.get_well(excused=False)))
    else:
        await turn.say(say.stale_button())


async def better_in_words(turn: Turn, client: Client, words: str) -> bool:
    """The answer in words to 'feeling better?', where it is as short as the buttons under it; said unasked, it holds as well."""
    about = turn.dialogue.about
    if (
        client.unwell_since is not None
        and RECOVERED.fullmatch(words.strip())
        and turn.dialogue.asked != BETTER
    ):
        await care.recover(turn.tx, client)
        turn.touched.add(client.id)
        await turn.say(of_care.recovered())
        return True
    if client.unwell_since is None or turn.dialogue.asked != BETTER or about is None:
        return False
    said = set(re.findall(r"[a-z']+", words.casefold().replace("’", "'")))
    short = all(word in WELL_AGAIN | NOT_WELL or BESIDE.fullmatch(word) for word in said)
    letter = "n" if short and said & NOT_WELL else "y" if short and said & WELL_AGAIN else ""
    if letter:
        await on_better(turn, client, [letter, str(about)])
    return bool(letter)
