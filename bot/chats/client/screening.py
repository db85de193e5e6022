"""The screening before the first session. It decides nothing for good: the coach confirms."""

from collections.abc import Sequence
from dataclasses import replace

from bot.chats.buttons import Button, button
from bot.chats.phrases import client as to_client
from bot.chats.phrases import coach as to_coach
from bot.chats.phrases import enrol as say
from bot.chats.turn import Turn
from core.people.model import Client, Stage
from core.people.records import ScreeningAnswers
from core.store import house
from core.store.lanes import Kind
from core.wellbeing.screening import (
    ACTIVE,
    FOR_CLIENT,
    NONE_OF_THESE,
    QUESTIONS,
    Screening,
    Verdict,
    screen,
)

STEP = "screening"
ACTIVE_FROM = 3  # sessions a week: below it nobody is active in the sense of the algorithm, and the question is not asked


async def ask(turn: Turn, _client: Client) -> None:
    """Put the questions, also again: what was ticked before stays ticked."""
    yes = _ticked(turn)
    await turn.expect(topic="enrol", step=STEP, yes=yes)
    await turn.say(_question(), _rows(yes))


def _ticked(turn: Turn) -> list[str]:
    """The signs and diseases that are ticked, in this screening."""
    if turn.dialogue.state.get("step") != STEP:
        return []
    return [key for key in turn.dialogue.state.get("yes", []) if key != NONE_OF_THESE]


def _question() -> str:
    lines = [f"{n}. {q.text}" for n, q in enumerate(QUESTIONS, start=1)]
    return say.SCREENING.format("\n".join(lines))


def _rows(yes: Sequence[str]) -> list[list[Button]]:
    buttons = [
        button(f"{n} •" if q.key in yes else str(n), "scr", n) for n, q in enumerate(QUESTIONS, start=1)
    ]
    rows = [buttons[i : i + 4] for i in range(0, len(buttons), 4)]
    last = button(say.GO_ON, "scrdone") if yes else button(say.NONE_OF_THESE, "scrnone")
    return [*rows, [last]]


async def on_tick(turn: Turn, _client: Client, args: Sequence[str]) -> None:
    """Mark one sign or disease, or take the mark away."""
    number = int(args[0]) if args and args[0].isdecimal() else 0
    if turn.dialogue.state.get("step") != STEP or not 1 <= number <= len(QUESTIONS):
        await turn.say(to_client.stale_button())
        return
    key, ticked = QUESTIONS[number - 1].key, _ticked(turn)
    yes = [k for k in ticked if k != key] if key in ticked else [*ticked, key]
    await turn.expect(yes=yes)
    await turn.edit_here(_question(), _rows(yes))


async def on_none(turn: Turn, client: Client, _args: Sequence[str]) -> None:
    await turn.used()
    await _active_or_end(turn, client, [NONE_OF_THESE])


async def on_done(turn: Turn, client: Client, _args: Sequence[str]) -> None:
    """'Go on', with what is ticked. Nothing ticked is no answer: that has a button of its own."""
    await turn.used()
    ticked = _ticked(turn)
    if turn.dialogue.state.get("step") == STEP and not ticked:
        await ask(turn, client)
        return
    await _active_or_end(turn, client, ticked)


async def _active_or_end(turn: Turn, client: Client, yes: Sequence[str]) -> None:
    if turn.dialogue.state.get("step") != STEP:
        await turn.say(to_client.stale_button())
        return
    if (client.lately or 0) < ACTIVE_FROM:
        await _end(turn, client, yes, active=False)
        return
    await turn.expect(yes=list(yes))
    await turn.say(ACTIVE, [[button("Yes", "active", 1), button("No", "active", 0)]])


async def on_active(turn: Turn, client: Client, args: Sequence[str]) -> None:
    await turn.used()
    if turn.dialogue.state.get("step") != STEP:
        await turn.say(to_client.stale_button())
        return
    yes = turn.dialogue.state.get("yes", [])
    await _end(turn, client, yes, active="1" in args[:1])


async def _end(turn: Turn, client: Client, yes: Sequence[str], *, active: bool) -> None:
    """Keep the answers, show everything to read over, and ask the coach to confirm."""
    declared = frozenset(yes) - {NONE_OF_THESE}
    verdict = screen(Screening(active=active, yes_to=declared))
    await house.screenings.add(
        turn.tx,
        ScreeningAnswers(
            id=0,
            client_id=client.id,
            answers={"yes": sorted(declared), "active": active, "verdict": verdict.value},
            answered_at=turn.at,
        ),
    )
    waiting = client if client.stage is Stage.ACTIVE else replace(client, stage=Stage.WAITING)
    await house.clients.save(turn.tx, waiting)
    await turn.expect(topic="")
    flag = await house.open_red_flag(turn.tx, client.id)
    await turn.say(say.summary(waiting, FOR_CLIENT[verdict] if flag is None else say.FLAGGED))
    coach = await house.coaches.get(turn.tx, client.coach_id)
    await turn.tell(
        coach.telegram_id,
        to_coach.screening(waiting, verdict, [q.text for q in QUESTIONS if q.key in declared], flag),
        [[button(to_coach.CONFIRM, "confirm", client.id), button(to_coach.NOT_YET, "hold", client.id)]],
        kind=Kind.COACH_NOTE,
    )


def latest(screenings: Sequence[ScreeningAnswers]) -> ScreeningAnswers | None:
    return max(screenings, key=lambda s: (s.answered_at, s.id), default=None)


def may_train_without_doctor(answers: ScreeningAnswers) -> bool:
    return Verdict(answers.answers["verdict"]).may_train
