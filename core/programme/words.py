"""A session in plain words: whole, or one exercise after another. No markup: who sends it escapes it."""

from collections.abc import Sequence
from types import MappingProxyType

from core.how_many import how_many
from core.programme.explain import NOTHING_LEFT_OUT
from core.programme.movements import Exercise, Library
from core.programme.session import Part, Planned, Session
from core.terms import Block, Room

_LETTERS = "ABCDEFGH"
ROOM_WORDS = MappingProxyType(
    {
        Room.NONE: "no equipment",
        Room.BANDS: "bands",
        Room.DUMBBELLS: "dumbbells",
        Room.HOTEL_GYM: "a hotel gym",
        Room.FULL_GYM: "a full gym",
    }
)


def session_words(session: Session) -> str:
    """The whole session, as one message."""
    parts = [
        heading(session),
        warm_up_words(session),
        work_words(session),
        finish_words(session),
        after_words(session),
    ]
    return "\n\n".join(part for part in parts if part)


def session_cards(session: Session, library: Library) -> list[str]:
    """The session one message after another: the warm-up, each exercise (or pair) with how to do it, the finish."""
    groups = groups_of(session.exercises)
    count = len(groups)
    cards = [f"{heading(session)}\n\n{warm_up_words(session)}"]
    cards += [_card(group, f"{index} of {count}", library) for index, group in enumerate(groups, start=1)]
    if session.block is Block.POWER_ENDURANCE:
        cards.insert(1, f"A circuit: {circuit_words(session.exercises)}")
    closing = "\n\n".join(part for part in (finish_words(session), after_words(session)) if part)
    return [*cards, closing] if closing else cards


def heading(session: Session) -> str:
    minutes = round(session.estimated_seconds / 60)
    return (
        f"{str(session.block).capitalize()}, about {minutes} min, {ROOM_WORDS[session.room]}.\n{session.why}"
    )


def warm_up_words(session: Session) -> str:
    return (
        "Warm-up, "
        + minutes_words(session.warm_up)
        + "\n"
        + "\n".join(part_words(part) for part in session.warm_up)
    )


def finish_words(session: Session) -> str:
    if not session.finish:
        return ""
    return (
        "To finish, "
        + minutes_words(session.finish)
        + "\n"
        + "\n".join(part_words(part) for part in session.finish)
    )


def after_words(session: Session) -> str:
    """What was left out, if anything, and what to take care of."""
    whole = session.left_out == NOTHING_LEFT_OUT
    first = [] if whole else [f"Left out: {_lower_first(session.left_out)}"]
    return "\n".join([*first, *session.cautions])


def minutes_words(parts: Sequence[Part]) -> str:
    seconds = sum(part.seconds for part in parts)
    return f"{round(seconds / 60)} min" if seconds >= 90 else f"{seconds} s"


def part_words(part: Part) -> str:
    return f"– {part.name}: {part.dose}"


def groups_of(exercises: Sequence[Planned]) -> list[list[Planned]]:
    """Exercises as they are done: one alone, or two that alternate."""
    groups: list[list[Planned]] = []
    for each in exercises:
        if groups and groups[-1][-1].alternates_with == each.name and len(groups[-1]) == 1:
            groups[-1].append(each)
        else:
            groups.append([each])
    return groups


def work_words(session: Session) -> str:
    """The exercises, lettered; two that alternate share a letter."""
    if session.block is Block.POWER_ENDURANCE:
        lines = [
            f"{index}. {each.name}: {amount_words(each)}"
            for index, each in enumerate(session.exercises, start=1)
        ]
        return "\n".join([f"Circuit: {circuit_words(session.exercises)}", *lines])
    lines = []
    for letter, group in zip(_LETTERS, groups_of(session.exercises), strict=False):
        lines += _group_lines(letter, group)
    return "\n".join(lines)


def _group_lines(letter: str, group: Sequence[Planned]) -> list[str]:
    if len(group) == 1:
        return [f"{letter}. {exercise_words(group[0])}; {rest_words(group[0])}"]
    lines = [f"{letter}{number}. {exercise_words(each)}" for number, each in enumerate(group, start=1)]
    return [*lines, f"   in turns, {group[0].rest_s} s rest after each set"]


def circuit_words(exercises: Sequence[Planned]) -> str:
    rounds, rest = exercises[0].sets, exercises[0].rest_s
    return f"{how_many(rounds, 'round')}, one after another, light and fast, {rest} s between them"


def exercise_words(each: Planned) -> str:
    """'Back squat, 4 × 4 to 6, 2 left in reserve, 82.5 kg'."""
    said = [f"{each.name}, {each.sets} × {amount_words(each)}", effort_words(each)]
    if each.kg is not None:
        said.append(f"{kg_words(each.kg)}")
    said.append(each.note)
    return ", ".join(word for word in said if word)


def amount_words(each: Planned) -> str:
    many = str(each.high) if each.low == each.high else f"{each.low} to {each.high}"
    unit = each.unit.replace("repetitions", "").replace("seconds", "s").replace("metres", "m").strip()
    return f"{many} {unit}".strip()


def effort_words(each: Planned) -> str:
    if each.unit.startswith("seconds"):
        return ""
    if each.fast:
        return "fast: stop when you slow down"
    return "to the last clean one" if each.rir == 0 else f"{each.rir} left in reserve"


def rest_words(each: Planned) -> str:
    if each.sets == 1:
        return f"then {each.rest_s} s rest"
    minutes = each.rest_s / 60
    return f"rest {minutes:g} min" if each.rest_s >= 120 else f"rest {each.rest_s} s"


def kg_words(kg: float) -> str:
    return f"{kg:g} kg"


def how_to(exercise: Exercise) -> str:
    """Set-up, cues and common faults."""
    cues = [f"– {cue}" for cue in exercise.cues]
    faults = (
        f"Watch for: {'; '.join(_lower_first(fault) for fault in exercise.faults)}."
        if exercise.faults
        else ""
    )
    return "\n".join(line for line in (exercise.set_up, *cues, faults) if line)


def _card(group: Sequence[Planned], place: str, library: Library) -> str:
    """One exercise, or two that alternate, with how to do them."""
    blocks = [place]
    for each in group:
        known = library.by_key.get(each.key)
        blocks.append(
            "\n".join(part for part in (exercise_words(each), how_to(known) if known else "") if part)
        )
    first = group[0]
    blocks.append(
        f"In turns, {first.rest_s} s rest after each set."
        if len(group) > 1
        else f"{rest_words(first).capitalize()}."
    )
    return "\n\n".join(blocks)


def _lower_first(text: str) -> str:
    return text[:1].lower() + text[1:]
