"""Results of lifts, after a session: asked for one after another, told in words at any time, kept for the next session."""

import re
from collections.abc import Sequence
from typing import Any

from bot.chats.buttons import button
from bot.chats.phrases import client as say
from bot.chats.phrases import training as of_training
from bot.chats.turn import Turn
from core.people.model import Client
from core.people.records import RemoteSession
from core.programme.lifts import result_words
from core.programme.results import Feel
from core.programme.told import is_feel, split_results
from core.store import house
from core.store import house_tables as t
from core.usecases import results as deeds

MOST_ASKED = 3  # lifts that are asked about; the others may be told
FEELS = {"e": Feel.EASY, "r": Feel.RIGHT, "h": Feel.HARD}
NOT_COUNTED = re.compile(
    r"(?:i )?(?:skip(?: it| that)?|pass|no(?:pe|ne|thing)?|no (?:idea|clue|count)|not counted|(?:don.?t|can.?t) (?:know|remember|say)"
    r"|did(?: no|n.?)t (?:count|track|note|write)(?: (?:it|them|that))?(?: down)?|that(?:.?s| is) (?:all|it))[ .!]*",
    re.IGNORECASE,
)
_MINUTES = re.compile(r"(?:about )?(\d{1,3}) ?(?:m|min|mins|minutes)?")


async def ask(turn: Turn, client: Client, sent: RemoteSession, index: int = 0) -> None:
    """Ask about one lift of a session that was done; nothing where it has none left to ask about."""
    lifts = deeds.lifts_in(sent)[:MOST_ASKED]
    if index >= len(lifts):
        await turn.expect(lift=None)
        if index:
            await turn.say(of_training.lifts_end())
        return
    await turn.expect(lift=[sent.id, index])
    rows = [
        [
            button("Easy", "lift", sent.id, index, "e"),
            button("About right", "lift", sent.id, index, "r"),
            button("Too hard", "lift", sent.id, index, "h"),
        ],
        [button("Not counted", "nolift")],
    ]
    await turn.say(of_training.lift_question(lifts[index]["name"], first=index == 0), rows)


async def on_lift(turn: Turn, client: Client, args: Sequence[str]) -> None:
    """How one lift felt, by button."""
    sent = await _own(turn, client, int(args[0]))
    index = int(args[1])
    if sent is None or sent.done_at is None or index >= len(deeds.lifts_in(sent)):
        await turn.say(say.stale_button())
        return
    await turn.used()
    await deeds.keep_feel(turn.tx, client, sent, deeds.lifts_in(sent)[index], FEELS[args[2]], turn.at)
    await ask(turn, client, sent, index + 1)


async def on_no_lift(turn: Turn, client: Client, _args: Sequence[str]) -> None:
    await turn.used()
    await turn.expect(lift=None)


async def _own(turn: Turn, client: Client, number: int) -> RemoteSession | None:
    columns = t.remote_session.c
    return await house.sessions.find(turn.tx, columns.id == number, columns.client_id == client.id)


def minutes_in(turn: Turn, text: str) -> tuple[int, int] | None:
    """The ask and the minutes, where it was just asked how long a session took and the words are a number of minutes."""
    took = turn.dialogue.state.get("took")
    found = _MINUTES.fullmatch(text.casefold().strip(" .!"))
    return (int(took), int(found[1])) if took and found and 0 < int(found[1]) <= 300 else None


async def heard(turn: Turn, client: Client, text: str) -> str:
    """Take the results out of what a client wrote and keep them. Returns the rest, to be read as anything else."""
    sent = await deeds.session_to_tell(turn.tx, client, turn.at)
    asked = turn.dialogue.state.get("lift")
    if asked and NOT_COUNTED.fullmatch(text.strip()):
        await turn.expect(lift=None)
        await turn.say(of_training.not_counted())
        return ""
    told = split_results(text, asked=bool(asked))
    if sent is None or not (told.results or is_feel(text)):
        return text
    if not asked and is_feel(text):
        return await _all_of_it(turn, client, sent, text)
    lines, unread = [], []
    for clause in told.results:
        lift = deeds.lift_named(sent, clause) or _asked_about(sent, asked)
        kept = await deeds.keep_result(turn.tx, client, sent, lift, clause, turn.at) if lift else None
        if lift is None or kept is None:
            unread.append(clause)
        else:
            lines.append(of_training.lift_noted(lift["name"], result_words(kept)))
    if unread:
        lines.append(of_training.which_lift([lift["name"] for lift in deeds.lifts_in(sent)]))
    await turn.say("\n".join(lines))
    if asked and not unread and asked[0] == sent.id:
        await ask(turn, client, sent, asked[1] + 1)
    return told.rest


def _asked_about(sent: RemoteSession, asked: Sequence[int] | None) -> dict[str, Any] | None:
    """The lift that was asked about; else the only one there is."""
    lifts = deeds.lifts_in(sent)
    if asked and asked[0] == sent.id and asked[1] < len(lifts):
        return lifts[asked[1]]
    return lifts[0] if len(lifts) == 1 else None


async def _all_of_it(turn: Turn, client: Client, sent: RemoteSession, text: str) -> str:
    """'Too hard' about a whole session holds for each of its lifts."""
    feel = None
    for lift in deeds.lifts_in(sent):
        kept = await deeds.keep_result(turn.tx, client, sent, lift, text, turn.at)
        feel = kept.feel if kept is not None else feel
    await turn.say(of_training.lifts_noted(str(feel)))
    return ""
