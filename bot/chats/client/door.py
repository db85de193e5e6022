"""Where everything that a client sends comes in, and which conversation it goes to."""

from collections.abc import Awaitable, Callable, Mapping, Sequence
from dataclasses import replace

from bot.chats.client import (
    answers,
    calendar,
    care,
    enrol,
    illness,
    lengths,
    lifts,
    lowering,
    moving,
    own,
    plan,
    reading,
    screening,
    sessions,
    trip_files,
    trip_words,
    trips,
    which_ask,
    words,
)
from bot.chats.incoming import Kind
from bot.chats.phrases import client as say
from bot.chats.phrases import coach as to_coach
from bot.chats.phrases import privacy
from bot.chats.strangers import is_a_link
from bot.chats.turn import Turn
from core.people.model import Client, Stage
from core.replies import understand
from core.replies.meaning import Asked, Urgency
from core.store import house
from core.usecases import silence

Press = Callable[[Turn, Client, Sequence[str]], Awaitable[None]]
Command = Callable[[Turn, Client], Awaitable[None]]
LONGEST_WORDS = 4096


async def _no_extra(turn: Turn, _client: Client, _args: Sequence[str]) -> None:
    await turn.used()


def _and_next_room(press: Press) -> Press:
    """Where several trips came in one file, their rooms are asked for one after another."""

    async def pressed(turn: Turn, client: Client, args: Sequence[str]) -> None:
        await press(turn, client, args)
        await trip_files.next_room(turn, client, int(args[0]))

    return pressed


BUTTONS: Mapping[str, Press] = {
    "agree": enrol.on_agree,
    "notnow": enrol.on_not_now,
    "e": enrol.on_button,
    "eback": enrol.on_back,
    "ehome": enrol.on_home,
    "change": enrol.on_change,
    "scr": screening.on_tick,
    "scrnone": screening.on_none,
    "scrdone": screening.on_done,
    "active": screening.on_active,
    "o": answers.on_outcome,
    "later": answers.on_later,
    "let": answers.on_let_go,
    "eff": answers.on_effort,
    "took": answers.on_took,
    "lift": lifts.on_lift,
    "nolift": lifts.on_no_lift,
    "undo": answers.on_undo,
    "better": illness.on_better,
    "noextra": _no_extra,
    "mv": moving.on_move,
    "mvto": moving.on_move_to,
    "both": moving.on_both,
    "swap": moving.on_swap,
    "take": plan.on_take,
    "days": plan.on_days,
    "day": plan.on_day,
    "daysok": plan.on_days_ok,
    "hour": plan.on_hour,
    "hourto": plan.on_hour_to,
    "length": lengths.on_back,
    "many": plan.on_many,
    "manyto": plan.on_many_to,
    "goes": lowering.on_goes,
    "trip_new": trips.on_new,
    "trip_at": trips.on_at,
    "trip_room": _and_next_room(trips.on_room),
    "trip_sea": _and_next_room(trips.on_sea),
    "trip_off": _and_next_room(trips.on_off),
    "icstake": trip_files.on_take,
    "icspick": trip_files.on_pick,
    "icson": trip_files.on_toggle,
    "icsat": trip_files.on_place,
    "icsno": trip_files.on_no,
    "show": sessions.on_show,
    "now": sessions.on_now,
    "ten": sessions.on_ten,
    "open": sessions.on_open,
    "step": sessions.on_step,
    "see": sessions.on_see,
    "lack": sessions.on_lack,
    "lackat": sessions.on_lack_at,
    "lackof": sessions.on_lack_of,
    "instead": sessions.on_take_instead,
    "sdone": sessions.on_session_done,
    "sshort": sessions.on_session_short,
    "flagyes": care.on_meant,
    "flagno": care.on_not_meant,
    "pause": own.on_pause,
    "meanwhile": own.on_meanwhile,
    "erase": own.on_erase,
    "keep": own.on_keep,
}
BEFORE_ACTIVE = frozenset(
    {
        "agree",
        "notnow",
        "e",
        "eback",
        "ehome",
        "scr",
        "scrnone",
        "scrdone",
        "active",
        "flagyes",
        "flagno",
        "erase",
        "keep",
    }
)


