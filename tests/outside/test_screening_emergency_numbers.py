"""Emergency numbers against the public data of libphonenumber (short numbers, 'emergency', by ISO country).

Where two numbers are given, because that data and general knowledge differ, one of them at least must be in it.
"""

import csv
import re
from importlib import resources

import pytest
from phonenumbers.phonemetadata import PhoneMetadata
from phonenumbers.shortdata import _AVAILABLE_REGION_CODES

from core.wellbeing.cautions import UNKNOWN_PLACE, emergency_number

TABLE = (
    resources.files("core.wellbeing")
    .joinpath("emergency_numbers.csv")
    .read_text(encoding="utf-8")
    .splitlines()
)
ROWS = {row["country"]: row["number"] for row in csv.DictReader(TABLE)}


@pytest.mark.parametrize("country", sorted(ROWS))
def test_a_number_that_is_given_is_an_emergency_number_there(country: str) -> None:
    metadata = PhoneMetadata.short_metadata_for_region(country)
    assert metadata is not None
    assert metadata.emergency is not None
    pattern = metadata.emergency.national_number_pattern or "none"
    numbers = re.split(" or ", emergency_number(country))
    assert any(re.fullmatch(pattern, number) for number in numbers), pattern


def test_nearly_all_countries_have_a_number() -> None:
    missing = sorted(set(_AVAILABLE_REGION_CODES) - set(ROWS))
    assert len(missing) <= 15, missing


def test_a_country_that_nobody_knows_has_the_general_sentence() -> None:
    """112 reaches help from a mobile telephone in most of the world: ETSI TS 122 101, section 10 (from memory)."""
    for country in (None, "", "XX", "AQ"):
        assert emergency_number(country) == UNKNOWN_PLACE == "112, or the local emergency number"


@pytest.mark.parametrize(
    ("country", "number"),
    [
        ("PT", "112"),
        ("gb", "999 or 112"),
        ("US", "911"),
        ("AU", "000"),
        ("NZ", "111"),
        ("JP", "119"),
        ("SG", "995"),
        ("BR", "192"),
    ],
)
def test_some_that_everybody_knows(country: str, number: str) -> None:
    """General knowledge."""
    assert emergency_number(country) == number
