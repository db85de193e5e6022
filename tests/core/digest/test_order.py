from dataclasses import replace

import pytest

from core.digest.facts import ClientWeek
from core.digest.order import Need, in_order, is_well, needs
from tests.core.digest import an_invented_group as some


@pytest.mark.parametrize(
    ("client", "found"),
    [
        (some.FLAGGED, (Need.RED_FLAG, Need.FEWER)),
        (some.SILENT, (Need.SILENT, Need.NOT_KEPT, Need.FEWER)),
        (some.SORE, (Need.PAIN, Need.NOT_KEPT, Need.FEWER, Need.WORDS, Need.SLEEP)),
        (some.STEADY, ()),
        (some.AWAY, ()),
        (some.RESTING, ()),
        (some.OPEN, ()),
        (some.NEW, ()),
        (replace(some.STEADY, engaged=0.4), (Need.DRIFTING,)),
        (replace(some.STEADY, next_week=some.coming(2, talk_first=True)), (Need.TALK_FIRST, Need.FEWER)),
        (replace(some.STEADY, next_week=some.coming(2, talk_first=True, settled=2)), ()),
        (replace(some.STEADY, unwell=True), (Need.UNWELL,)),
        (replace(some.STEADY, unreachable=True), (Need.UNREACHABLE,)),
        (replace(some.STEADY, sleep=some.slept(6.4, need=8, nights=3, short=1)), (Need.SLEEP,)),
        (replace(some.STEADY, sleep=some.slept(6.6, need=8, nights=3, short=2)), ()),
        (replace(some.STEADY, next_week=some.coming(3, talk_first=True)), (Need.TALK_FIRST,)),
        (replace(some.OPEN, missed=1), (Need.NOT_KEPT,)),
    ],
)
def test_each_reason_to_think_of_a_client(client: ClientWeek, found: tuple[Need, ...]) -> None:
    assert needs(client) == found
    assert is_well(client) == (not found)


def test_who_needs_the_coach_most_comes_first_and_the_well_come_last_by_name() -> None:
    ordered = in_order((some.STEADY, some.SORE, some.AWAY, some.SILENT, some.FLAGGED))
    assert ordered == (some.FLAGGED, some.SILENT, some.SORE, some.STEADY, some.AWAY)


def test_of_two_with_the_same_need_the_one_with_more_reasons_and_the_likelier_gone_comes_first() -> None:
    alone, more = (
        replace(some.STEADY, said=("Hm.",)),
        replace(some.AWAY, engaged=0.97, said=("Hm.",), sleep=some.slept(5, short=5)),
    )
    assert in_order((alone, more)) == (more, alone)
    surer, likelier = replace(some.STEADY, engaged=0.45), replace(some.STEADY, engaged=0.3)
    assert in_order((surer, likelier)) == (likelier, surer)