async def _help(turn: Turn, _client: Client) -> None:
    await turn.say(say.HELP)


async def _privacy(turn: Turn, _client: Client) -> None:
    await turn.say(privacy.POLICY)


async def _now(turn: Turn, client: Client) -> None:
    await sessions.on_now(turn, client, turn.incoming.argument.split())


async def _trip(turn: Turn, client: Client) -> None:
    """/trip, and a trip told in the same breath."""
    if turn.incoming.argument:
        await turn.expect(topic="trip", asked="nothing", want="place")
        await trip_words.hear(turn, client, turn.incoming.argument)
    else:
        await trips.show(turn, client)


async def _cancel(turn: Turn, _client: Client) -> None:
    """Leave what is open: a question of /settings, a trip that is being told, days that are being picked."""
    was_open = bool(turn.dialogue.topic)
    await turn.expect(topic="")
    await turn.say(say.left_open() if was_open else say.nothing_open())


async def _start(turn: Turn, client: Client) -> None:
    """A link of another coach is not taken: nobody has two. It still works for whom it was made."""
    if turn.incoming.argument and await is_a_link(turn):
        await turn.say(say.in_already(stopped=client.stage is Stage.STOPPED))
    elif client.stage is Stage.STOPPED:
        await turn.say(say.stopped())
    else:
        await turn.say(say.HELP)


COMMANDS: Mapping[str, Command] = {
    "help": _help,
    "cancel": _cancel,
    "start": _start,
    "privacy": _privacy,
    "week": own.week,
    "plan": plan.show,
    "trip": _trip,
    "now": _now,
    "pause": own.offer_pause,
    "settings": enrol.settings,
    "mine": own.mine,
    "calendar": calendar.offer,
    "export": own.export,
    "erase": own.offer_erase,
    "stop": own.stop,
    "back": own.back,
}
ALWAYS = frozenset({"help", "privacy", "export", "erase", "stop"})


async def enter(turn: Turn, client: Client) -> None:
    """One message of a client."""
    if turn.incoming.kind is Kind.MEMBER:
        await _member(turn, client)
        return
    client, turn.coming_back = await silence.hear(turn.tx, client, turn.at)
    turn.touched.add(client.id)
    welcomed = turn.coming_back and await reading.goes_on(turn, client)
    if welcomed:
        await own.welcome_back(turn, client)
    match turn.incoming.kind:
        case Kind.BUTTON:
            await _button(turn, client)
        case Kind.COMMAND:
            await _command(turn, client)
        case Kind.TEXT | Kind.EDIT:
            await _words(turn, client)
        case Kind.LOCATION:
            await (enrol if client.stage is Stage.ENROLLING else trips).on_location(turn, client)
        case Kind.MEDIA:
            await _media(turn, client)
        case _:
            await turn.say(say.cannot_use())
    if turn.coming_back and not welcomed:
        await own.welcome_if_still_here(turn, client.id)


async def _member(turn: Turn, client: Client) -> None:
    """Blocked or unblocked: we ask nothing of who cannot hear us, and the coach knows."""
    left = turn.incoming.left
    await house.clients.save(turn.tx, replace(client, unreachable=left))
    turn.touched.add(client.id)
    if left is not client.unreachable and client.stage is not Stage.STOPPED:
        coach = await house.coaches.get(turn.tx, client.coach_id)
        await turn.tell(
            coach.telegram_id, to_coach.unreachable(client) if left else to_coach.reachable(client)
        )


async def _button(turn: Turn, client: Client) -> None:
    pressed = turn.desk.signer.read(turn.incoming.button, turn.chat_id)
    handler = BUTTONS.get(pressed[0]) if pressed else None
    if (
        pressed is None
        or handler is None
        or (client.stage is not Stage.ACTIVE and pressed[0] not in BEFORE_ACTIVE)
    ):
        await turn.say(say.stale_button())
        return
    await handler(turn, client, pressed[1])


