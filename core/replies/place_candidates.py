"""The words of a message about a trip that may name a place: after a preposition, beside a date, or as a job is called."""

import re
from collections.abc import Iterator

from core.calendar.countries import country_code, regions
from core.replies.date_named import MONTH
from core.replies.date_spans import Dates

_LEADS = re.compile(
    r"^(?:(?:i|we|it|and|then|so|also|ok|hi|hey|coach|will|be|am|are|is|in|to|at|for|from|on|the|by|of|"
    r"going|go|off|fly|flying|flight|travel|travelling|traveling|trip|tour|heading|headed|leaving|"
    r"leave|play|open|back|landed|arrived|next|this|week|up|down|over|out|first|later|afterwards|after|"
    r"that|onwards|driving|drive|stay|staying|plus|extended|get in|day|one|night|on survey|survey|home|"
    r"has|been|moved|changed|now|just|got|arrive|arriving|landing) )+"
)
PREPOSITION = re.compile(
    r"\b(?:back (?:in|to)|(?:crewing|working|sailing|operating|based|mobili[sz]ing) out of|in|to|at|for|off|near|via|into|around|visiting|visit|from|added|adding|gone)\b "
)
_WORD = r"[^\W\d_][\w'.]*"
_PLACE_AFTER = re.compile(rf"({_WORD}(?:(?: ,)? {_WORD}){{0,3}})")


def leaves_from(masked: str, at: int) -> bool:
    """'Leaves from Stavanger' names the place; 'from Oslo to Lisbon' only where it began."""
    return bool(
        re.search(
            r"\b(?:leav\w+|sail\w*|depart\w*|working|out|mobili[sz]\w+|crewing|join\w*|mob) (?:out )?(?:from|of) $",
            masked[:at],
        )
    ) and not re.match(r"\S+ to [a-z]", masked[at:])


def masked_dates(text: str, dates: list[Dates]) -> str:
    """The text with its dates blotted out, position for position."""
    for one in dates:
        text = text[: one.at] + "#" * (one.end - one.at) + text[one.end :]
    text = re.sub(rf"\b(?:in|during) {MONTH}\b(?! \d)", lambda found: " " * len(found.group()), text)
    text = re.sub(
        r",? ?\bnot (?:in |to )?(?!(?:going|flying|the|a|my|in|to|happening|here|home|sure|yet|on|off|so|be|come|coming|travelling)\b)[^\W\d_]+(?= ?(?:$|[,.#]))",
        lambda found: " " * len(found.group()),
        text,
    )
    text = re.sub(r"\bvia [^\W\d_]+", lambda found: " " * len(found.group()), text)
    return re.sub(r"(?<![\w#])\d[\w:.]*", lambda found: "#" * len(found.group()), text)


def candidates(masked: str, dates: list[Dates]) -> list[tuple[int, str, str]]:
    """(position, phrase, the preposition before it or '') of all that may be a place."""
    found = list(_beside_dates(masked)) if dates else []
    for preposition in PREPOSITION.finditer(masked):
        phrase = _PLACE_AFTER.match(masked, preposition.end())
        if phrase:
            found.append((preposition.end(), phrase[1], preposition.group().strip()))
    found += [named for pattern in _NAMED_BY for named in _named_by(pattern, masked)] if dates else []
    found += list(_named_by(_BOOKED, masked))
    return sorted(set(found), key=lambda one: (one[0], not one[2], -len(one[1])))[:_MOST_CANDIDATES]


_NAME = r"(?P<name>[^\W\d_]{2,}(?: [^\W\d_]{3,})?)"
_OF_A_JOB = re.compile(
    r"\b(?:the|our|my|a|this|next) (?P<name>[^\W\d_]{3,}(?: [^\W\d_]{3,})?) "
    r"(?:job|gigs?|shows?|run|leg|residency|survey|conference|workshop|festival|tour|trip|stint|contract|dates|port call)\b"
)
"""'The Rotterdam job starts tomorrow'."""
_AT_THE_START = re.compile(
    rf"^(?:ok |so |right |hi |yo |coach |update |either |, )*{_NAME} (?=for (?:the|a|our)\b|again\b|still on|is (?:on|now|moved)|(?:\w+ ){{0,2}}(?:festival|fest|fringe|fiesta|biennale|fair|expo|run|shows?|harbou?r|port|marathon|confirmed|booked|jazz|premiere|conference|opera|stop)\b|for \w+|was #|or\b|then\b|with\b)"
)
_CALLED = re.compile(
    rf"\b(?:it is|its|(?:work|business) trip|i have|we have|do|doing|go|goes|play|crew change|reach|reaching) {_NAME}"
)
_OR = re.compile(rf"\bor (?:maybe |perhaps |else |in |to )?{_NAME}")
_BOOKED = re.compile(rf"\b(?:booked|booking|confirmed) {_NAME}")
_NAMED_BY = (_OF_A_JOB, _AT_THE_START, _CALLED, _OR)


def _named_by(pattern: re.Pattern[str], masked: str) -> Iterator[tuple[int, str, str]]:
    """A name of two words, and its first alone."""
    for found in pattern.finditer(masked):
        yield found.start("name"), found["name"], ""
        yield found.start("name"), found["name"].split()[0], ""


_MOST_CANDIDATES = 24
"""So many words of one message are looked up as places, at most."""

_PIECE = re.compile(r"[^#,.?]+")
_TRAILERS = re.compile(
    r"(?: (?:from|on|in|for|this|next|the|all|and|to|between|back|home|until|starting|again|of|then|at|"
    r"return|week|tour))+$"
)


def _beside_dates(masked: str) -> Iterator[tuple[int, str, str]]:
    """What stands right before or after a date, with the country that follows it, if any."""
    pieces = [(piece.start(), piece.group()) for piece in _PIECE.finditer(masked) if piece.group().strip()]
    for number, (at, piece) in enumerate(pieces):
        text = piece.strip()
        lead = _LEADS.match(text + " ")
        skipped = len(piece) - len(piece.lstrip()) + (lead.end() if lead else 0)
        rest = _TRAILERS.sub("", text[lead.end() :] if lead else text)
        around = masked[at + len(piece) : at + len(piece) + 1], masked[at - 1 : at]
        comes_from = lead and re.search(r"\bfrom $", lead.group()) and not leaves_from(masked, at + skipped)
        beside = set(around) & {"#", ","} or (
            len(rest.split()) < 4 and masked.startswith(". #", at + len(piece))
        )
        if rest and not comes_from and beside:
            yield at + skipped, rest, ""
            following = _TRAILERS.sub("", pieces[number + 1][1].strip()) if number + 1 < len(pieces) else ""
            if around[0] == "," and following and (country_code(following) or regions(following)):
                yield at + skipped, f"{rest} , {following}", ""
