"""What came in, as a value. Reading is total: any JSON gives an `Incoming`, at worst of a kind that we leave alone."""

import datetime as dt
import enum
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

MEDIA = ("photo", "video", "video_note", "voice", "audio", "document", "animation", "sticker")

OF_NO_USE = ("contact", "poll", "dice", "game", "story", "checklist", "paid_media", "giveaway")


class Kind(enum.StrEnum):
    TEXT = "text"
    COMMAND = "command"
    BUTTON = "button"
    LOCATION = "location"
    MEDIA = "media"
    EDIT = "edit"
    MEMBER = "member"
    GROUP = "group"
    STRANGE = "strange"  # sent to us, and nothing that we can use: a contact, a poll, dice
    OTHER = "other"


@dataclass(frozen=True, slots=True, kw_only=True)
class Incoming:
    """One update of one person. `chat_id` 0: nothing that could be answered."""

    update_id: int
    kind: Kind
    user_id: int = 0
    chat_id: int = 0
    text: str = ""
    command: str = ""  # without the slash
    argument: str = ""  # what followed the command
    message_id: int | None = None
    reply_to: int | None = None
    button: str = ""  # callback_data
    location: tuple[float, float] | None = None
    media: str = ""  # which of MEDIA
    file_name: str = ""
    file_id: str = ""
    file_size: int = 0
    file_type: str = ""  # as the sender's phone calls it: text/csv
    name: str = ""  # what the person calls themselves
    left: bool = False  # a member update: the bot was blocked or removed
    sent_at: dt.datetime | None = None


def read(update: Mapping[str, Any]) -> Incoming:
    """Read an update as the Bot API sends it."""
    number = _int(update.get("update_id"))
    if isinstance(pressed := update.get("callback_query"), dict):
        return _button(number, pressed)
    if isinstance(member := update.get("my_chat_member"), dict):
        return _member(number, member)
    if isinstance(edited := update.get("edited_message"), dict):
        return _message(number, edited, edited=True)
    if isinstance(message := update.get("message"), dict):
        return _message(number, message, edited=False)
    return Incoming(update_id=number, kind=Kind.OTHER)


def _button(number: int, pressed: dict[str, Any]) -> Incoming:
    message = _dict(pressed.get("message"))
    who = _dict(pressed.get("from"))
    return Incoming(
        update_id=number,
        kind=Kind.BUTTON,
        user_id=_int(who.get("id")),
        chat_id=_int(_dict(message.get("chat")).get("id")) or _int(who.get("id")),
        button=_str(pressed.get("data")),
        message_id=_int(message.get("message_id")) or None,
        name=_str(who.get("first_name")),
    )


def _member(number: int, member: dict[str, Any]) -> Incoming:
    chat = _dict(member.get("chat"))
    status = _str(_dict(member.get("new_chat_member")).get("status"))
    private = chat.get("type") == "private"
    return Incoming(
        update_id=number,
        kind=Kind.MEMBER if private else Kind.GROUP,
        user_id=_int(_dict(member.get("from")).get("id")),
        chat_id=_int(chat.get("id")),
        left=status in {"kicked", "left"},
    )


def _message(number: int, message: dict[str, Any], *, edited: bool) -> Incoming:
    chat, who = _dict(message.get("chat")), _dict(message.get("from"))
    text = _str(message.get("text")) or _str(message.get("caption"))
    media = next((m for m in MEDIA if m in message), "")
    file = message.get(media)
    largest = _dict(file[-1] if isinstance(file, list) and file else file)
    command, _, argument = text[1:].partition(" ") if text.startswith("/") else ("", "", "")
    return Incoming(
        update_id=number,
        kind=_kind(message, chat, command, media, edited=edited),
        user_id=_int(who.get("id")),
        chat_id=_int(chat.get("id")),
        text=text,
        command=command.split("@")[0].lower(),
        argument=argument.strip(),
        message_id=_int(message.get("message_id")) or None,
        reply_to=_int(_dict(message.get("reply_to_message")).get("message_id")) or None,
        location=_location(message.get("location")),
        media=media,
        file_name=_str(largest.get("file_name")),
        file_id=_str(largest.get("file_id")),
        file_size=_int(largest.get("file_size")),
        file_type=_str(largest.get("mime_type")).partition(";")[0].strip().lower(),
        name=_str(who.get("first_name")),
        sent_at=_instant(message.get("date")),
    )


def _kind(message: dict[str, Any], chat: dict[str, Any], command: str, media: str, *, edited: bool) -> Kind:
    if chat.get("type") != "private":
        return Kind.GROUP
    if edited:
        return Kind.EDIT
    if media:
        return Kind.MEDIA
    if "location" in message:
        return Kind.LOCATION
    if command:
        return Kind.COMMAND
    if message.get("text"):
        return Kind.TEXT
    return Kind.STRANGE if any(what in message for what in OF_NO_USE) else Kind.OTHER


def _location(value: object) -> tuple[float, float] | None:
    place = _dict(value)
    latitude, longitude = place.get("latitude"), place.get("longitude")
    if isinstance(latitude, int | float) and isinstance(longitude, int | float):
        return float(latitude), float(longitude)
    return None


def _instant(value: object) -> dt.datetime | None:
    if not isinstance(value, int) or isinstance(value, bool) or not 0 < value < 2**33:
        return None
    return dt.datetime.fromtimestamp(value, dt.UTC)


def _dict(value: object) -> dict[str, Any]:
    return value if isinstance(value, dict) else {}


def _str(value: object) -> str:
    """Without what is no text, and no database takes: the sign of nothing, and halves of signs."""
    return value.replace("\0", "").encode("utf-8", "ignore").decode() if isinstance(value, str) else ""


def _int(value: object) -> int:
    return value if isinstance(value, int) and not isinstance(value, bool) else 0
