"""The places that a message about a trip names: after a preposition, or right beside a date."""

import datetime as dt
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from core.calendar.countries import capital, country_code, regions
from core.calendar.gazetteer import fold
from core.calendar.places import PlaceFound, find_places, the_one
from core.replies.date_named import MONTH
from core.replies.date_spans import Dates
from core.replies.place_candidates import candidates, leaves_from, masked_dates

_GOES = (
    r"(?:fly|flying|flight|flights|travel|travelling|traveling|travels|trip|tour|touring|going|go|off|"
    r"heading|headed|head|leave|leaving|leaves|drive|driving|(?:by|night|early|next|take|taking|catch) (?:the |a )?train|train to|sail|sailing|land|landing|landed|"
    r"arrive|arriving|arrived|stay|staying|visit|visiting|holiday|vacation|work trip|business trip|"
    r"posted|based|deployed|mobili[sz]ing|mobili[sz]e|mob|crewing|joining|crew change|relocating|needed|wants me|want me|need me|needs me|summoned|invited|working|(?<!the )(?<!a )(?<!my )(?<!this )play|playing|gig|gigs|open|perform|performing|get in|load in|survey|"
    r"moving on|onwards|over|send me|sending me|send us|sending us|sent to|(?:am|are|been) sent)"
)
TRAVELS = re.compile(
    rf"\b{_GOES}\b|\b(?:am|be|are) (?:in|away|at|off|over)\b|\baway\b|\babroad\b|\bon the road\b|"
    rf"\bon tour\b|\bextended\b"
)
_NO_PLACE = (
    r"bed|gym|hotel|cabin|park|office|town|time|pain|rehearsal|theatre|theater|port|sea|ship|boat|work|"
    r"school|home|room|garden|airport|bus|train|plane|car|van|morning|evening|afternoon|night|weekend|"
    r"week|month|day|days|shape|form|bits|total|general|fact|public|hospital|meeting|meetings|show|"
    r"shows|transit|lunch|dinner|breakfast|base|ground|deck|board|stage|class|church|do|train|sleep|"
    r"eat|rest|start|finish|make|get|go|see|be|have|try|say|lift|run|move|skip|stop|miss|catch|keep|"
    r"take|give|come|play|swim|walk|me|you|him|her|us|them|it|this|that|these|those|my|your|our|his|"
    r"their|a|an|early|late|now|then|there|here|soon|again|today|tomorrow|tonight|yesterday|next|last|"
    r"all|between|the middle|case|need|touch|love|agony|trouble|charge|advance|order|full|half|least|"
    r"same|most|jaw|first|once|holiday|vacation|tour|trip|one|two|three|four|five|six|seven|eight|nine|ten|"
    r"dates?|christmas|xmas|easter|survey|jobs?|rehearsals|clear|fine|good|great|ok|sure|done|everything|nothing|something|anything|tell|ask|add|report|send|mention|call|text|write|check|show|speak|talk|confirm|let|help|read|look|find|bring|buy|cook|load|unload|pack|recover|stretch|watch|wait|training|session|squat|"
    r"squats|gyms|bands|dumbbells|mind|hand|person|winter|summer|spring|autumn|january|february|march|"
    r"april|may|june|july|august|september|october|november|december|monday|tuesday|wednesday|thursday|"
    r"friday|saturday|sunday|how|when|where|what|who|long|ever|idea|fun|another|other|each|every|some|"
    r"any|no|not|yes|nada|zilch|zip|since|sorry|thanks|please|maybe|well|honestly|actually|also|really|just|only|still|already|yet|too|very|much|more|less|sets|reps|rounds|min|hour|hours|minutes|am|pm|noon|midnight|the"
)
_JOINS = r"for|to|on|from|with|and|or|but|so|by|of|if|as|than|when|while|until|because"
"""No name begins with one of these."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Leg:
    """A place as far as it is known, and its dates."""

    name: str = ""
    number: int = 0
    places: tuple[PlaceFound, ...] = ()
    at: int = 0
    end: int = 0
    capital: bool = False
    returns: bool = False
    starts: dt.date | None = None
    ends: dt.date | None = None
    is_open: bool = False
    doubtful: bool = False
    forgiven: bool = False
    """Found under another spelling than its own."""
    by_chance: bool = False
    """Named by no preposition and beside no date, and no large city: an ordinary word, rather."""

    @property
    def found(self) -> PlaceFound | None:
        found = the_one(self.places)
        return None if found and _is_shared(self.name, found, self.places) else found


def _is_shared(name: str, found: PlaceFound, places: Sequence[PlaceFound]) -> bool:
    """Whether a name is that of a state as well (Georgia), or another town's proper name (Victoria is not only Hong Kong)."""
    if found.population == 0:
        return bool(regions(name))
    named = fold(name)
    if named in _SHARED_BY_MANY:
        return True
    return named not in (fold(found.name), *found.also) and any(
        fold(one.name) == named and one.population >= _SMALLEST_UNCAPPED for one in places
    )


_SHARED_BY_MANY = frozenset({"georgetown", "perth", "portland", "santiago"})
"""The largest of this name is not always the one that travelling people mean."""


def find_legs(text: str, typed: str, dates: list[Dates], zone: str) -> Iterator[Leg]:
    """The places that the words name: after a preposition, or right before or after a date."""
    masked = masked_dates(text, dates)
    done_to = 0
    for at, phrase, lead in candidates(masked, dates):
        if at < done_to or (lead == "from" and not leaves_from(masked, at)):
            continue
        leg = _leg(phrase, at, lead, masked, typed, dated=bool(dates))
        if leg:
            by_chance = not lead and _is_small(leg) and not _is_beside_a_date(leg, masked)
            yield replace(leg, places=_likelier_near(leg.places, zone), by_chance=by_chance)
            done_to = leg.end


