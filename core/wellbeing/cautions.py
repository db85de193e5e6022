"""What is said when someone may be in danger, and the number to call where they are.

The numbers (emergency_numbers.csv: ISO 3166 country, the number for medical help) are general knowledge, checked in the tests
against the public data of libphonenumber; a country where they are in doubt is left out, and the general sentence holds.
"""

import csv
import functools
from importlib import resources

UNKNOWN_PLACE = "112, or the local emergency number"

PHYSIOTHERAPIST = (
    "This has come up several times now. Please have a physiotherapist or a doctor look at it; "
    "until then we train around it."
)


@functools.cache
def _numbers() -> dict[str, str]:
    table = resources.files("core.wellbeing").joinpath("emergency_numbers.csv").read_text(encoding="utf-8")
    return {row["country"]: row["number"] for row in csv.DictReader(table.splitlines())}


def emergency_number(country: str | None) -> str:
    """What to dial for medical help in a country (ISO 3166, two letters), in words where nobody knows."""
    return _numbers().get((country or "").upper(), UNKNOWN_PLACE)


def safety_message(country: str | None) -> str:
    """What a client reads at once after naming a sign that may be serious, even one that has passed."""
    return (
        "Please stop training now, and rest.\n"
        "What you describe may be serious, and only a doctor can tell. "
        "Please get medical care before you train again, even if it has passed.\n"
        f"If it is happening now, comes back, or you feel unwell: call {emergency_number(country)}. Do it at once, "
        "and do not stay alone.\n"
        "Your coach is told straight away. No sessions come from here until the two of you have spoken."
    )
