"""The coach's own: exercises with cues and a video, and whole sessions in own words, kept for again."""

from collections.abc import Sequence
from typing import Any

from bot.chats.buttons import Button, button
from bot.chats.coach import drafting, push
from bot.chats.incoming import Kind as In
from bot.chats.phrases import coach as say
from bot.chats.phrases import own as of_own
from bot.chats.phrases import pushing as of_pushing
from bot.chats.phrases import year as of_year
from bot.chats.phrases.common import room_label
from bot.chats.turn import Turn
from core.errors import Refused
from core.people.model import Coach
from core.programme.kept import OwnExercise, OwnSession
from core.programme.movements import Load
from core.programme.own import avoided_by_own
from core.programme.own_words import title_of
from core.programme.words import ROOM_WORDS
from core.store import programme as shelves
from core.store import programme_tables as p
from core.terms import Pattern, Room
from core.usecases import own as deeds
from core.usecases import sessions

LONGEST_NAME, LONGEST_CUE, MOST_CUES = 60, 200, 8
MOST_SHOWN = 30
# What resists where the coach names only the room: the best that it has.
LOADS = {
    Room.NONE: Load.BODY,
    Room.BANDS: Load.BAND,
    Room.DUMBBELLS: Load.DUMBBELL,
    Room.HOTEL_GYM: Load.CABLE,
    Room.FULL_GYM: Load.BARBELL,
}


async def show(turn: Turn, coach: Coach) -> None:
    """/own: what there is, and how to add to it."""
    exercises = await shelves.exercises_of(turn.tx, coach.id)
    kept = await shelves.sessions_of(turn.tx, coach.id)
    rows = [[button("Add an exercise", "oadd"), button("Write a session", "owrite")]]
    rows += [[button(e.name[:40], "olook", "e", e.id)] for e in exercises[:MOST_SHOWN]]
    rows += [[button(s.title[:40], "olook", "s", s.id)] for s in kept[:MOST_SHOWN]]
    await turn.expect(topic="")
    if not exercises and not kept:
        await turn.say(of_own.own_none(), rows)
    else:
        await turn.say(of_own.own([e.name for e in exercises], [s.title for s in kept]), rows)


# --- an exercise, one question after another --------------------------------------------------------------------------


async def on_add(turn: Turn, coach: Coach, _args: Sequence[str]) -> None:
    await turn.expect(topic="own", want="name")
    await turn.say(of_own.own_name())


async def on_words(turn: Turn, coach: Coach) -> None:
    """What the coach writes or sends while something of their own is being added."""
    want = turn.dialogue.state.get("want")
    if turn.incoming.kind is In.MEDIA:
        await (_media(turn, coach) if want == "media" else turn.say(say.unknown()))
    elif want == "name":
        await _name(turn)
    elif want == "pattern" and (word := _term(Pattern, turn.incoming.text)):
        await on_pattern(turn, coach, [word])
    elif want == "room" and (word := _term(Room, turn.incoming.text)):
        await on_room(turn, coach, [word])
    elif want == "pattern":
        await turn.say(of_own.own_pattern(str(turn.dialogue.state["name"])), _pattern_rows())
    elif want == "room":
        await turn.say(of_own.own_room(), _room_rows())
    elif want == "cues":
        await _cues(turn, coach, turn.incoming.text)
    elif want == "session":
        await _session(turn)
    else:
        await turn.say(say.unknown())


async def _name(turn: Turn) -> None:
    name = " ".join(turn.incoming.text.split())
    if not 1 <= len(name) <= LONGEST_NAME:
        await turn.say(of_own.own_name_length(LONGEST_NAME))
        return
    await turn.remember({"name": name, "want": "pattern"})
    await turn.say(of_own.own_pattern(name), _pattern_rows())


def _pattern_rows() -> list[list[Button]]:
    return [[button(each.value, "opat", each.value)] for each in Pattern]


def _room_rows() -> list[list[Button]]:
    return [[button(ROOM_WORDS[each], "oroom", each.value)] for each in Room]


def _term(words: type[Pattern] | type[Room], said: str) -> str:
    """The term that was typed instead of tapped, or nothing."""
    return next((each.value for each in words if each.value == said.strip().casefold()), "")


async def on_pattern(turn: Turn, coach: Coach, args: Sequence[str]) -> None:
    if turn.dialogue.topic != "own" or "name" not in turn.dialogue.state:
        await turn.say(say.stale_button())
        return
    await turn.used()
    await turn.remember({"pattern": Pattern(args[0]).value, "want": "room"})
    await turn.say(of_own.own_room(), _room_rows())


