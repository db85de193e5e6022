"""People, chats, files and messages, as the local server keeps them."""

import datetime as dt
import enum
from dataclasses import dataclass, field
from typing import Any

from bot.rehearsal.botapi.markup import Entity

Json = dict[str, Any]


class Standing(enum.StrEnum):
    """What the bot is to a chat; the values are the Bot API's."""

    UNKNOWN = ""  # the person has never pressed start
    MEMBER = "member"
    BLOCKED = "kicked"
    LEFT = "left"


class Attached(enum.StrEnum):
    PHOTO = "photo"
    DOCUMENT = "document"
    VIDEO = "video"
    VOICE = "voice"
    STICKER = "sticker"


@dataclass(frozen=True, slots=True, kw_only=True)
class Person:
    """Somebody with a phone; the bot itself is one too."""

    id: int
    first_name: str
    last_name: str = ""
    username: str = ""
    language: str = "en"
    is_bot: bool = False

    @property
    def name(self) -> str:
        return f"{self.first_name} {self.last_name}".strip()


@dataclass(slots=True, kw_only=True)
class Chat:
    """A conversation with one person (its id is theirs) or a group (its id is negative)."""

    id: int
    title: str = ""
    person: Person | None = None
    standing: Standing = Standing.UNKNOWN
    keyboard: Json | None = None

    @property
    def kind(self) -> str:
        return "group" if self.person is None else "private"


@dataclass(frozen=True, slots=True, kw_only=True)
class StoredFile:
    """The bytes of something that was sent; width and height in pixels, duration in seconds, 0 where unknown."""

    id: str
    path: str
    name: str
    mime: str
    content: bytes = field(repr=False)
    width: int = 0
    height: int = 0
    duration: int = 0


@dataclass(frozen=True, slots=True)
class Attachment:
    kind: Attached
    file: StoredFile
    emoji: str = ""


@dataclass(frozen=True, slots=True)
class Spot:
    """A place on earth, in degrees."""

    latitude: float
    longitude: float


@dataclass(slots=True, kw_only=True)
class Message:
    """One message of one chat. ``text`` is the caption where something is attached."""

    id: int
    chat: Chat
    sender: Person
    at: dt.datetime
    text: str = ""
    entities: tuple[Entity, ...] = ()
    attachment: Attachment | None = None
    spot: Spot | None = None
    markup: Json | None = None
    reply_to: "Message | None" = None
    forwarded_from: "Message | None" = None
    service: Json = field(default_factory=dict)
    edited_at: dt.datetime | None = None
    reworded: bool = False  # not only other buttons: phones say of such a message that it was changed
    deleted: bool = False
    revision: int = 0

    @property
    def buttons(self) -> list[list[Json]]:
        """Rows of inline buttons."""
        rows: list[list[Json]] = (self.markup or {}).get("inline_keyboard", [])
        return rows


@dataclass(frozen=True, slots=True)
class Press:
    """Somebody tapped a button."""

    id: str
    chat: int
    message: int
    data: str
    at: dt.datetime


@dataclass(frozen=True, slots=True)
class Notice:
    """The short line (or alert) that answers a tap."""

    press: Press
    text: str
    alert: bool
    revision: int
