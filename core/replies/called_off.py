"""Whether words call a trip off."""

import re
from collections.abc import Sequence

from core.calendar.places import find_places, the_one
from core.replies.legs import Leg
from core.replies.meaning import CalledOff

_CANCELLED = re.compile(
    r"\b(?:trip|flight|flights|tour|travel|journey|visit|holiday|gig|survey|cruise|voyage|travels|"
    r"(?<!my )(?<!left )(?<!right )(?<!one )(?<!^)leg(?! went| is dead| feels)|expedition)(?: \S+){0,4}? (?:cancell?ed|cancel|called off|(?<!then )(?<!day )(?<!days )(?<!time )(?<!week )off(?= ?(?:$|[,.?]|now\b|"
    r"after all|again|this time))|postponed|scrapped|not happening|fallen through|fell through|axed|"
    r"dead|on hold|binned)\b|\b(?:cancell?ed|cancel|called off|scrapped|postponed|forget|pulled|canned|nixed|axed|"
    r"scrap)(?: \S+){0,3}? (?:gigs?|leg|job|dates|residency|contract|conference|festival|trip|flight|tour|travel|journey|visit|holiday|cruise|voyage)\b|\b(?:not|"
    r"no longer) (?:going|flying|travelling|traveling|leaving|off|go|fly|travel|heading|driving|"
    r"sailing)(?! to (?:do|make|the gym|train|be|get|happen|finish|skip|miss|lie|sleep|work|"
    r"the session))\b(?=.*\b(?:after all|any ?more|now|to \w+|trip|instead|tomorrow|next)\b|$)|"
    r"\b(?:it|all of it|all|everything) (?:(?:is|was|got|has|been|now|all|just|all been) )*(?:cancell?ed|called off|off(?= ?(?:$|[,.?]|now\b|after all|again|this time))|scrapped|postponed|not happening|fallen through|fell through|axed|on hold|binned)\b|"
    r"\bno (?:trip|flight|tour|travel|travelling)\b|\bstay(?:ing)? (?:at )?(?:home|"
    r"put)\b(?=.*\b(?:after all|instead|now|trip|tour|flight)\b)"
)
_TRIP_WORD = re.compile(r"\b(?:trip|tour|travel\w*|journey|cruise|voyage)\b")
"""A flight that was cancelled may only be why nobody trained."""
_PLACE_OFF = re.compile(
    r"^(?P<place>(?:[^\s,.?]+ ){0,4}?[^\s,.?]+) (?:(?:(?:is|got|was|has|has been|trip|gig|tour|been|now) )+(?:off|called off)"
    r"(?= ?(?:$|[,.?]|now\b|after all|again|this time))|(?:is |got |was |has |trip |gig |tour |been )*(?:cancell?ed|called off|"
    r"postponed|scrapped|not happening|fell through))(?: .*)?$"
)
_STILL_UNDER_WAY = re.compile(
    r"\b(?:still (?:in|here|at|stuck)|stuck (?:in|at|here)|rebooked|re booked|new flight|next flight|later flight)\b"
)
"""A flight fell out, but the trip goes on."""
_NO_CANCEL = re.compile(
    r"\b(?:session|gym|class|subscription|plan|programme|show|rehearsal|training|"
    r"work ?out)\b(?: \S+){0,3} (?:cancell?ed|off|postponed)\b|\bnot cancell?ed\b"
)


def called_off(text: str, legs: Sequence[Leg], *, busy: bool) -> CalledOff | None:
    if _STILL_UNDER_WAY.search(text):
        return None
    if _NO_CANCEL.search(text) or (busy and not _TRIP_WORD.search(text)):
        return None
    if _CANCELLED.search(text) and not re.search(r"\bnot going (?:well|great|anywhere)\b", text):
        return CalledOff()
    off = _PLACE_OFF.search(text)
    if off and not legs and the_one(find_places(off["place"])):
        return CalledOff()
    return CalledOff() if off and legs and legs[0].name and legs[0].name in off["place"] else None