async def on_room(turn: Turn, coach: Coach, args: Sequence[str]) -> None:
    if turn.dialogue.topic != "own" or "pattern" not in turn.dialogue.state:
        await turn.say(say.stale_button())
        return
    await turn.used()
    await turn.remember({"room": Room(args[0]).value, "want": "cues"})
    avoids = sorted(avoided_by_own(Pattern(turn.dialogue.state["pattern"]), ""))
    await turn.say(of_own.own_cues(avoids), [[button("No cues", "onocue")]])


async def on_no_cues(turn: Turn, coach: Coach, _args: Sequence[str]) -> None:
    await turn.used()
    await _cues(turn, coach, "")


async def _cues(turn: Turn, coach: Coach, words: str) -> None:
    """The exercise is whole: keep it, and offer a video or voice note for it."""
    state = turn.dialogue.state
    if turn.dialogue.topic != "own" or state.get("want") != "cues":
        await turn.say(say.stale_button())
        return
    cues = [line.strip()[:LONGEST_CUE] for line in words.splitlines() if line.strip()][:MOST_CUES]
    try:
        kept = await deeds.add_exercise(turn.tx, _exercise(turn, coach, state, cues))
    except Refused as refused:
        await turn.say("\n".join(refused.lines))
        return
    await turn.remember({"want": "media", "media_key": kept.key, "media_name": kept.name})
    added = of_own.own_added(kept.name, kept.pattern.value, ROOM_WORDS[kept.room])
    await turn.say(f"{added}\n{of_own.own_media(kept.name)}", [[button("No, it is done", "onomedia")]])


def _exercise(turn: Turn, coach: Coach, state: dict[str, Any], cues: list[str]) -> OwnExercise:
    room = Room(state["room"])
    return OwnExercise(
        id=0,
        coach_id=coach.id,
        name=str(state["name"]),
        pattern=Pattern(state["pattern"]),
        room=room,
        load=LOADS[room].value,
        cues=cues,
        made_at=turn.at,
    )


async def _media(turn: Turn, coach: Coach) -> None:
    state = turn.dialogue.state
    if await drafting.keep_media(turn, coach, str(state["media_key"])):
        await turn.expect(topic="")
        await turn.say(of_pushing.media_kept(str(state["media_name"])))


async def on_no_media(turn: Turn, coach: Coach, _args: Sequence[str]) -> None:
    await turn.used()
    await show(turn, coach)


# --- a whole session --------------------------------------------------------------------------------------------------


async def on_write(turn: Turn, coach: Coach, _args: Sequence[str]) -> None:
    await turn.expect(topic="own", want="session")
    await turn.say(of_own.own_session_words())


async def _session(turn: Turn) -> None:
    words = turn.incoming.text.strip()
    if len(words) > push.MOST_WORDS:
        await turn.say(say.too_long())
        return
    await ask_where_it_fits(turn, words, Room.NONE, 30)


async def on_keep(turn: Turn, coach: Coach, _args: Sequence[str]) -> None:
    """'Keep it for again' under a draft in own words: it can still be sent."""
    drafted = turn.dialogue.state.get("draft")
    if not isinstance(drafted, dict) or "words" not in drafted:
        await turn.say(say.stale_button())
        return
    await ask_where_it_fits(turn, str(drafted["words"]), *push.wanted(turn))


async def ask_where_it_fits(turn: Turn, words: str, room: Room, minutes: int) -> None:
    await turn.remember({"keeping": {"words": words, "room": room.value, "minutes": minutes}})
    await turn.say(of_own.own_session_fit(title_of(words)), _fit_rows(room, minutes))


def _fit_rows(room: Room, minutes: int) -> list[list[Button]]:
    rooms = [button(f"{room_label(r)} •" if r is room else room_label(r), "ofit", "r", r.value) for r in Room]
    lengths = sorted({*push.MINUTES, minutes})
    times = [button(f"{m} •" if m == minutes else str(m), "ofit", "m", m) for m in lengths]
    return [times, rooms[:3], rooms[3:], [button("Keep it", "okeep")]]


async def on_fit(turn: Turn, coach: Coach, args: Sequence[str]) -> None:
    keeping = turn.dialogue.state.get("keeping")
    if keeping is None:
        await turn.say(say.stale_button())
        return
    changed = {**keeping, **({"room": args[1]} if args[0] == "r" else {"minutes": int(args[1])})}
    await turn.remember({"keeping": changed})
    rows = _fit_rows(Room(changed["room"]), int(changed["minutes"]))
    await turn.edit_here(of_own.own_session_fit(title_of(changed["words"])), rows)


