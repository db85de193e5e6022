"""Promises followed for half a year in simulated worlds: what is kept and done, beside who knows the true odds, and simple rules."""

from collections.abc import Callable
from functools import cache, partial
from typing import Final

import pytest

from tests.worlds.closed_loop import (
    Policy,
    Run,
    fixed,
    follow,
    knowing_the_law,
    one_up_one_down,
    oracle,
    ours,
    up_after_three,
)
from tests.worlds.law import Law
from tests.worlds.laws import LAWS

CLIENTS, WEEKS, SEED = 200, 26, 1
NAMES: Final = {law.name: law for law in LAWS}
ORACLE, OURS, EXPLORING = "oracle", "forecast", "forecast, exploring taken"
POLICIES: Final[dict[str, Callable[[], Policy]]] = {
    ORACLE: oracle,
    "who knows the law": knowing_the_law,
    OURS: ours,
    EXPLORING: lambda: ours(exploring=True),
    "one up, one down": lambda: one_up_one_down,
    "up after three": up_after_three,
    **{f"always {size}": partial(fixed, size) for size in (1, 2, 3, 4)},
}
CONFIDENCES: Final = (0.5, 0.6, 0.7, 0.8, 0.9, 0.95)


@cache
def run(law: Law, policy: str) -> Run:
    return follow(law, POLICIES[policy](), seed=SEED, clients=CLIENTS, weeks=WEEKS)


@pytest.mark.benchmark
@pytest.mark.parametrize("name", NAMES)
def test_closed_loop(name: str) -> None:
    law = NAMES[name]
    print(f"\n\n{name}: {CLIENTS} clients, {WEEKS} weeks, confidence 0.8")
    print(
        f"  {'promises by':<28}{'kept':>7}{'done a week':>13}{'of the oracle':>15}{'promised':>10}"
        f"{'step up':>9}{'raises after a broken week':>28}"
    )
    for policy in POLICIES:
        told = run(law, policy)
        step, raises = told.steps_up()
        print(
            f"  {policy:<28}{told.kept_share:7.3f}{told.done_a_week:13.2f}{told.done_a_week / run(law, ORACLE).done_a_week:15.2f}"
            f"{told.mean_promise:10.2f}{step:9}{raises:28}"
        )
    ours_told = run(law, OURS)
    wait, alarms, lapses = ours_told.drift()
    print(f"  the forecast said {ours_told.optimism:+.3f} more of its promises than was true")
    said, true, enough = ours_told.just_short()
    print(
        f"  of one more than it promised, where it said 0.7 to 0.8: said {said:.2f}, true {true:.2f}; 0.8 was true of {enough:.0%}"
    )
    print(
        f"  {lapses} lapses, engaged < 0.5 after {wait} weeks (median); {alarms:.2f} false alarms a client-year"
    )
    assert ours_told.kept_share >= 0.8
    assert ours_told.steps_up() == (1, 0)


@pytest.mark.benchmark
@pytest.mark.parametrize("name", NAMES)
def test_frontier(name: str) -> None:
    print(f"\n\n{name}: the forecast's promises over confidence")
    for confidence in CONFIDENCES:
        told = follow(NAMES[name], ours(confidence), seed=SEED, clients=CLIENTS, weeks=WEEKS)
        print(
            f"  {confidence:<6}kept {told.kept_share:.3f}   done a week {told.done_a_week:.2f}   promised {told.mean_promise:.2f}"
        )
