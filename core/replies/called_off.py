"""Whether words call a trip off: a trip or a place that is no more, or the word to drop it."""

import re
from collections.abc import Iterator, Sequence

from core.calendar.places import PlaceFound, find_places, the_one
from core.replies.legs import Leg, may_name
from core.replies.meaning import CalledOff

_ENDS = r"(?= ?(?:$|[,.?]|now\b|after all|again|this time|because|so\b|sadly|unfortunately))"
_NO_MORE = (
    r"\b(?:cancell?ed|cancel|called off|postponed|scrapped|scrubbed|shelved|dropped|pulled|canned|nixed|axed|binned|dead(?! (?:slow|tired|on|good|easy|hard|boring|calm|quiet|long|heavy|flat))|on hold|"
    r"kiboshed|not happening|not going ahead|not on\b(?! (?:the|my))|not taking place|no longer (?:on|happening)|a no go|"
    r"(?:do|does|did|will) not (?:happen|take place|go ahead)|(?:fallen|fell|falls|fall) (?:through|over|in the water|apart)|"
    rf"(?:been )?knocked on the head|gone{_ENDS}|"
    rf"(?<!then )(?<!day )(?<!days )(?<!time )(?<!week )(?<!it )(?<!that )(?<!them )(?<!me )(?<!us )off{_ENDS})(?!\w)"
)
"""What is said of a trip that will not take place."""
_TRIP = (
    r"(?:trip|flight|flights|tour|travel|journey|visit|holiday|gig|survey|cruise|voyage|travels|expedition|mobilisation|"
    r"(?<!my )(?<!left )(?<!right )(?<!one )(?<!^)leg(?! went| is dead| feels))"
)
_JOB = r"(?:thing|job|gigs?|trip|tour|leg|dates|run|residency|contract|conference|festival|survey|visit|shows?|stint|port call|week(?: ?end)?)"
_DROP = r"(?:cancell?ed|cancel|call(?:ed|ing)? off|scrapped|scrap|scrub|scratch|postponed|forget|pulled|canned|nixed|axed|axe|drop|bin)"
_NOT_GOING = (
    r"\b(?:do|does|did) not (?:have|need) to (?:go|fly|travel|sail)\b|"
    r"(?:^|\b(?:am|are|i|we|me)(?: (?:do|did|will|can|could|shall|definitely|probably|now))? )(?:not|no longer) (?:going|flying|travelling|traveling|leaving|off|go|fly|travel|heading|driving|sailing)"
    r"(?! to (?:do|make|the gym|train|be|get|happen|finish|skip|miss|lie|sleep|work|end|die|the session))\b"
    r"(?=.*\b(?:after all|any ?more|now|to \w+|trip|instead|tomorrow|next)\b|$)"
)
_CANCELLED = re.compile(
    rf"\b{_TRIP}(?: [^\s,.?]+){{0,4}}? {_NO_MORE}|"
    rf"\b{_DROP}(?: \S+){{0,3}}? (?:gigs?|leg|job|dates|residency|contract|conference|festival|trip|flight|tour|travel|journey|"
    r"visit|holiday|cruise|voyage)\b|"
    rf"{_NOT_GOING}|"
    rf"\b(?:it|all of it|all|everything) (?:(?:is|was|got|has|been|now|all|just|all been) )+(?!gone|dead|dropped|pulled|off [a-z]+ing){_NO_MORE}|"
    r"\bno (?:trip|flight|tour|travel|travelling)(?= ?(?:$|[,.]|(?:\w+ ){0,3}(?:after all|any ?more)|then\b|now\b))|\bstay(?:ing)? (?:at )?(?:home|"
    r"put)\b(?=.*\b(?:after all|instead|now|trip|tour|flight)\b)"
)
_IT_IS_NO_MORE = re.compile(rf"\b(?:that|this|which) (?:(?:is|was|got|has|been|now|just) )*{_NO_MORE}")
"""'Meant to go to Bilbao but that's not happening': of a place that was named."""
_TRIP_WORD = re.compile(r"\b(?:trip|tour|travel\w*|journey|cruise|voyage)\b")
"""A flight that was cancelled may only be why nobody trained."""
_LEADS = r"(?:(?:the|our|my|ok|so|and|but|well|update|sorry|news|yeah|yes|right|\w+ (?:says?|told me|reckons?|thinks?)(?: that)?|turns out|looks like|coach|hi|kindly|please|finally) (?:, )?)*"
_PLACE = r"(?P<place>(?:[^\s,.?]+ ){0,3}?[^\s,.?]+)"
_IS = r"(?:(?:is|got|was|has|has been|been|have|are|now|just|all|it is) )*"
_PLACE_OFF = (
    re.compile(
        rf"(?:^|[,.?] ){_LEADS}{_PLACE} (?:{_JOB} )?{_IS}{_NO_MORE}(?! when\b| us\b| me\b| [a-z]+ing\b)"
    ),
    re.compile(
        rf"(?:^|[,.?] ){_LEADS}{_DROP} (?:the |our |my )?{_PLACE}(?: {_JOB})?(?= ?(?:$|[,.]|please|then|coach))"
    ),
    re.compile(rf"(?:^|[,.?] )(?:finally|so|sorry|then) (?:, )?no (?:more )?{_PLACE}(?= ?(?:$|[,.]))"),
    re.compile(r"\bno (?:more )?(?P<place>\S+)(?= (?:after all|any ?more))"),
)
"""A place by its name, with or without 'gig' or 'job', is off; or the word to drop it."""
_STILL_UNDER_WAY = re.compile(
    r"\b(?:still (?:in|here|at|stuck)|stuck (?:in|at|here)|rebooked|re booked|new flight|next flight|later flight|"
    r"so (?:now )?(?:it is|i am|we are|i|we) (?:now )?(?:on |fly|flying|going|leaving|monday|tuesday|wednesday|thursday|friday|saturday|"
    r"sunday|tomorrow|the \d))\b"
)
"""A flight fell out, but the trip goes on."""
_NO_CANCEL = re.compile(
    r"\b(?:session|gym|class|subscription|plan|programme|show|rehearsal|training|"
    r"work ?out)\b(?: \S+){0,3} (?:cancell?ed|off|postponed)\b|\bnot cancell?ed\b"
)


