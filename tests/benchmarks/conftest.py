"""Benchmarks print figures and are run by hand: ``make benchmarks``."""

from pathlib import Path

import pytest

HERE = Path(__file__).parent


LONG = 3600  # seconds: figures take what they take, and a tester's patience is no measure of them


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    here = [item for item in items if HERE in item.path.parents]
    if config.getoption("markexpr") == "benchmark":
        for item in here:
            if item.get_closest_marker("timeout") is None:
                item.add_marker(pytest.mark.timeout(LONG))
        return
    items[:] = [item for item in items if HERE not in item.path.parents]
    config.hook.pytest_deselected(items=here)