async def _command(turn: Turn, client: Client) -> None:
    command = turn.incoming.command
    handler = COMMANDS.get(command)
    if handler is None:
        await turn.say(say.unknown_command(command))
    elif client.stage is Stage.ENROLLING and command not in ALWAYS:
        await enrol.resume(turn, client)
    elif client.stage is Stage.STOPPED and command not in {*ALWAYS, "back", "start"}:
        await turn.say(say.stopped())  # who has stopped is not begun with again by looking something up
    else:
        await handler(turn, client)


async def _words(turn: Turn, client: Client) -> None:
    text = turn.incoming.text[:LONGEST_WORDS]
    if await _is_red_flag(turn, client, text):
        return
    if client.stage is Stage.ENROLLING:
        await _while_enrolling(turn, client, text)
    elif client.stage is Stage.STOPPED or (client.paused_until is not None and reading.is_coming_back(text)):
        if reading.is_coming_back(text):
            await own.back(turn, client)
        elif reading.STOP.fullmatch(text.strip()):
            await turn.say(say.stopped())
        else:
            coach = await care.pass_on(turn, client, text, "note")
            await turn.say(say.passed_on_while_stopped(coach.name))
    elif turn.dialogue.topic == "enrol" and turn.dialogue.state.get("alone"):
        await enrol.on_words(turn, client)
    elif turn.dialogue.topic == "trip" and not text.lower().startswith(("coach", "done", "stop")):
        await trip_words.hear(turn, client, text)
    elif turn.dialogue.topic != "pause" or not await own.pause_in_words(turn, client, text):
        await _of_the_week(turn, client, text)


async def _while_enrolling(turn: Turn, client: Client, text: str) -> None:
    """What is for the coach goes there at any time; then the question that is open is put again."""
    if client.consented_at is not None and reading.TO_THE_COACH.match(text):
        coach = await care.pass_on(turn, client, text, "question" if "?" in text else "note")
        await turn.say(say.passed_on(coach.name))
        await enrol.resume(turn, client)
    elif reading.STOP.fullmatch(text.strip()):
        await own.stop(turn, client)
    else:
        await enrol.on_words(turn, client)


async def _of_the_week(turn: Turn, client: Client, text: str) -> None:
    """Minutes that were asked for and results of lifts first; the rest is read as anything else."""
    took = lifts.minutes_in(turn, text)
    ask = await answers.own_ask(turn, client, took[0]) if took is not None else None
    if took is not None and ask is not None:
        await answers.note_effort(turn, client, ask, minutes=took[1])
        return
    rest = await lifts.heard(turn, client, text)
    if rest:
        await words.hear(turn, client, rest)


async def _is_red_flag(turn: Turn, client: Client, text: str) -> bool:
    """Look for a sign of danger before everything else, at whatever stage."""
    if client.consented_at is None:
        return False
    zone = (await house.circumstances(turn.tx, client)).where.zone_at(turn.at)
    urgent = understand(text, asked=Asked.NOTHING, now=turn.at, zone=zone).urgent
    if urgent is Urgency.ALARM:
        await care.alarm(turn, client, text)
    elif urgent is Urgency.ASK:
        await care.ask_whether_meant(turn, client, text)
    return urgent is not None


async def _media(turn: Turn, client: Client) -> None:
    if turn.incoming.text and await _is_red_flag(turn, client, turn.incoming.text):
        await care.pass_on_media(turn, client)
        return
    if client.stage is Stage.ENROLLING:
        await enrol.resume(turn, client)
    elif turn.incoming.media == "sticker":
        waiting = await which_ask.waiting(turn, client)
        rows = answers.outcome_rows(waiting.id) if waiting is not None and waiting.is_open else ()
        await turn.say(say.sticker(about_a_session=bool(rows)), rows)
    elif client.stage is Stage.ACTIVE and trip_files.is_calendar(turn.incoming):
        await trip_files.take(turn, client)
    else:
        await care.pass_on_media(turn, client)
        if turn.incoming.text and client.stage is Stage.ACTIVE:
            await words.hear_caption(turn, client, turn.incoming.text[:LONGEST_WORDS])
