"""Everything that puts a new message into a chat."""

import dataclasses
import io

from PIL import Image

from bot.rehearsal.botapi import shapes
from bot.rehearsal.botapi.api import BotApi
from bot.rehearsal.botapi.arguments import Arguments, Upload
from bot.rehearsal.botapi.buttons import apply_keyboard, read_markup
from bot.rehearsal.botapi.errors import bad_request
from bot.rehearsal.botapi.markup import Formatted
from bot.rehearsal.botapi.models import Attached, Attachment, Chat, Json, Message, Spot, StoredFile
from bot.rehearsal.botapi.wording import read_caption, read_text
from bot.rehearsal.botapi.world import World

LARGEST_PHOTO = 10 * 1024 * 1024
LONGEST_SIDES, MOST_OBLONG = 10_000, 20
FOLDERS = {
    Attached.PHOTO: "photos",
    Attached.DOCUMENT: "documents",
    Attached.VIDEO: "videos",
    Attached.VOICE: "voice",
    Attached.STICKER: "stickers",
}


async def send_message(api: BotApi, given: Arguments) -> Json:
    chat, wording = api.world.chat(given.chat()), read_text(given)
    return _send(api, given, _new(api, chat, wording))


async def send_photo(api: BotApi, given: Arguments) -> Json:
    return _send_file(api, given, Attached.PHOTO)


async def send_document(api: BotApi, given: Arguments) -> Json:
    return _send_file(api, given, Attached.DOCUMENT)


async def send_video(api: BotApi, given: Arguments) -> Json:
    return _send_file(api, given, Attached.VIDEO)


async def send_voice(api: BotApi, given: Arguments) -> Json:
    return _send_file(api, given, Attached.VOICE)


async def send_location(api: BotApi, given: Arguments) -> Json:
    chat = api.world.chat(given.chat())
    latitude, longitude = given.number("latitude"), given.number("longitude")
    if latitude is None or longitude is None or abs(latitude) > 90 or abs(longitude) > 180:
        raise bad_request("invalid location coordinates specified")
    message = _new(api, chat, Formatted(""))
    message.spot = Spot(latitude, longitude)
    return _send(api, given, message, what="location")


async def forward_message(api: BotApi, given: Arguments) -> Json:
    chat, original = api.world.chat(given.chat()), _original(api, given, "forward")
    copy = _copied(api, chat, original)
    copy.forwarded_from = original.forwarded_from or original
    return _send(api, given, copy)


async def copy_message(api: BotApi, given: Arguments) -> Json:
    chat, original = api.world.chat(given.chat()), _original(api, given, "copy")
    copy = _copied(api, chat, original)
    if "caption" in given and copy.attachment:
        caption = read_caption(given)
        copy.text, copy.entities = caption.text, caption.entities
    return {"message_id": _send(api, given, copy)["message_id"]}


def _send(api: BotApi, given: Arguments, message: Message, *, what: str = "message") -> Json:
    """The last steps of every method here: buttons, what it replies to, the limits, and out."""
    message.markup = read_markup(given)
    message.reply_to = _replied_to(api.world, given, message.chat)
    api.limits.admit(message.chat.id)
    apply_keyboard(message.chat, message.markup)
    return shapes.message(
        api.world.post(message, what=message.attachment.kind if message.attachment else what)
    )


def _send_file(api: BotApi, given: Arguments, kind: Attached) -> Json:
    chat, caption = api.world.chat(given.chat()), read_caption(given)
    message = _new(api, chat, caption)
    message.attachment = Attachment(kind, _stored(api.world, given, kind))
    return _send(api, given, message)


def _new(api: BotApi, chat: Chat, wording: Formatted) -> Message:
    world = api.world
    return Message(
        id=0, chat=chat, sender=world.bot, at=world.clock.now(), text=wording.text, entities=wording.entities
    )


def _copied(api: BotApi, chat: Chat, original: Message) -> Message:
    copy = _new(api, chat, Formatted(original.text, original.entities))
    copy.attachment, copy.spot = original.attachment, original.spot
    return copy


def _original(api: BotApi, given: Arguments, verb: str) -> Message:
    message = api.world.find(given.chat("from_chat_id"), given.whole("message_id"))
    if message is None:
        raise bad_request(f"message to {verb} not found")
    if message.service:
        raise bad_request(f"message can't be {'copied' if verb == 'copy' else 'forwarded'}")
    return message


def _replied_to(world: World, given: Arguments, chat: Chat) -> Message | None:
    wanted = given.structure("reply_parameters") or {
        "message_id": given.whole("reply_to_message_id"),
        "allow_sending_without_reply": given.flag("allow_sending_without_reply"),
    }
    if wanted.get("message_id") is None:
        return None
    message = world.find(chat.id, int(wanted["message_id"]))
    if message is None and not wanted.get("allow_sending_without_reply"):
        raise bad_request("message to be replied not found")
    return message


def _stored(world: World, given: Arguments, kind: Attached) -> StoredFile:
    upload = given.upload(kind)
    if isinstance(upload, Upload):
        return keep_upload(world, upload, kind, duration=given.whole("duration", 0) or 0)
    if not upload:
        raise bad_request(f"there is no {kind} in the request")
    if "://" in upload:
        raise bad_request("failed to get HTTP URL content")
    return world.file(upload)


def keep_upload(world: World, upload: Upload, kind: Attached, *, duration: int = 0) -> StoredFile:
    """Store what was uploaded; a photo has to be one."""
    if not upload.content:
        raise bad_request("file must be non-empty")
    stored = StoredFile(
        id="", path="", name=upload.name, mime=upload.mime, content=upload.content, duration=duration
    )
    if kind is Attached.PHOTO:
        width, height, mime = _measured(upload.content)
        stored = dataclasses.replace(stored, width=width, height=height, mime=mime)
    return world.keep(stored, folder=FOLDERS[kind])


def _measured(content: bytes) -> tuple[int, int, str]:
    """Width, height and type of a picture; 400 where it is none or of a shape that photos cannot have."""
    if len(content) > LARGEST_PHOTO:
        raise bad_request("file is too big for a photo")
    try:
        with Image.open(io.BytesIO(content)) as picture:
            (width, height), mime = picture.size, picture.get_format_mimetype() or "image/png"
    except (OSError, ValueError):
        raise bad_request("IMAGE_PROCESS_FAILED") from None
    if width + height > LONGEST_SIDES or max(width, height) > MOST_OBLONG * min(width, height):
        raise bad_request("PHOTO_INVALID_DIMENSIONS")
    return width, height, mime
