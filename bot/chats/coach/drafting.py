"""Changing a draft before it is sent: another exercise, easier or harder, shorter or longer, a line, a video or voice note."""

import re
from collections.abc import Sequence
from typing import Any

from bot.chats.buttons import Button, button
from bot.chats.coach import push
from bot.chats.incoming import Kind as In
from bot.chats.phrases import coach as say
from bot.chats.phrases import pushing as of_pushing
from bot.chats.turn import Turn
from core.people.model import Coach
from core.programme.kept import MediaNote
from core.programme.results import LiftResult
from core.programme.session import LONGEST, SHORTEST
from core.store import programme as shelves
from core.store import programme_tables as p
from core.usecases import own
from core.usecases import sessions as deeds
from core.usecases.results import lasts_of

MOST_OFFERED = 8
MEDIA = frozenset({"video", "video_note", "voice", "audio", "animation"})
LONGEST_LINE = 500
MINUTES = re.compile(r"(\d{1,3})\s*(?:m|min|mins|minutes)?\.?", re.IGNORECASE)  # no session in own words


def _draft(turn: Turn) -> dict[str, Any] | None:
    found = turn.dialogue.state.get("draft")
    return found if turn.dialogue.topic == "push" and isinstance(found, dict) else None


async def _lasts(turn: Turn, coach: Coach) -> tuple[LiftResult, ...]:
    """The results that weights follow from: only where the session is for one client."""
    clients = await push.chosen_clients(turn, coach)
    return await lasts_of(turn.tx, clients[0].id) if len(clients) == 1 else ()


# --- exercises --------------------------------------------------------------------------------------------------------


async def on_swap(turn: Turn, coach: Coach, args: Sequence[str]) -> None:
    """Which exercise shall go; then, for one of them, what may come."""
    drafted = _draft(turn)
    if drafted is None or "session" not in drafted:
        await turn.say(say.stale_button())
    elif not args:
        await turn.say(of_pushing.swap_which(), _exercise_rows(drafted, "pswap"))
    else:
        await _offer(turn, coach, drafted, int(args[0]))


def _exercise_rows(drafted: dict[str, Any], verb: str) -> list[list[Button]]:
    return [[button(name[:40], verb, n)] for n, (_, name) in enumerate(deeds.exercises_in(drafted))]


async def _offer(turn: Turn, coach: Coach, drafted: dict[str, Any], index: int) -> None:
    library = await own.library_of(turn.tx, coach.id)
    lifts = deeds.exercises_in(drafted)
    if index >= len(lifts):
        await turn.say(say.stale_button())
        return
    offers = deeds.alternatives(drafted, index, library)[:MOST_OFFERED]
    await turn.used()
    rows = [[button(e.name[:40], "pswapto", index, e.key)] for e in offers]
    await turn.say(of_pushing.swap_for(lifts[index][1], any_left=bool(offers)), rows)


async def on_swap_to(turn: Turn, coach: Coach, args: Sequence[str]) -> None:
    drafted = _draft(turn)
    library = await own.library_of(turn.tx, coach.id)
    index, key = int(args[0]), args[1]
    offers = deeds.alternatives(drafted, index, library) if drafted is not None else ()
    chosen = next((e for e in offers if e.key == key), None)
    if drafted is None or chosen is None:
        await turn.say(say.stale_button())
        return
    await turn.used()
    changed = deeds.swapped(drafted, index, chosen, library, await _lasts(turn, coach))
    await push.show(turn, coach, changed)


async def on_step(turn: Turn, coach: Coach, args: Sequence[str]) -> None:
    """All of it a step easier or harder."""
    drafted = _draft(turn)
    if drafted is None or "session" not in drafted:
        await turn.say(say.stale_button())
        return
    await turn.used()
    library = await own.library_of(turn.tx, coach.id)
    changed = deeds.stepped(drafted, library, await _lasts(turn, coach), harder=args[0] == "h")
    await push.show(turn, coach, changed)


async def on_length(turn: Turn, coach: Coach, args: Sequence[str]) -> None:
    """Built anew for other minutes; what was swapped away stays away, what came for it and the coach's line stay."""
    drafted = _draft(turn)
    if drafted is None or "session" not in drafted:
        await turn.say(say.stale_button())
        return
    minutes = deeds.next_length(int(drafted["minutes"]), longer=args[0] == "l")
    if minutes is None:
        await turn.say(of_pushing.no_length_left(int(drafted["minutes"])))
        return
    await turn.used()
    await turn.remember({"minutes": minutes})
    gone, instead = drafted.get("without", []), drafted.get("wanted", [])
    line = str(drafted.get("line", ""))
    await push.draft(turn, coach, without=gone, instead=instead, line=line)


