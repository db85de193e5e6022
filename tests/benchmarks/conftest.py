"""Benchmarks print figures and are run by hand: ``make benchmarks``."""

from pathlib import Path

import pytest

HERE = Path(__file__).parent


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    if config.getoption("markexpr") == "benchmark":
        return
    here = [item for item in items if HERE in item.path.parents]
    items[:] = [item for item in items if HERE not in item.path.parents]
    config.hook.pytest_deselected(items=here)
