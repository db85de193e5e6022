"""The odds of the forecast against the true odds of simulated worlds, beside simple rules and the best that could be said."""

from functools import cache
from typing import Final

import numpy as np
import pytest

from tests.worlds.judging import CEILING, OURS, Judged, judge, together
from tests.worlds.law import Law
from tests.worlds.laws import LAWS
from tests.worlds.open_loop import tell

CLIENTS, CUTOFFS, SEEDS = 300, (6, 10, 14, 18, 22), (1, 2, 3)
NAMES: Final = {law.name: law for law in LAWS}


@cache
def judged(law: Law) -> Judged:
    return together([judge(tell(law, seed=seed, clients=CLIENTS, cutoffs=CUTOFFS)) for seed in SEEDS])


@pytest.mark.benchmark
@pytest.mark.parametrize("name", NAMES)
def test_open_loop(name: str) -> None:
    told = judged(NAMES[name])
    print(f"\n\n{name}: log loss over sizes 1 to 7, {len(SEEDS)} x {CLIENTS} clients, weeks {CUTOFFS}")
    for method in told.said:
        mean, low, high = told.ahead(method)
        beside = "" if method == OURS else f"   ours less by {mean:7.4f} ({low:7.4f} to {high:7.4f})"
        print(f"  {method:<16}{told.loss(method).mean():8.4f}{beside}")
    print(f"  share of the gap from {told.best_simple} to the ceiling closed: {told.share:.2f}")
    print(f"  calibration error: {told.miscalibration:.3f}")
    assert all(told.ahead(method)[1] > 0 for method in told.said if method not in {OURS, CEILING})


@pytest.mark.benchmark
def test_open_loop_of_all_worlds() -> None:
    shares = {name: judged(law).share for name, law in NAMES.items()}
    print(f"\n\n{'world':<28}{'share closed':>14}{'calibration error':>20}")
    for name, law in NAMES.items():
        print(f"{name:<28}{shares[name]:14.2f}{judged(law).miscalibration:20.3f}")
    pooled = together([judged(law) for law in LAWS]).miscalibration
    print(
        f"{'mean':<28}{np.mean(list(shares.values())):14.2f}{pooled:20.3f}  (calibration of all worlds pooled)"
    )
    print(f"{'worst':<28}{min(shares.values()):14.2f}")
    assert min(shares.values()) > 0