# --- a line -----------------------------------------------------------------------------------------------------------


async def on_line(turn: Turn, coach: Coach, _args: Sequence[str]) -> None:
    if _draft(turn) is None:
        await turn.say(say.stale_button())
        return
    await turn.remember({"do": "line"})
    await turn.say(of_pushing.line_how())


async def on_words(turn: Turn, coach: Coach) -> None:
    """What the coach writes or sends while a session is being pushed: a line, media, else a session in own words."""
    drafted, doing = _draft(turn), turn.dialogue.state.get("do", "")
    if turn.incoming.kind is In.MEDIA:
        await (on_media(turn, coach) if doing == "media" else turn.say(of_pushing.media_for_what()))
    elif doing == "line" and drafted is not None:
        library = await own.library_of(turn.tx, coach.id)
        line = turn.incoming.text.strip()[:LONGEST_LINE]
        await push.show(turn, coach, deeds.with_line(drafted, line, library))
    elif drafted is None and (minutes := MINUTES.fullmatch(turn.incoming.text.strip())):
        await push.on_minutes(turn, coach, [str(min(max(int(minutes[1]), SHORTEST), LONGEST))])
    else:
        await push.in_own_words(turn, coach)


# --- a video or voice note --------------------------------------------------------------------------------------------


async def on_media_for(turn: Turn, coach: Coach, args: Sequence[str]) -> None:
    """For which exercise; then wait for what the coach sends."""
    drafted = _draft(turn)
    lifts = deeds.exercises_in(drafted) if drafted is not None else []
    if drafted is None or not lifts or (args and int(args[0]) >= len(lifts)):
        await turn.say(say.stale_button())
    elif not args:
        await turn.say(of_pushing.media_which(), _exercise_rows(drafted, "pmedia"))
    else:
        key, name = lifts[int(args[0])]
        await turn.used()
        await ask_for_media(turn, coach, key, name)


async def ask_for_media(turn: Turn, coach: Coach, key: str, name: str) -> None:
    known = (await shelves.media_of(turn.tx, coach.id)).get(key)
    await turn.remember({"do": "media", "media_key": key, "media_name": name})
    rows = []
    if known is not None:
        rows = [[button("Look at it", "mlook", key), button("Go without", "mgone", key)]]
    await turn.say(of_pushing.media_how(name, known=known is not None), rows)


async def on_media(turn: Turn, coach: Coach) -> None:
    """A video or voice note came: it stays with its exercise."""
    state = turn.dialogue.state
    if not await keep_media(turn, coach, str(state["media_key"])):
        return
    await turn.say(of_pushing.media_kept(str(state["media_name"])))
    drafted = _draft(turn)
    if drafted is not None:
        await push.show(turn, coach, drafted)


async def keep_media(turn: Turn, coach: Coach, key: str) -> bool:
    """Keep what was just sent for an exercise; False (and a sentence) where it is no video or voice note."""
    if turn.incoming.media not in MEDIA or turn.incoming.message_id is None:
        await turn.say(of_pushing.media_kinds())
        return False
    note = MediaNote(
        id=0,
        coach_id=coach.id,
        exercise=key,
        media=turn.incoming.media,
        chat_id=turn.chat_id,
        message_id=turn.incoming.message_id,
        made_at=turn.at,
    )
    await shelves.attach(turn.tx, note)
    return True


async def on_look_at_media(turn: Turn, coach: Coach, args: Sequence[str]) -> None:
    note = (await shelves.media_of(turn.tx, coach.id)).get(args[0])
    if note is None:
        await turn.say(say.stale_button())
        return
    body = {"from_chat_id": note.chat_id, "message_id": note.message_id}
    await turn.speaker.send(turn.chat_id, "copyMessage", body)


async def on_media_gone(turn: Turn, coach: Coach, args: Sequence[str]) -> None:
    await turn.used()
    where = (p.media_note.c.coach_id == coach.id, p.media_note.c.exercise == args[0])
    await shelves.media_notes.remove(turn.tx, *where)
    await turn.say(of_pushing.media_gone(str(turn.dialogue.state.get("media_name", "The exercise"))))
    drafted = _draft(turn)
    if drafted is not None:
        await push.show(turn, coach, drafted)
