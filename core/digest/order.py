"""Who needs the coach, why, and who first."""

import enum
from collections.abc import Iterator, Sequence

from core.digest.facts import ClientWeek

_DRIFTING = 0.5  # engaged, below which a talk is worth more than a number
_SHORT_NIGHTS = 3  # in a week
_BELOW_NEED = 1.5  # hours a night


class Need(enum.IntEnum):
    """Why a client needs the coach, the most pressing first."""

    RED_FLAG = enum.auto()
    SILENT = enum.auto()
    TALK_FIRST = enum.auto()
    DRIFTING = enum.auto()
    PAIN = enum.auto()
    UNWELL = enum.auto()
    UNREACHABLE = enum.auto()
    NOT_KEPT = enum.auto()
    FEWER = enum.auto()
    WORDS = enum.auto()
    SLEEP = enum.auto()


def needs(client: ClientWeek) -> tuple[Need, ...]:
    """Every reason for which a client needs thought, the most pressing first; none where all is well."""
    return tuple(sorted(_found(client)))


def _found(client: ClientWeek) -> Iterator[Need]:
    coming = client.next_week if client.next_week is not None and client.next_week.settled is None else None
    reasons = {
        Need.RED_FLAG: bool(client.red_flags),
        Need.SILENT: client.silent_since is not None,
        Need.TALK_FIRST: coming is not None and coming.talk_first,
        Need.DRIFTING: not client.silent_since and client.engaged is not None and client.engaged < _DRIFTING,
        Need.PAIN: bool(client.pain),
        Need.UNWELL: client.unwell,
        Need.UNREACHABLE: client.unreachable,
        Need.NOT_KEPT: client.broken > 0,
        Need.FEWER: coming is not None and coming.is_lower,
        Need.WORDS: bool(client.said),
        Need.SLEEP: sleeps_badly(client),
    }
    return (need for need, holds in reasons.items() if holds)


def sleeps_badly(client: ClientWeek) -> bool:
    """Three nights under seven hours, or an hour and a half below the client's own need (common sense, no source)."""
    sleep = client.sleep
    return sleep is not None and (sleep.short >= _SHORT_NIGHTS or (sleep.below_need or 0) >= _BELOW_NEED)


def is_well(client: ClientWeek) -> bool:
    return not needs(client)


def in_order(clients: Sequence[ClientWeek]) -> tuple[ClientWeek, ...]:
    """Who needs the coach most first; those who are well last, by name."""
    return tuple(sorted(clients, key=_rank))


def _rank(client: ClientWeek) -> tuple[int, int, float, int, str]:
    found = needs(client)
    if not found:
        return (len(Need) + 1, 0, 0.0, 0, client.name.casefold())
    engaged = 1.0 if client.engaged is None else client.engaged
    return (found[0], -len(found), engaged, -client.broken, client.name.casefold())