def _is_capital(place: PlaceFound) -> bool:
    """Valletta is meant as often as towns many times its size."""
    return fold(place.name) == fold(capital(place.country))


def _is_small(leg: Leg) -> bool:
    return max((place.population for place in leg.places), default=0) < _LARGE_CITY and not any(
        map(_is_capital, leg.places[:1])
    )


def _is_beside_a_date(leg: Leg, masked: str) -> bool:
    """Whether a date follows or precedes the name at once, or the name opens the message."""
    before = masked[: leg.at].rstrip()
    return not before or before.endswith("#") or masked[leg.end :].lstrip(" ,").startswith("#")


def _likelier_near(places: tuple[PlaceFound, ...], zone: str) -> tuple[PlaceFound, ...]:
    """Towns in the client's own zone weigh ten times as much (our choice)."""
    weighed = (replace(place, weight=place.weight * 10) if place.zone == zone else place for place in places)
    return tuple(sorted(weighed, key=lambda place: -place.weight))


def _leg(phrase: str, at: int, lead: str, masked: str, typed: str, *, dated: bool) -> Leg | None:
    travels = bool(TRAVELS.search(masked))
    words = phrase.replace(" ,", " , ").split()
    if not lead and any(re.fullmatch(_NO_PLACE, word) for word in words) and not _is_a_city(words):
        return None
    if not words or (
        re.fullmatch(rf"{_NO_PLACE}|{_JOINS}", words[0])
        and words[:2] != ["the", "hague"]
        and not (words[0] == "port" and _is_a_city(words[:2]))
        and not (words[0] == "the" and len(words) > 1)
    ):
        return None
    if (
        words[0] == "the"
        and not country_code(" ".join(words[1:3]))
        and not country_code(words[1])
        and words[1] != "hague"
    ):
        return None
    for size in range(len(words), 0, -1):
        name = " ".join(words[:size]).rstrip(" ,")
        if _trails(words, size) or not may_name(name) or (not lead and size < len(words)):
            continue
        places = _places(name, forgiving=(bool(lead) or travels) and lead != "for")
        if (places and _is_meant(name, places, lead, typed, dated=dated)) or (
            country_code(name.removeprefix("the ")) and len(name) > 1 and lead
        ):
            return Leg(
                name=name.removeprefix("the "),
                places=places,
                at=at,
                end=at + len(name),
                returns=lead.startswith("back"),
                forgiven=bool(places) and not find_places(name, forgiving=False),
            )
    return _unknown_place(words[0], at, lead, typed) if dated else None


def _places(name: str, *, forgiving: bool) -> tuple[PlaceFound, ...]:
    """Spelling is forgiven where a large city may be meant: 'Melbs' is not Melo."""
    exact = find_places(name, forgiving=False)
    nearly = find_places(name) if forgiving and not exact else []
    return tuple(exact or (nearly if nearly and nearly[0].population >= _LARGE_CITY else []))


def _is_a_city(words: list[str]) -> bool:
    """Cape Town, Mexico City: ordinary words that make a name together."""
    return 1 < len(words) <= 3 and any(
        place.population >= _CITY for place in find_places(" ".join(words), forgiving=False)
    )


def _trails(words: list[str], size: int) -> bool:
    return words[size - 1] in {
        "in",
        "on",
        "from",
        "for",
        "to",
        "and",
        "the",
        "next",
        "this",
        ",",
        "until",
        "at",
        "then",
        "with",
        "again",
        "back",
        "of",
        "is",
        "all",
    }


def may_name(name: str) -> bool:
    """Whether a word is no ordinary one that some town bears as well."""
    return not re.fullmatch(_NO_PLACE, name) and not re.fullmatch(MONTH, name) and "#" not in name


_LARGE_CITY = 200_000
_CITY = 100_000
_SMALLEST_UNCAPPED = 30_000


def _is_meant(name: str, places: Sequence[PlaceFound], lead: str, typed: str, *, dated: bool) -> bool:
    """Whether a word that could be a town is meant as one: capitals speak for it, few people against."""
    written = re.search(rf"(?<!\w){re.escape(name.split(' ', maxsplit=1)[0])}", typed, re.IGNORECASE)
    capital = bool(written and written.group()[:1].isupper() and not typed.isupper())
    starts = bool(written and written.start() == 0)
    large = max(place.population for place in places) >= _SMALLEST_UNCAPPED or places[0].population == 0
    large = large or _is_capital(places[0])
    if len(name) <= 3 and name not in {"la", "nyc", "sf", "hk", "kl", "rio", "dc", "uk", "usa", "uae", "us"}:
        return capital and not starts and large
    if not lead and not large and not starts:
        return False
    return (capital and not starts) or (large and (bool(lead) or dated))


def _unknown_place(name: str, at: int, lead: str, typed: str) -> Leg | None:
    """A name that is on no map: asked about, if it is written as a name after 'in' or 'to'."""
    written = re.search(rf"(?<!\w){re.escape(name)}(?!\w)", typed, re.IGNORECASE)
    named = bool(written and written.group()[:1].isupper()) and lead in {"in", "to", "at", "for"}
    return Leg(name=name, at=at, end=at + len(name)) if named else None
