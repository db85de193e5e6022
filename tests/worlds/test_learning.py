"""What is learnt of a population: effects that are in a world's law are found, and others come out near nothing."""

from functools import cache

import pytest

from core.adherence.forecast import fit
from core.adherence.parameters import Parameters
from tests.worlds.law import Law
from tests.worlds.laws import LAWS, Fatigue, Habit
from tests.worlds.open_loop import sunday, tell

WEEKS = 14


@cache
def learnt(law: Law) -> Parameters:
    story = tell(law, seed=7, clients=60, cutoffs=(WEEKS,), draws=1, cloud=2)
    return fit(story.known(WEEKS), sunday(WEEKS - 1)).parameters


def ids(law: Law) -> str:
    return law.name


@pytest.mark.parametrize("law", [law for law in LAWS if not isinstance(law, Habit)], ids=ids)
def test_where_kept_and_broken_weeks_leave_no_mark_next_to_none_is_learnt(law: Law) -> None:
    """In logits of a session's chance, for one kept and one broken week together."""
    assert learnt(law).habit + learnt(law).sting < 0.1


def test_where_a_habit_grows_and_wears_off_it_is_learnt() -> None:
    [law] = [law for law in LAWS if isinstance(law, Habit)]
    assert learnt(law).habit > 0.08
    assert learnt(law).sting > 0.1


@pytest.mark.parametrize("law", [law for law in LAWS if not isinstance(law, Fatigue)], ids=ids)
def test_where_a_session_does_not_weigh_on_the_next_no_wear_is_learnt(law: Law) -> None:
    assert learnt(law).wear < 0.05


def test_where_every_session_tires_for_the_next_wear_is_learnt() -> None:
    [law] = [law for law in LAWS if isinstance(law, Fatigue)]
    assert learnt(law).wear > 0.1
