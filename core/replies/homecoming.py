"""Home on another day than planned, or staying on."""

import datetime as dt
import re

from core.replies.date_named import DAY
from core.replies.date_spans import Dates
from core.replies.legs import Leg
from core.replies.meaning import Return

BACK = re.compile(
    r"\b(?:(?:come|coming|be|am|are|get|got|getting|fly|flying|flight|head|heading|headed|travel\w*|drive|driving|sail\w*|safely|finally|already|just|now|arriving|moving|going|go|leave|leaving) )back"
    r"(?! (?:pain|is|was|hurts|ache|spasms?|squats?|from the gym|(?:in|at) the gym|on (?:the )?(?:road|tour|track|it|set|stage|board|form)|at (?:it|sea)|aboard|offshore|to (?:normal|training|the gym|it|back|sleep|work)))\b|"
    rf"(?:^|[,.] ?|\band |\bthen |\bbut |\bso |\bor |\bagain |\d |{DAY} )back(?= (?:home|in|to|from|by|at|on|tomorrow|tonight|today|now|again|early|earlier|later|sooner|safe|ashore|already|the|a|\d|{DAY}|next|this (?:week|coming)|before|until|late|around|about|for|mid)\b)"
    r"(?! (?:on (?:the )?(?:road|tour|track|it|set|stage|board|form)|at (?:it|sea)|(?:in|at|from) the gym|to (?:normal|training|the gym|it|back|sleep|work)))|"
    r"\b(?:home|return(?:ing)?)\b"
)
_COMES_BACK = re.compile(
    r"\b(?:home|early|earlier|sooner|already|fly|flying|flight|return\w*|coming|come|ashore|longer|"
    r"extended|headed|heading)\b"
)


_LONGER = re.compile(r"\blonger\b|\bextra (?:day|days|night|nights)\b")


_STAYS = re.compile(r"\b(?:stay|staying|here|stuck|extended|extending)(?: \w+){0,2} (?:until|to|till)\b")


_GOES_OUT = re.compile(
    r"\b(?:fly|flying|go|going|head|heading|leave|leaving|sail|sailing|set|setting|off) (?:out|off|away|on)\b|"
    r"\b(?:leaves|departs?|sails|leaving (?!again)|leave (?!again|here|early))(?= ?\S)"
)
"""Both the way out and the way back are told."""


_CHANGED = re.compile(
    r"\b(?:instead|not|rather|earlier|early|later|longer|sooner|than|moved|now|was|were|changed|extended|already|extra|delayed)\b"
)


_IS_OF_A_THING = re.compile(r"(?<!\bwe )(?<!\bi )\b(?:are|were|got) back$|(?:^|[.] )back now$")
"""'The palpitations are back'."""


def homecoming(
    text: str, legs: list[Leg], dates: list[Dates], today: dt.date, *, busy: bool
) -> Return | None:
    """Home on another day than planned, or staying on."""
    if _GOES_OUT.search(text) and sum(one.first is not None for one in dates) > 1:
        return None
    back = next(
        (one for one in BACK.finditer(text) if not _IS_OF_A_THING.search(text[: one.end()])), None
    ) or (_STAYS.search(text) if not legs else None)
    if not back or (any(not leg.returns for leg in legs) and not _LONGER.search(text)):
        return None
    if re.match(r"\s*(?:at|by|before) \S*\d", text[back.end() :]) and not _COMES_BACK.search(text):
        return None
    if busy and not _COMES_BACK.search(text):
        return None
    if sum(one.first is not None for one in dates) > 1 and not _CHANGED.search(text):
        return None
    after = [
        one
        for one in dates
        if one.first and not one.last and one.end > back.start() and not re.search(r"\bfor $", text[: one.at])
    ]
    if after and after[0].first:
        return Return(after[0].first)
    if (
        re.search(
            r"\b(?:am|are|got|just|safely|finally) (?:back|home)(?: home| now| again| early| already|$)|"
            r" home now\b",
            text,
        )
        and not dates
    ):
        return Return(today)
    return None
