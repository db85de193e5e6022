"""A group that no coach would wish for: everything that can happen in a week happens often."""

import dataclasses

from bot.rehearsal.cast import CAST, Cast
from bot.rehearsal.temper import Temper

WILD = {
    "colds": 0.15,
    "extras": 0.4,
    "wonders": 0.2,
    "wanders": 0.3,
    "pauses": 0.06,
    "stops": 0.04,
    "blocks": 0.05,
    "hurts": 0.15,
    "alarms": 0.03,
    "muddles": 0.25,
    "words": 0.5,
}


def wilder(temper: Temper) -> Temper:
    return dataclasses.replace(temper, **WILD, drifts=max(temper.drifts, 0.06))


def wild(cast: Cast = CAST) -> Cast:
    members = tuple(dataclasses.replace(m, temper=wilder(m.temper)) for m in cast.members)
    return dataclasses.replace(cast, members=members)