def called_off(text: str, legs: Sequence[Leg], *, busy: bool) -> CalledOff | None:
    """Whether a trip is off, and of which place; ``busy`` where something else was asked, of which the words may speak."""
    if _STILL_UNDER_WAY.search(text) or _NO_CANCEL.search(text):
        return None
    off = [found for found in _places_off(text) if _is_a_place(found, legs)]
    if busy and not (_TRIP_WORD.search(text) or (off and _BIDDEN.match(text))):
        return None
    is_off = _CANCELLED.search(text) and not re.search(r"\bnot going (?:well|great|anywhere)\b", text)
    if is_off or off or (legs and _IT_IS_NO_MORE.search(text)):
        return CalledOff(tuple(_named(off, legs)))
    return None


_BIDDEN = re.compile(r"(?:(?:please|coach|hi|ok|and|,) )*call(?:ing)? off\b")
"""A word to us, whatever was asked."""


def _named(off: Sequence[re.Match[str]], legs: Sequence[Leg]) -> Iterator[PlaceFound]:
    """The places of a trip that is off: those that are said to be, else those that are named at all."""
    for found in off:
        yield from [
            leg.found or leg.places[0]
            for leg in legs
            if leg.name and leg.name in found["place"] and leg.places
        ]
        yield from filter(None, [the_one(find_places(found["place"], forgiving=False))])
    if not off:
        yield from (leg.found or leg.places[0] for leg in legs if leg.places)


def _places_off(text: str) -> list[re.Match[str]]:
    return [found for pattern in _PLACE_OFF for found in pattern.finditer(text)]


def _is_a_place(found: re.Match[str], legs: Sequence[Leg]) -> bool:
    name = found["place"]
    if any(leg.name and leg.name in name for leg in legs):
        return True
    if not may_name(name):
        return False
    place = the_one(find_places(name, forgiving=False))
    return place is not None and place.population >= _LARGE


_LARGE = 30_000
