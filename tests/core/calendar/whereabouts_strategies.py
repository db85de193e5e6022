"""Invented whereabouts for property tests: homes and trips over the zones that are hardest to get right."""

import datetime as dt

from hypothesis import strategies as st

from core.calendar.quiet import QuietHours
from core.calendar.trips import Stay, Trip, Whereabouts

ZONES = (
    "Europe/London",
    "Africa/Cairo",
    "America/Havana",
    "America/Santiago",
    "America/St_Johns",
    "Asia/Kathmandu",
    "Australia/Lord_Howe",
    "Pacific/Apia",
    "Pacific/Auckland",
    "Pacific/Chatham",
    "Pacific/Honolulu",
    "Pacific/Kiritimati",
    "Pacific/Pago_Pago",
    "Antarctica/Troll",
)
BEGINNING = dt.datetime(2026, 1, 1, tzinfo=dt.UTC)

zones = st.sampled_from(ZONES)
days = st.dates(dt.date(2026, 1, 1), dt.date(2027, 12, 31))
times = st.times().map(lambda time: time.replace(second=0, microsecond=0))
instants = st.integers(0, 60 * 24 * 700).map(lambda minutes: BEGINNING + dt.timedelta(minutes=minutes))
leads = st.integers(0, 180).map(lambda minutes: dt.timedelta(minutes=minutes))
quiets = st.one_of(st.just(QuietHours()), st.builds(QuietHours, times, times))


@st.composite
def trips(draw: st.DrawFn, in_reach: st.SearchStrategy[bool]) -> Trip:
    first = draw(days)
    nights = draw(st.one_of(st.none(), st.integers(0, 20)))
    last = None if nights is None else first + dt.timedelta(days=nights)
    return Trip(place="Elsewhere", zone=draw(zones), first=first, last=last, in_reach=draw(in_reach))


def _whereabouts(in_reach: st.SearchStrategy[bool]) -> st.SearchStrategy[Whereabouts]:
    return st.builds(
        Whereabouts, st.builds(Stay, zone=zones), st.lists(trips(in_reach), max_size=4).map(tuple)
    )


whereabouts = _whereabouts(st.booleans())
whereabouts_in_reach = _whereabouts(st.just(value=True))