async def on_kept(turn: Turn, coach: Coach, _args: Sequence[str]) -> None:
    keeping = turn.dialogue.state.get("keeping")
    if keeping is None:
        await turn.say(say.stale_button())
        return
    await turn.used()
    new = OwnSession(
        id=0,
        coach_id=coach.id,
        title=title_of(keeping["words"]),
        words=keeping["words"],
        room=Room(keeping["room"]),
        minutes=int(keeping["minutes"]),
        made_at=turn.at,
    )
    try:
        kept = await deeds.keep_session(turn.tx, new)
    except Refused as refused:
        await turn.say("\n".join(refused.lines))
        return
    await turn.remember({"keeping": None, "want": ""})
    await turn.say(of_own.own_session_kept(kept.title, ROOM_WORDS[kept.room], kept.minutes))


# --- looking, taking away, sending again ------------------------------------------------------------------------------


async def _exercise_of(turn: Turn, coach: Coach, number: str) -> OwnExercise | None:
    columns = p.own_exercise.c
    return await shelves.own_exercises.find(turn.tx, columns.id == int(number), columns.coach_id == coach.id)


async def _session_of(turn: Turn, coach: Coach, number: str) -> OwnSession | None:
    columns = p.own_session.c
    return await shelves.own_sessions.find(turn.tx, columns.id == int(number), columns.coach_id == coach.id)


async def on_look(turn: Turn, coach: Coach, args: Sequence[str]) -> None:
    kind, number = args
    if kind == "e":
        exercise = await _exercise_of(turn, coach, number)
        if exercise is not None:
            await _look_at_exercise(turn, coach, exercise)
            return
    else:
        session = await _session_of(turn, coach, number)
        if session is not None:
            words = f"{session.words}\n\n{ROOM_WORDS[session.room]}, {session.minutes} minutes"
            await turn.say(of_own.own_look(words), [[button("Take it away", "otake", "s", session.id)]])
            return
    await turn.say(say.stale_button())


async def _look_at_exercise(turn: Turn, coach: Coach, exercise: OwnExercise) -> None:
    cues = "\n".join(f"– {cue}" for cue in exercise.cues)
    words = f"{exercise.name}: {exercise.pattern.value}, {ROOM_WORDS[exercise.room]}\n{cues}".strip()
    rows = [[button("Video or voice note", "omedia", exercise.id)]]
    rows.append([button("Take it away", "otake", "e", exercise.id)])
    await turn.say(of_own.own_look(words), rows)


async def on_media_for(turn: Turn, coach: Coach, args: Sequence[str]) -> None:
    exercise = await _exercise_of(turn, coach, args[0])
    if exercise is None:
        await turn.say(say.stale_button())
        return
    await turn.expect(topic="own", want="media")
    await drafting.ask_for_media(turn, coach, exercise.key, exercise.name)


async def on_take_away(turn: Turn, coach: Coach, args: Sequence[str]) -> None:
    kind, number = args
    exercise = await _exercise_of(turn, coach, number) if kind == "e" else None
    session = await _session_of(turn, coach, number) if kind == "s" else None
    if exercise is None and session is None:
        await turn.say(say.stale_button())
        return
    await turn.used()
    if exercise is not None:
        notes = p.media_note.c
        await shelves.media_notes.remove(turn.tx, notes.coach_id == coach.id, notes.exercise == exercise.key)
        await shelves.own_exercises.remove(turn.tx, p.own_exercise.c.id == exercise.id)
        await turn.say(of_own.own_gone(exercise.name))
    elif session is not None:
        await shelves.own_sessions.remove(turn.tx, p.own_session.c.id == session.id)
        await turn.say(of_own.own_gone(session.title))


async def on_one_of_mine(turn: Turn, coach: Coach, args: Sequence[str]) -> None:
    """'One of mine' while pushing: which; then it is the draft."""
    if not args:
        kept = (await shelves.sessions_of(turn.tx, coach.id))[:MOST_SHOWN]
        rows = [[button(f"{s.title[:30]}, {s.minutes}", "pown", s.id)] for s in kept]
        await turn.say(of_own.which_of_yours() if kept else of_year.no_own_sessions(), rows)
        return
    session = await _session_of(turn, coach, args[0])
    if session is None or turn.dialogue.topic != "push":
        await turn.say(say.stale_button())
        return
    await turn.used()
    library = await deeds.library_of(turn.tx, coach.id)
    await push.show(turn, coach, sessions.from_own(session, library))
