"""Where everything that a coach sends comes in, and which conversation it goes to."""

import re
from collections.abc import Awaitable, Callable, Mapping, Sequence
from dataclasses import replace

from bot.chats.coach import (
    asking,
    clients,
    drafting,
    files,
    flags,
    history,
    lifts,
    own,
    programme,
    push,
    settle,
    setup,
    talk,
    trips,
    year,
)
from bot.chats.incoming import Kind
from bot.chats.phrases import client as to_client
from bot.chats.phrases import coach as say
from bot.chats.phrases import privacy
from bot.chats.strangers import is_a_link
from bot.chats.turn import Turn
from core.people.model import Coach, Stage
from core.people.names import folded
from core.store import house
from core.usecases.schedule import reschedule_coach

Press = Callable[[Turn, Coach, Sequence[str]], Awaitable[None]]
Command = Callable[[Turn, Coach], Awaitable[None]]

BUTTONS: Mapping[str, Press] = {
    "czone": setup.on_zone,
    "cplace": setup.on_place,
    "chour": setup.on_hour,
    "csetup": setup.on_setup,
    "chours": setup.on_hours,
    "craise": setup.on_raise,
    "confirm": clients.on_confirm,
    "hold": clients.on_hold,
    "look": clients.on_look,
    "relink": clients.on_relink,
    "remove": clients.on_remove,
    "removeyes": clients.on_remove_yes,
    "removeno": clients.on_remove_no,
    "conf": clients.on_confidence,
    "floor": clients.on_floor,
    "asking": asking.on_asking,
    "accept": settle.on_accept,
    "acceptall": settle.on_accept_all,
    "holdw": settle.on_hold,
    "other": settle.on_other,
    "set": settle.on_set,
    "leave": settle.on_leave,
    "write": talk.on_write,
    "to": talk.on_to,
    "toall": talk.on_to_all,
    "toend": talk.on_to_end,
    "ctrip": trips.on_new,
    "ctroom": trips.on_room,
    "ctsea": trips.on_sea,
    "ctoff": trips.on_off,
    "flagseen": flags.on_seen,
    "flagclear": flags.on_clear,
    "pushto": push.on_push_to,
    "pto": push.on_choose,
    "pgo": push.on_go,
    "pmin": push.on_minutes,
    "proom": push.on_room,
    "pdraft": push.on_draft,
    "psend": push.on_send,
    "pcancel": push.on_cancel,
    "pmorn": push.on_morning,
    "pswap": drafting.on_swap,
    "pswapto": drafting.on_swap_to,
    "pstep": drafting.on_step,
    "plen": drafting.on_length,
    "pline": drafting.on_line,
    "pmedia": drafting.on_media_for,
    "mlook": drafting.on_look_at_media,
    "mgone": drafting.on_media_gone,
    "pown": own.on_one_of_mine,
    "pkeep": own.on_keep,
    "oadd": own.on_add,
    "opat": own.on_pattern,
    "oroom": own.on_room,
    "onocue": own.on_no_cues,
    "onomedia": own.on_no_media,
    "owrite": own.on_write,
    "ofit": own.on_fit,
    "okeep": own.on_kept,
    "olook": own.on_look,
    "omedia": own.on_media_for,
    "otake": own.on_take_away,
    "lifts": lifts.on_lifts,
    "sheet": programme.on_client,
    "fclient": files.on_client,
    "fwhose": files.on_whose,
    "ftake": files.on_take,
    "fundo": files.on_undo,
    "pundo": files.on_undo_programme,
    "fleave": files.on_leave,
    "year": year.on_year,
    "yweeks": year.on_weeks,
    "yclear": year.on_clear,
    "ylay": year.on_lay_out,
    "yok": year.on_accept,
    "yagain": year.on_again,
}


async def _start(turn: Turn, coach: Coach) -> None:
    """The coach tried a client's link out: it is not used up."""
    if turn.incoming.argument and await is_a_link(turn):
        await turn.say(say.not_your_link())
    else:
        await _help(turn, coach)


async def _help(turn: Turn, coach: Coach) -> None:
    if coach.stage is Stage.ENROLLING:
        await setup.begin(turn, coach)
    else:
        await turn.say(say.HELP)


async def _privacy(turn: Turn, _coach: Coach) -> None:
    await turn.say(privacy.POLICY)


async def _invite(turn: Turn, coach: Coach) -> None:
    await clients.on_invite(turn, coach, turn.incoming.argument)


async def _cancel(turn: Turn, _coach: Coach) -> None:
    topic = turn.dialogue.topic
    await turn.expect(topic="")
    await turn.say(say.cancelled(topic))


COMMANDS: Mapping[str, Command] = {
    "help": _help,
    "start": _start,
    "privacy": _privacy,
    "invite": _invite,
    "clients": clients.everybody,
    "settings": setup.settings,
    "push": push.choose,
    "sent": push.receipts,
    "own": own.show,
    "lifts": lifts.choose,
    "programme": programme.choose,
    "year": year.choose,
    "write": talk.choose,
    "digest": history.digest_again,
    "history": history.send,
    "cancel": _cancel,
}


async def _name(turn: Turn, coach: Coach) -> None:
    await clients.on_invite(turn, coach, turn.incoming.text)


