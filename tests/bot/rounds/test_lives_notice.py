"""The simulation notices when a rule is taken away: each is, one at a time, and the lives that follow must show a fault."""

import itertools
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any

import pytest

from bot.chats.client import lowering
from bot.rounds import closing, one_client
from core.adherence import promise
from core.calendar import quiet
from core.store import house
from core.terms import Outcome
from core.usecases import history, settle, silence
from core.week import agenda, answering, planning, settling
from core.week.circumstances import Circumstances
from core.week.model import Ask
from tests.bot.rounds.quickly import live_quickly

NUMBERS = itertools.count()
MOST_LIVES = 40  # of two clients and six weeks


@dataclass(frozen=True, slots=True)
class Rule:
    """A rule, and what takes it away; `shows` stands in the fault that must follow."""

    name: str
    without: tuple[tuple[Any, str, Callable[..., Any]], ...]
    shows: str


def nothing(*_: object, **__: object) -> None:
    return None


def yes(*_: object, **__: object) -> bool:
    return True


def no(*_: object, **__: object) -> bool:
    return False


async def none_found(*_: object) -> None:
    return None


RULES = [
    Rule("no raise after a week that was not kept", ((promise, "no_raise", nothing),), "(no raise)"),
    Rule("one more at a time", ((promise, "one_more", nothing),), "recommended where"),
    Rule("half after a lay-off", ((promise, "after_lay_off", nothing),), "(lay-off)"),
    Rule(
        "nobody but the coach raises",
        ((settling, "assumed", lambda number, *_, **__: number),),
        "settled by nobody",
    ),
    Rule("two up need a yes", ((settling, "without_answer", lambda settled, _: settled),), "without a yes"),
    Rule("after a miss a week keeps its number", ((lowering, "has_missed", no),), "had a miss and went"),
    Rule(
        "quiet hours",
        ((quiet, "is_quiet", no), (quiet, "wakes_at", lambda at, *_: at), (Circumstances, "is_quiet", no)),
        "in quiet hours",
    ),
    Rule("a pause", ((Circumstances, "is_paused_on", no),), "in a pause"),
    Rule("out of reach", ((Circumstances, "hears", lambda life, at: not life.is_quiet(at)),), "out of reach"),
    Rule("the budget", ((one_client, "may_send", yes),), "a day:"),
    Rule(
        "quiet after an unanswered day",
        ((one_client, "is_after_unanswered_day", no),),
        "after an unanswered day",
    ),
    Rule(
        "every ask ends",
        (
            (
                agenda,
                "of_promise",
                lambda asks: [a for a in asks if a.prompted_at is None and not a.withdrawn],
            ),
        ),
        "has no end",
    ),
    Rule("a red flag stops prompts", ((house, "open_red_flag", none_found),), "under a red flag"),
    Rule("two silent days", ((silence, "falls_silent", nothing),), "is not silent"),
    Rule(
        "an unplanned session fills an ask", ((answering, "filled_by_unplanned", nothing),), "made an extra"
    ),
    Rule("a closed week is closed", ((answering, "may_correct", yes),), "'s closed"),
    Rule("what is withdrawn has no row", ((history, "has_row", yes),), "the history says"),
    Rule("no more asks than promised", ((settle, "to_go", lambda _asks, _number: []),), "asks and promises"),
    Rule(
        "what was never asked is withdrawn",
        ((closing, "withdraw", lambda ask: replace(ask, outcome=Outcome.UNANSWERED)),),
        "was never asked",
    ),
    Rule(
        "a session stays in its week",
        ((planning, "usable_days", lambda week, *_, **__: list(week.next().days())),),
        "is not in",  # the house itself refuses it, aloud
    ),
    Rule(
        "no prompt twice",
        (
            (Ask, "needs_prompt", Ask.is_open),
            (agenda, "prompt_key", lambda ask, kind: f"ask:{ask.id}:{next(NUMBERS)}:{kind}"),
        ),
        "twice",
    ),
]


@pytest.mark.parametrize("rule", RULES, ids=[rule.name for rule in RULES])
async def test_a_rule_that_is_taken_away_is_missed(rule: Rule) -> None:
    for seed in range(5000, 5000 + MOST_LIVES):
        if any(rule.shows in fault for fault in await faults_without(rule, seed)):
            return
    pytest.fail(f"nobody missed it in {MOST_LIVES} lives")


async def faults_without(rule: Rule, seed: int) -> list[str]:
    """What the witness says, or what the house says where it goes no further."""
    try:
        lives = await live_quickly(seed, clients=2, weeks=6, without=rule.without)
    except ValueError as refused:
        return [str(refused)]
    return lives.witness.faults
