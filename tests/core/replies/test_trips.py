"""Trips in words, one rule a test."""

import datetime as dt

import pytest

from core.calendar.places import PlaceFound
from core.replies import Asked, understand
from core.replies.meaning import TripQuestion

NOW = dt.datetime(2026, 11, 25, 12, tzinfo=dt.UTC)
LISBON = {"place": "Lisbon", "country": "PT", "zone": "Europe/Lisbon"}


def trip(text: str) -> object:
    return understand(text, asked=Asked.NOTHING, now=NOW, zone="Europe/London").to_json().get("trip")


@pytest.mark.parametrize(
    ("text", "first", "last"),
    [
        ("in Lisbon 3-7 Dec", "2026-12-03", "2026-12-07"),
        ("Lisbon next week", "2026-11-30", "2026-12-06"),
        ("off to Lisbon tomorrow, back on Sunday", "2026-11-26", "2026-11-29"),
        ("in lisbonn from 30 Dec to 2 Jan", "2026-12-30", "2027-01-02"),
        ("Lisbon 3-7 Dec, no wait, 4-8 Dec", "2026-12-04", "2026-12-08"),
        ("in Lisbon from Monday, open end", "2026-11-30", None),
        ("flying to Lisbon on Saturday, no return booked", "2026-11-28", None),
        ("flying to Lisbon on Wednesday the 9th, back Friday", "2026-12-09", "2026-12-11"),
        ("in Lisbon, not next week, the week after", "2026-12-07", "2026-12-13"),
        ("Lisbon 9th to the 15th, no days off", "2026-12-09", "2026-12-15"),
        ("Lisbon mon-fri next week", "2026-11-30", "2026-12-04"),
        ("going to Lisbon on Friday, 5 days", "2026-11-27", "2026-12-01"),
        ("Lisbon tomorrow and the day after", "2026-11-26", "2026-11-27"),
        ("flying to Porto tomorrow, no wait, Lisbon, back Sunday", "2026-11-26", "2026-11-29"),
        ("Christmas in Lisbon, 23rd to 27th", "2026-12-23", "2026-12-27"),
        ("Mon 30th to Fri 4th Lisbon", "2026-11-30", "2026-12-04"),
        ("Sat 5/12 in Lisbon till Mon 7/12", "2026-12-05", "2026-12-07"),
        ("in Lisbon since Monday, staying until Friday", "2026-11-23", "2026-11-27"),
        ("flying Tue to Lisbon, back the Tue after", "2026-12-01", "2026-12-08"),
        ("Thursday week I'm off to Lisbon for nine days", "2026-12-03", "2026-12-11"),
        ("Lisbon Sunday to Sunday", "2026-11-29", "2026-12-06"),
        ("Lisbon until 10 Dec instead of the 5th", "2026-11-25", "2026-12-10"),
        ("Lisbon this week from tomorrow to Saturday", "2026-11-26", "2026-11-28"),
        ("meeting in Lisbon on Monday, back the same evening", "2026-11-30", "2026-11-30"),
        ("the Lisbon job starts tomorrow, 5 days", "2026-11-26", "2026-11-30"),
        ("all of April in Lisbon", "2027-04-01", "2027-04-30"),
        ("to Lisbon the day after tomorrow, home Sunday", "2026-11-27", "2026-11-29"),
        ("we open in Lisbon on the 18th, I fly out 16 Dec, home on the 24th", "2026-12-16", "2026-12-24"),
        ("Lisbon 29 to 2 Feb", "2027-01-29", "2027-02-02"),
        ("Lisbon 28 Jan - 3rd", "2027-01-28", "2027-02-03"),
        ("my Lisbon dates moved, now 4 to 8 Dec", "2026-12-04", "2026-12-08"),
        ("rehearsing in Lisbon all next week then off", "2026-11-30", "2026-12-06"),
        ("Lisbon 3 nights from tomorrow", "2026-11-26", "2026-11-29"),
        ("Lisbon via Frankfurt Monday to Friday", "2026-11-30", "2026-12-04"),
        ("Lisbon for the whole month of February", "2027-02-01", "2027-02-28"),
        ("in May I go to Lisbon, from the 3rd to the 20th", "2027-05-03", "2027-05-20"),
    ],
)
def test_a_place_and_its_dates(text: str, first: str, last: str | None) -> None:
    assert trip(text) == LISBON | {"from": first, "to": last}


