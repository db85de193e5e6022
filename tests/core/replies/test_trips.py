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
        # weeks, ends of months, days in words
        ("Lisbon a week from Friday, home on the 9th", "2026-12-04", "2026-12-09"),
        ("off to Lisbon for a week from Friday", "2026-11-27", "2026-12-03"),
        ("a fortnight in Lisbon from Saturday", "2026-11-28", "2026-12-11"),
        ("Lisbon from Monday until the end of the month", "2026-11-30", "2026-11-30"),
        ("in Lisbon next week, all week", "2026-11-30", "2026-12-06"),
        ("Lisbon from the first to the eleventh", "2026-12-01", "2026-12-11"),
        ("Lisbon Mon 30 to Fri 4", "2026-11-30", "2026-12-04"),
        ("Lisbon Monday, Tuesday and Wednesday", "2026-11-30", "2026-12-02"),
        # a stretch corrected, a day that was planned
        ("Lisbon Monday to Friday, sorry, Thursday", "2026-11-30", "2026-12-03"),
        ("to Lisbon on Monday now not Friday, home on Tuesday", "2026-11-30", "2026-12-01"),
        # the day of return before its word, and days that are not of the trip
        ("tomorrow Lisbon, Saturday home", "2026-11-26", "2026-11-28"),
        ("we reach Lisbon on the 1st and leave on the 3rd", "2026-12-01", "2026-12-03"),
        ("no training today, flying to Lisbon tomorrow until Sunday", "2026-11-26", "2026-11-29"),
        ("day trip to Lisbon on Friday, can train Sunday", "2026-11-27", "2026-11-27"),
        ("Lisbon on Monday, home on Friday, knee sore since Tuesday's fall", "2026-11-30", "2026-12-04"),
        # an end that nobody knows
        ("landed in Lisbon, nobody knows how long we're here", "2026-11-25", None),
        ("Lisbon tomorrow, return date TBD", "2026-11-26", None),
        ("joining the ship in Lisbon on Friday, until the job is done", "2026-11-27", None),
        # the place first, or by what is on there
        ("Lisbon for the festival, 1st to the 8th of December", "2026-12-01", "2026-12-08"),
        ("Lisbon jazz fest, 1 to 4 December", "2026-12-01", "2026-12-04"),
        ("next week I have Lisbon", "2026-11-30", "2026-12-06"),
        ("it's Lisbon not Porto, Thursday till Saturday", "2026-11-26", "2026-11-28"),
        ("working out of Lisbon from Monday, back on the 9th", "2026-11-30", "2026-12-09"),
        ("they send me to Lisbon on Monday to cover two tracks, home on Friday", "2026-11-30", "2026-12-04"),
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
        ("Cork or Galway, Monday to Wednesday", "which place"),
        ("going to Lisbon, or Porto maybe, from the 1st to the 5th", "which place"),
        ("off to Perth on Wednesday, back Friday. Scotland or Australia, who knows", "which place"),
        ("in Georgetown next week", "which place"),
        ("the next week I am in Lisbon", "which date"),
        ("Lisbon from Monday, some nights in Porto as well", "which date"),
        ("we'll do Lisbon some time in March", "dates"),
        ("booked Lisbon, can't remember when for", "dates"),
        ("next week I'm not here", "place"),
        ("got a work trip Monday till Wednesday", "place"),
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


@pytest.mark.parametrize(
    "text",
    [
        "the trip is off",
        "the Lisbon job's off",
        "Lisbon's off, norovirus in the company",
        "scrap the Lisbon thing",
        "Lisbon's been knocked on the head",
        "the Lisbon gig's fallen over",
        "we were meant to go to Lisbon but that's not happening now",
        "the journey to Lisbon does not happen",
        "the Lisbon trip fell through, so scratch that",
        "tech says Lisbon is cancelled",
        "turns out I don't have to go to Lisbon",
    ],
)
def test_what_is_no_more_is_called_off(text: str) -> None:
    assert trip(text) == {"cancel": True}


@pytest.mark.parametrize(
    "text",
    ["no travel this month, only cabbage", "opening Copenhagen, the play, so no gym", "are deadlifts ok?"],
)
def test_what_was_never_planned_is_not_called_off(text: str) -> None:
    assert trip(text) != {"cancel": True}


def test_a_flight_that_fell_out_may_be_taken_another_day() -> None:
    said = trip("flight cancelled so now it's Friday to Lisbon, back on Tuesday")
    assert said == LISBON | {"from": "2026-11-27", "to": "2026-12-01"}


def test_home_early() -> None:
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
        "coach, are you in Lisbon next week?",
        "our costume girl flies to Lisbon on Friday",
        "Dev's in Lisbon all week",
        "the crew sails to Lisbon without me, I stay home and train",
        "is there anywhere decent to train in Lisbon",
        "read a book about Lisbon on the train",
        "stiff after the flight from Sydney, walked it off",
        "the survey's dead slow, bored to death",
        "the palpitations are back",
        "the dizziness won't go",
    ],
)
def test_what_is_no_trip_of_the_client(text: str) -> None:
    assert trip(text) is None


@pytest.mark.parametrize(
    ("text", "place"),
    [
        ("Valletta next week", "Valletta"),
        ("Hull Monday to Wednesday", "Hull"),
        ("3 nights in Philly from Friday", "Philadelphia"),
        ("St. Louis for the weekend", "St. Louis"),
        ("we shift to Port Louis on Monday for 3 days", "Port Louis"),
        ("in Cordoba next week, the one in Spain", "Cordoba"),
    ],
)
def test_how_places_are_called(text: str, place: str) -> None:
    said = trip(text)
    assert isinstance(said, dict)
    assert said["place"] == place
