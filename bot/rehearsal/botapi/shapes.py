"""Our values in the JSON of the Bot API."""

import datetime as dt

from bot.rehearsal.botapi.models import Attached, Attachment, Chat, Json, Message, Person, Press, StoredFile


def seconds(at: dt.datetime) -> int:
    """Unix time, whole seconds."""
    return int(at.timestamp())


def user(person: Person) -> Json:
    shown: Json = {"id": person.id, "is_bot": person.is_bot, "first_name": person.first_name}
    if person.last_name:
        shown["last_name"] = person.last_name
    if person.username:
        shown["username"] = person.username
    if not person.is_bot:
        shown["language_code"] = person.language
    return shown


def me(bot: Person) -> Json:
    return user(bot) | {
        "can_join_groups": True,
        "can_read_all_group_messages": False,
        "supports_inline_queries": False,
        "can_connect_to_business": False,
        "has_main_web_app": False,
    }


def chat(place: Chat) -> Json:
    if place.person is None:
        return {"id": place.id, "title": place.title, "type": "group", "all_members_are_administrators": True}
    shown = user(place.person)
    return {"id": place.id, "type": "private"} | {
        name: shown[name] for name in ("first_name", "last_name", "username") if name in shown
    }


def full_chat(place: Chat) -> Json:
    return chat(place) | {
        "accent_color_id": 0,
        "max_reaction_count": 11,
        "accepted_gift_types": {
            "unlimited_gifts": False,
            "limited_gifts": False,
            "unique_gifts": False,
            "premium_subscription": False,
            "gifts_from_channels": False,
        },
    }


def file(stored: StoredFile) -> Json:
    return {"file_id": stored.id, "file_unique_id": f"u{stored.id}", "file_size": len(stored.content)}


def attached(attachment: Attachment) -> Json:
    """The key and value that an attachment adds to its message."""
    stored = attachment.file
    size = {"width": stored.width, "height": stored.height}
    named = {"file_name": stored.name, "mime_type": stored.mime}
    match attachment.kind:
        case Attached.PHOTO:
            return {"photo": [file(stored) | size]}
        case Attached.DOCUMENT:
            return {"document": file(stored) | named}
        case Attached.VIDEO:
            return {"video": file(stored) | size | named | {"duration": stored.duration}}
        case Attached.VOICE:
            return {"voice": file(stored) | {"duration": stored.duration, "mime_type": stored.mime}}
        case Attached.STICKER:
            kind = {"type": "regular", "is_animated": False, "is_video": False, "emoji": attachment.emoji}
            return {"sticker": file(stored) | size | kind}


def message(sent: Message, *, nested: bool = True) -> Json:
    """A message as the bot sees it; what it answers is nested one level deep."""
    shown: Json = {
        "message_id": sent.id,
        "from": user(sent.sender),
        "chat": chat(sent.chat),
        "date": seconds(sent.at),
    }
    if sent.edited_at is not None:
        shown["edit_date"] = seconds(sent.edited_at)
    if sent.forwarded_from is not None:
        shown["forward_origin"] = _origin(sent.forwarded_from)
    if sent.reply_to is not None and nested:
        shown["reply_to_message"] = message(sent.reply_to, nested=False)
    return shown | _content(sent) | sent.service


def _content(sent: Message) -> Json:
    shown = attached(sent.attachment) if sent.attachment else {}
    if sent.spot is not None:
        shown["location"] = {"latitude": sent.spot.latitude, "longitude": sent.spot.longitude}
    prefix = "caption" if sent.attachment else "text"
    if sent.text:
        shown[prefix] = sent.text
    if sent.entities:
        shown["caption_entities" if sent.attachment else "entities"] = [
            entity.json() for entity in sent.entities
        ]
    if sent.buttons:
        shown["reply_markup"] = sent.markup
    return shown


def _origin(first: Message) -> Json:
    return {"type": "user", "sender_user": user(first.sender), "date": seconds(first.at)}


def press(tap: Press, by: Person, on: Message | None, chat_id: int) -> Json:
    """A callback query; a message that is gone is shown as inaccessible (date 0)."""
    gone = {
        "message_id": tap.message,
        "chat": {"id": chat_id, "type": "private", "first_name": by.first_name},
        "date": 0,
    }
    return {
        "id": tap.id,
        "from": user(by),
        "message": gone if on is None or on.deleted else message(on),
        "chat_instance": f"{chat_id}",
        "data": tap.data,
    }