# Commands that a name may follow, and the button that does the same for one client.
OF_ONE_CLIENT = {
    "write": "write", "clients": "look", "lifts": "lifts", "year": "year", "programme": "sheet", "push": "pushto",
}  # fmt: skip
COURTESY = re.compile(
    r"(?:(?:ok|okay|thanks|thank you|thx|cheers|great|perfect|good|fine|nice|super)[,.! ]*)+", re.IGNORECASE
)
GREETING = re.compile(
    r"(?:hello|hi|hey|good (?:morning|evening|afternoon|day))(?: there)?[,.! ]*", re.IGNORECASE
)
TOPICS: Mapping[str, Command] = {
    "invite": _name,
    "setup": setup.on_words,
    "confirm": clients.on_note,
    "clear": flags.on_note,
    "write": talk.deliver,
    "push": drafting.on_words,
    "own": own.on_words,
    "year": year.on_words,
    "ctrip": trips.in_words,
}


# What is written next would go to a client, clear a red flag or name somebody new: after a command it does not any more.
WAITS_FOR_WORDS = frozenset({"write", "clear", "confirm", "invite", "ctrip"})
TAKE_MEDIA = frozenset({"write", "push", "own"})
DRAFTS = frozenset({"push", "own", "year"})  # what is written next would take the place of what was written
KEPT_IN_WORDS = frozenset({"clear", "confirm"})  # a note that is kept: it can be read again years later


async def enter(turn: Turn, coach: Coach) -> None:
    """One message of a coach."""
    left = turn.incoming.kind is Kind.MEMBER and turn.incoming.left
    if left is not coach.unreachable:
        coach = await _gone_or_back(turn, coach, left=left)
    match turn.incoming.kind:
        case Kind.MEMBER:
            pass
        case Kind.BUTTON:
            await _button(turn, coach)
        case Kind.COMMAND:
            if turn.dialogue.topic in WAITS_FOR_WORDS and turn.incoming.command != "cancel":
                await turn.expect(topic="")
            if await _of_one_client(turn, coach):
                return
            handler = COMMANDS.get(turn.incoming.command)
            await (
                handler(turn, coach)
                if handler
                else turn.say(to_client.unknown_command(turn.incoming.command))
            )
        case Kind.LOCATION:
            await _location(turn, coach)
        case Kind.TEXT | Kind.MEDIA:
            await _words(turn, coach)
        case Kind.EDIT:  # what was passed on is with the client already; a correction is a message of its own
            await _changed(turn, coach)
        case _:
            await turn.say(say.unknown())


async def _changed(turn: Turn, coach: Coach) -> None:
    client = await talk.client_replied_to(turn, coach)
    if client is not None:
        await turn.say(say.change_stays_here(client))


async def _gone_or_back(turn: Turn, coach: Coach, *, left: bool) -> Coach:
    """Blocked, or there again: also by a word of theirs, since news of an unblocked bot may be lost. Then digests come again."""
    known = await house.coaches.lock(turn.tx, coach.id)
    changed = await house.coaches.save(turn.tx, replace(known, unreachable=left))
    await reschedule_coach(turn.tx, changed, turn.at)
    return changed


async def _of_one_client(turn: Turn, coach: Coach) -> bool:
    """'/write Mara', '/lifts Mara': straight to the one client of that name. False where no name, or no single one, is meant."""
    verb, words = OF_ONE_CLIENT.get(turn.incoming.command), folded(turn.incoming.argument).split()
    if verb is None or not words:
        return False
    everybody = [(folded(client.name), client) for client in await house.clients_of(turn.tx, coach.id)]
    for length in range(len(words), 0, -1):
        said = " ".join(words[:length])
        found = [c for name, c in everybody if name == said] or [
            c for name, c in everybody if name.startswith(said)
        ]
        if len(found) == 1:
            await BUTTONS[verb](turn, coach, [str(found[0].id)])
            return True
    return False


async def _location(turn: Turn, coach: Coach) -> None:
    """A place is for a client where it answers one or was to be written; else it is where the coach is."""
    client = await talk.client_replied_to(turn, coach)
    if client is not None:
        await talk.send_to(turn, coach, [client])
    elif turn.dialogue.topic == "write":
        await talk.deliver(turn, coach)
    else:
        await setup.on_location(turn, coach)


async def _button(turn: Turn, coach: Coach) -> None:
    pressed = turn.desk.signer.read(turn.incoming.button, turn.chat_id)
    handler = BUTTONS.get(pressed[0]) if pressed else None
    if pressed is None or handler is None:
        await turn.say(say.stale_button())
        return
    await handler(turn, coach, pressed[1])


async def _words(turn: Turn, coach: Coach) -> None:
    """A file that was read first; a reply to a client's words goes to that client; else the open topic takes it."""
    if turn.brought is not None:
        await files.take(turn, coach)
        return
    client = await talk.client_replied_to(turn, coach)
    if client is not None:
        await talk.send_to(turn, coach, [client])
        return
    topic = turn.dialogue.topic
    if turn.incoming.media == "document" and topic != "write":
        await files.not_read(turn, coach)
    elif turn.incoming.kind is Kind.MEDIA and topic not in TAKE_MEDIA:
        await turn.say(say.in_words(topic) if topic in KEPT_IN_WORDS else say.unknown())
    elif topic in DRAFTS and COURTESY.fullmatch(turn.incoming.text.strip()):
        await turn.say(say.welcome_to_it())  # and what was written before stays as it is
    elif topic in TOPICS:
        await TOPICS[topic](turn, coach)
    elif coach.stage is Stage.ENROLLING:
        await setup.begin(turn, coach)
    else:
        await turn.say(_small_talk(turn.incoming.text.strip()))


def _small_talk(words: str) -> str:
    if COURTESY.fullmatch(words):
        return say.welcome_to_it()
    return say.hello() if GREETING.fullmatch(words) else say.unknown()