@pytest.mark.parametrize(
    ("text", "doubt"),
    [
        ("in Lisbon on 31 Feb", "which date"),
        ("in Lisbon 3/4 to 6/4", "which date"),
        ("in Springfield 3-7 Dec", "which place"),
        ("going to Dublin", "dates"),
        ("Lisbon 24th to 28th", "which date"),
        ("Lisbon 10-14 December, travelling the day before", "which date"),
        ("flying to Lisbon Monday, back the week after", "which date"),
        ("wedding in Lisbon on Saturday, fly Friday, home Monday", "which date"),
        ("boss wants me in Lisbon, dates to be confirmed", "dates"),
        ("in Lisbon in early April", "dates"),
        ("out of station from 3 to 9 December", "place"),
        ("away from 3 to 9 December", "place"),
        ("travelling again soon", "both"),
        ("flying out thursday, back sunday", "place"),
        ("Georgia next week", "which place"),
        ("in Lisbon from Friday the 12th", "which date"),
        ("leaving for Lisbon Thursday or Friday, back Monday", "which date"),
        ("flying to Lisbon Tuesday, back Tuesday", "which date"),
        ("the Lisbon gig moved from the 3rd to the 10th of December", "which date"),
        ("Lisbon from Monday for the rest of the month", "which date"),
        ("arvo flight to Melbs tomorrow, home Sunday", "place"),
        ("going to Victoria on Monday for 4 days", "which place"),
    ],
)
def test_what_is_in_doubt_is_asked(text: str, doubt: str) -> None:
    assert trip(text) == {"ask": doubt}


def test_a_question_keeps_what_is_known() -> None:
    asked = understand("in Springfield 3-7 Dec", asked=Asked.NOTHING, now=NOW, zone="Europe/London").trip
    assert isinstance(asked, TripQuestion)
    assert asked.starts == dt.date(2026, 12, 3)
    assert len(asked.places) > 1
    assert all(isinstance(place, PlaceFound) for place in asked.places)


def test_two_legs_follow_each_other_without_overlap() -> None:
    said = trip("Helsinki 7 to 9 Dec and then Tallinn until the 12th")
    assert isinstance(said, dict)
    assert (said["zone"], said["from"], said["to"]) == ("Europe/Helsinki", "2026-12-07", "2026-12-09")
    assert [(leg["zone"], leg["from"], leg["to"]) for leg in said["then"]] == [
        ("Europe/Tallinn", "2026-12-10", "2026-12-12")
    ]


def test_called_off_and_home_early() -> None:
    assert trip("the trip is off") == {"cancel": True}
    assert trip("coming home early, back on Thursday") == {"to": "2026-11-26"}


@pytest.mark.parametrize(
    "text",
    [
        "my wife is flying to Rome tomorrow",
        "did it in Lisbon",
        "was in Lisbon last week, home now and broke",
        "had Turkey for lunch",
        "back pain since Friday",
        "if we get the job I'm in Rome 1-5 Feb",
        "would love to go to Tokyo one day",
        "my director flies to Dubai on Monday so quiet week for me",
    ],
)
def test_no_trip_of_the_clients_own(text: str) -> None:
    assert trip(text) is None


def test_the_same_words_are_another_day_elsewhere() -> None:
    said = understand(
        "in Sydney tomorrow until Tuesday",
        asked=Asked.NOTHING,
        now=NOW.replace(hour=20),
        zone="Pacific/Auckland",
    )
    assert said.to_json()["trip"]["from"] == "2026-11-27"


@pytest.mark.parametrize(
    "text",
    [
        "the knee thing is back",
        "back spasm this morning",
        "the show goes to Lisbon next week but I don't",
        "if the contract comes I'm in Lisbon all of February",
        "going home for Christmas",
        "forgot to tell you I skipped Sunday",
    ],
)
def test_what_is_no_trip_of_the_client(text: str) -> None:
    assert trip(text) is None
