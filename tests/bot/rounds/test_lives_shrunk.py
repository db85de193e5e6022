"""The same lives, with hypothesis at the dice: a fault comes down to the few steps that make it."""

import datetime as dt
import random
from collections.abc import Coroutine
from contextlib import ExitStack
from typing import Any

from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, rule
from typing_extensions import override

from tests.bot.rounds.lives import Lives
from tests.bot.rounds.memory_store import in_memory
from tests.bot.rounds.quickly import SLOW_WORDS, quickly
from tests.playhouse import Play

EXAMPLES, STEPS = 60, 40
USER = 7200
DICE = st.integers(0, 2**16)


def at_once(doing: Coroutine[Any, Any, Any]) -> None:
    """Run what never waits: everything is in memory."""
    try:
        doing.send(None)
    except StopIteration:
        return
    raise AssertionError("something waited")


class Week(RuleBasedStateMachine):
    """One client's weeks, step by step."""

    def __init__(self) -> None:
        super().__init__()
        self.house = ExitStack()
        self.lives: Lives

    @initialize(dice=DICE)
    def enter(self, dice: int) -> None:
        self.house.enter_context(quickly(random.Random(dice)))
        self.lives = Lives(Play(in_memory()), random.Random(dice), silent_on=SLOW_WORDS)
        at_once(self.lives.enter(1))

    @rule(hours=st.integers(1, 60))
    def time_passes(self, hours: int) -> None:
        at_once(self.lives.pass_time(dt.timedelta(hours=hours)))

    @rule(hours=st.sampled_from((3, 36, 220)))
    def the_machine_stops(self, hours: int) -> None:
        self.lives.play.at += dt.timedelta(hours=hours)

    @rule(dice=DICE)
    def a_button_is_pressed(self, dice: int) -> None:
        self.by(dice, self.lives.press_something(USER))

    @rule(dice=DICE)
    def something_is_said(self, dice: int) -> None:
        self.by(dice, self.lives.say_something(USER))

    @rule(dice=DICE)
    def a_trip(self, dice: int) -> None:
        self.by(dice, self.lives.travel(USER))

    @rule(dice=DICE)
    def a_setting(self, dice: int) -> None:
        self.by(dice, self.lives.change_something(USER))

    @rule(dice=DICE)
    def a_pause(self, dice: int) -> None:
        self.by(dice, self.lives.pause_or_stop(USER))

    @rule(dice=DICE)
    def a_red_flag(self, dice: int) -> None:
        self.by(dice, self.lives.raise_a_flag(USER))

    @rule(dice=DICE)
    def the_coach(self, dice: int) -> None:
        self.by(dice, self.lives.coach_acts())

    def by(self, dice: int, doing: Coroutine[Any, Any, None]) -> None:
        self.lives.dice.seed(dice)
        at_once(doing)

    @invariant()
    def no_fault(self) -> None:
        if hasattr(self, "lives"):
            assert self.lives.witness.faults == []

    @override
    def teardown(self) -> None:
        try:
            if hasattr(self, "lives"):
                at_once(self.lives.pass_time(dt.timedelta(days=16)))
                at_once(self.lives.witness.see_the_end())
                assert self.lives.witness.faults == []
        finally:
            self.house.close()


TestWeek = Week.TestCase
TestWeek.settings = settings(
    max_examples=EXAMPLES,
    stateful_step_count=STEPS,
    deadline=None,
    derandomize=True,
    database=None,
    suppress_health_check=list(HealthCheck),
)
