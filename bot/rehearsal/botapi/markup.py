"""The HTML of messages: text with tags becomes plain text with entities, or a refusal that says where.

Offsets and lengths of entities are in UTF-16 code units, as the Bot API counts them.
"""

import html
import re
from dataclasses import dataclass, replace
from typing import Any

from bot.rehearsal.botapi.errors import bad_request

KINDS = {
    "b": "bold",
    "strong": "bold",
    "i": "italic",
    "em": "italic",
    "u": "underline",
    "ins": "underline",
    "s": "strikethrough",
    "strike": "strikethrough",
    "del": "strikethrough",
    "tg-spoiler": "spoiler",
    "span": "spoiler",
    "a": "text_link",
    "code": "code",
    "pre": "pre",
    "blockquote": "blockquote",
}
PIECE = re.compile(
    r"<(?P<close>/?)(?P<name>[^\s<>/]*)(?P<rest>[^<>]*)(?P<end>>?)|&(?:#x[0-9a-f]+|#[0-9]+|lt|gt|amp|quot);",
    re.IGNORECASE,
)
BY_ITSELF = re.compile(
    r"""(?P<url>https?://[^\s<>"]*[^\s<>".,;:!?)\]])|(?<![\w/@.])(?P<bot_command>/[a-zA-Z0-9_]{1,32}(?:@\w+)?)(?![\w/])"""
)
ATTRIBUTE = re.compile(r"""([\w-]+)(?:\s*=\s*(?:"([^"]*)"|'([^']*)'|([^\s"'>]+)))?""")


@dataclass(frozen=True, slots=True)
class Entity:
    kind: str
    offset: int
    length: int
    url: str = ""
    language: str = ""

    def json(self) -> dict[str, Any]:
        more = {name: value for name, value in (("url", self.url), ("language", self.language)) if value}
        return {"type": self.kind, "offset": self.offset, "length": self.length, **more}


@dataclass(frozen=True, slots=True)
class Formatted:
    """Text without tags, and what its parts look like."""

    text: str
    entities: tuple[Entity, ...] = ()


@dataclass(frozen=True, slots=True)
class _Open:
    name: str
    kind: str
    offset: int
    url: str = ""
    language: str = ""

    def closed_at(self, end: int) -> Entity:
        return Entity(self.kind, self.offset, end - self.offset, self.url, self.language)


def units(text: str) -> int:
    """The length of a text in UTF-16 code units."""
    return len(text.encode("utf-16-le", "surrogatepass")) // 2


def parse_html(source: str) -> Formatted:
    """Read Telegram's HTML; raises 400 "can't parse entities" with the byte offset of what is wrong."""
    reader = _Reader(source)
    position = 0
    for piece in PIECE.finditer(source):
        reader.plain(source[position : piece.start()])
        reader.piece(piece)
        position = piece.end()
    reader.plain(source[position:])
    return trimmed(reader.finished())


def trimmed(formatted: Formatted) -> Formatted:
    """Without white space at either end, as Telegram shows it; entities move along and empty ones go."""
    text = formatted.text
    lead = units(text) - units(text.lstrip())
    text = text.strip()
    end = units(text)
    return Formatted(
        text, tuple(e for e in (_clipped(e, lead, end) for e in formatted.entities) if e.length > 0)
    )


def with_links(formatted: Formatted) -> Formatted:
    """Addresses and commands are found without any tag, except inside links and code."""
    text = formatted.text
    spoken_for = [
        e for e in formatted.entities if e.kind in ("text_link", "code", "pre", "url", "bot_command")
    ]
    found = [_found(text, match) for match in BY_ITSELF.finditer(text)]
    new = [
        e
        for e in found
        if not any(e.offset < s.offset + s.length and s.offset < e.offset + e.length for s in spoken_for)
    ]
    return Formatted(text, tuple(sorted((*formatted.entities, *new), key=lambda e: (e.offset, -e.length))))


def _found(text: str, match: re.Match[str]) -> Entity:
    return Entity(match.lastgroup or "", units(text[: match.start()]), units(match[0]))


def _clipped(entity: Entity, lead: int, end: int) -> Entity:
    first = max(entity.offset - lead, 0)
    last = min(entity.offset + entity.length - lead, end)
    return replace(entity, offset=first, length=last - first)


class _Reader:
    def __init__(self, source: str) -> None:
        self._source = source
        self._text: list[str] = []
        self._length = 0
        self._open: list[_Open] = []
        self._entities: list[Entity] = []

    def plain(self, text: str) -> None:
        self._text.append(text)
        self._length += units(text)

    def piece(self, piece: re.Match[str]) -> None:
        if piece["name"] is None:
            self.plain(html.unescape(piece[0]))
        elif piece["close"]:
            self._end_tag(piece)
        else:
            self._start_tag(piece)

    def finished(self) -> Formatted:
        if self._open:
            raise _unreadable(f'Can\'t find end tag corresponding to start tag "{self._open[-1].name}"')
        order = sorted(self._entities, key=lambda entity: (entity.offset, -entity.length))
        return Formatted("".join(self._text), tuple(order))

    def _start_tag(self, piece: re.Match[str]) -> None:
        name, at = piece["name"].lower(), self._bytes_before(piece)
        attributes = {
            a[1].lower(): html.unescape(a[2] or a[3] or a[4] or "") for a in ATTRIBUTE.finditer(piece["rest"])
        }
        if name not in KINDS or (name == "span" and attributes.get("class") != "tg-spoiler"):
            raise _unreadable(f'Unsupported start tag "{name}" at byte offset {at}')
        if not piece["end"]:
            raise _unreadable(f"Unclosed start tag at byte offset {at}")
        kind = "expandable_blockquote" if name == "blockquote" and "expandable" in attributes else KINDS[name]
        language = attributes.get("class", "").removeprefix("language-") if name == "code" else ""
        self._open.append(
            _Open(name, kind, self._length, attributes.get("href", "") if name == "a" else "", language)
        )

    def _end_tag(self, piece: re.Match[str]) -> None:
        name, at = piece["name"].lower(), self._bytes_before(piece)
        if not self._open:
            raise _unreadable(f"Unexpected end tag at byte offset {at}")
        opened = self._open.pop()
        if name not in ("", opened.name):
            raise _unreadable(
                f'Unmatched end tag at byte offset {at}, expected "</{opened.name}>", found "</{name}>"'
            )
        if not piece["end"]:
            raise _unreadable(f"Unclosed end tag at byte offset {at}")
        self._keep(opened)

    def _keep(self, opened: _Open) -> None:
        entity = opened.closed_at(self._length)
        if entity.length == 0 or (entity.kind == "text_link" and not entity.url):
            return
        if entity.kind == "pre" and self._entities and _covers(entity, self._entities[-1]):
            entity = replace(entity, language=self._entities.pop().language)
        self._entities.append(entity)

    def _bytes_before(self, piece: re.Match[str]) -> int:
        return len(self._source[: piece.start()].encode())


def _covers(pre: Entity, inner: Entity) -> bool:
    """Whether a code entity fills a pre entity, which is how a language is given."""
    return inner.kind == "code" and (inner.offset, inner.length) == (pre.offset, pre.length)


def _unreadable(why: str) -> Exception:
    return bad_request(f"can't parse entities: {why}")
