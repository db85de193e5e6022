"""What a person does with a phone: write, tap, send a file or a place, block the bot, add it to a group."""

import re
from collections.abc import Callable

from bot.rehearsal.botapi import shapes
from bot.rehearsal.botapi.arguments import Upload
from bot.rehearsal.botapi.errors import ApiError
from bot.rehearsal.botapi.markup import Entity, Formatted, units, with_links
from bot.rehearsal.botapi.methods.sending import keep_upload
from bot.rehearsal.botapi.models import (
    Attached,
    Attachment,
    Chat,
    Json,
    Message,
    Notice,
    Person,
    Press,
    Spot,
    Standing,
)
from bot.rehearsal.botapi.world import World
from core.errors import Refused

LONGEST_MESSAGE = 4096
PAYLOAD = re.compile(r"[A-Za-z0-9_-]{0,64}")


class Phone:
    """One person's side of one chat: with the bot alone, or in a group with it.

    Every call takes effect at once and queues the update that Telegram would send to the bot.
    """

    def __init__(self, world: World, person: Person, chat: Chat | None = None) -> None:
        self.world = world
        self.person = person
        self.chat = chat or world.chats[person.id]

    # Writing

    def start(self, payload: str = "") -> Message:
        """Press start, or open a deep link with this payload; a bot that was blocked is let in again."""
        if not PAYLOAD.fullmatch(payload):
            raise Refused("This start link does not work: it has at most 64 letters, digits, _ and -.")
        if self.chat.standing is Standing.BLOCKED:
            self.unblock()
        return self.send(f"/start {payload}".strip())

    def send(self, text: str, *, reply_to: int | None = None) -> Message:
        text = _fitting(text)
        return self._post(self._new(text, reply_to=reply_to))

    def edit(self, number: int, text: str) -> Message:
        """Change one's own message."""
        message = self._find(number)
        if message.sender is not self.person or not message.text:
            raise Refused("Only the words of your own messages can be changed.")
        message.text = _fitting(text)
        message.entities = _entities(message.text)
        message.edited_at, message.reworded = self.world.clock.now(), True
        self.world.touched(message, what="edit", text=message.text, by=self.person)
        self.world.updates.put("edited_message", shapes.message(message))
        return message

    def send_location(self, latitude: float, longitude: float, *, reply_to: int | None = None) -> Message:
        message = self._new("", reply_to=reply_to)
        message.spot = Spot(latitude, longitude)
        return self._post(message, what="location")

    def send_photo(
        self, content: bytes, *, name: str = "photo.jpg", caption: str = "", reply_to: int | None = None
    ) -> Message:
        return self._attach(Attached.PHOTO, Upload(name, "image/jpeg", content), caption, reply_to)

    def send_voice(self, content: bytes, *, seconds: int = 3, reply_to: int | None = None) -> Message:
        return self._attach(
            Attached.VOICE, Upload("voice.ogg", "audio/ogg", content), "", reply_to, seconds=seconds
        )

    def send_video(
        self, content: bytes, *, seconds: int = 5, caption: str = "", reply_to: int | None = None
    ) -> Message:
        upload = Upload("video.mp4", "video/mp4", content)
        return self._attach(Attached.VIDEO, upload, caption, reply_to, seconds=seconds)

    def send_document(
        self,
        content: bytes,
        *,
        name: str,
        mime: str = "application/octet-stream",
        caption: str = "",
        reply_to: int | None = None,
    ) -> Message:
        return self._attach(Attached.DOCUMENT, Upload(name, mime, content), caption, reply_to)

    def send_sticker(self, emoji: str = "\N{WAVING HAND SIGN}") -> Message:
        return self._attach(
            Attached.STICKER, Upload("sticker.webp", "image/webp", b"sticker"), "", None, emoji=emoji
        )

    # Tapping

    def press(self, number: int, data: str) -> Press:
        """Tap the button with this data on a message that still shows it."""
        if data not in [button.get("callback_data") for row in self._find(number).buttons for button in row]:
            raise Refused("That button is no longer there.")
        return self.forge(number, data)

    def tap(self, label: str) -> Press:
        """Tap the newest button whose label holds these words."""
        for message in reversed(self.messages()):
            for button in (button for row in message.buttons for button in row):
                if label.lower() in button["text"].lower() and "callback_data" in button:
                    return self.press(message.id, button["callback_data"])
        raise Refused(f"There is no button '{label}' on this phone.")

    def forge(self, number: int, data: str) -> Press:
        """Send any button data at all, as a tampered phone could."""
        return self.world.press(self.person, self.chat.id, number, data)

    # Coming and going

    def block(self) -> None:
        self._stand(Standing.BLOCKED, "blocked")

    def unblock(self) -> None:
        self._stand(Standing.MEMBER, "unblocked")

    def add_bot_to_group(self, title: str) -> "Phone":
        """Make a group with the bot in it; this person's phone inside the group."""
        inside = Phone(self.world, self.person, self.world.add_group(title))
        inside._stand(Standing.MEMBER, "added")
        joined = inside._new("")
        joined.service = {"new_chat_members": [shapes.user(self.world.bot)], "group_chat_created": False}
        inside._post(joined, what="joined")
        return inside

    # Looking

    def messages(self) -> list[Message]:
        return self.world.in_chat(self.chat.id)

    def received(self) -> list[Message]:
        """What the bot has sent here."""
        return [message for message in self.messages() if message.sender.is_bot]

    def notices(self) -> list[Notice]:
        """Short lines that answered taps here."""
        return [notice for notice in self.world.notices if notice.press.chat == self.chat.id]

    async def wait_for(self, sight: Callable[["Phone"], bool], *, seconds: float = 5.0) -> "Phone":
        """Wait until this phone shows it; raises TimeoutError with the last words seen."""
        changes = self.world.changes
        seen = changes.revision
        while not sight(self):
            reached = await changes.after(seen, seconds=seconds)
            if reached == seen:
                last = [message.text for message in self.messages()[-3:]]
                raise TimeoutError(
                    f"not seen on the phone of {self.person.name} within {seconds} s; last: {last}"
                )
            seen = reached
        return self

    # Inside

    def _new(self, text: str, *, reply_to: int | None = None) -> Message:
        if self.chat.standing is Standing.BLOCKED:
            raise Refused("This phone has blocked the bot: unblock it first.")
        if self.chat.standing is Standing.UNKNOWN:
            self.chat.standing = Standing.MEMBER
        answered = self._find(reply_to) if reply_to is not None else None
        return Message(
            id=0,
            chat=self.chat,
            sender=self.person,
            at=self.world.clock.now(),
            text=text,
            entities=_entities(text),
            reply_to=answered,
        )

    def _post(self, message: Message, *, what: str = "message") -> Message:
        self.world.post(message, what=what)
        self.world.updates.put("message", shapes.message(message))
        return message

    def _attach(
        self,
        kind: Attached,
        upload: Upload,
        caption: str,
        reply_to: int | None,
        *,
        seconds: int = 0,
        emoji: str = "",
    ) -> Message:
        message = self._new(caption.strip(), reply_to=reply_to)
        try:
            stored = keep_upload(self.world, upload, kind, duration=seconds)
        except ApiError as error:
            raise Refused(f"This file cannot be sent as a {kind}: choose another one.") from error
        message.attachment = Attachment(kind, stored, emoji)
        return self._post(message, what=kind)

    def _find(self, number: int) -> Message:
        message = self.world.find(self.chat.id, number)
        if message is None:
            raise Refused("That message is no longer there.")
        return message

    def _stand(self, standing: Standing, what: str) -> None:
        if standing is self.chat.standing:
            return
        before, self.chat.standing = self.chat.standing, standing
        self.world.note(self.chat.id, "person", what, "")
        self.world.changes.mark()
        self.world.updates.put("my_chat_member", self._membership(before or Standing.LEFT, standing))

    def _membership(self, before: Standing, after: Standing) -> Json:
        bot = shapes.user(self.world.bot)
        return {
            "chat": shapes.chat(self.chat),
            "from": shapes.user(self.person),
            "date": shapes.seconds(self.world.clock.now()),
            "old_chat_member": _member(before, bot),
            "new_chat_member": _member(after, bot),
        }


def _member(standing: Standing, bot: Json) -> Json:
    until = {"until_date": 0} if standing is Standing.BLOCKED else {}
    return {"status": standing.value, "user": bot} | until


def _fitting(text: str) -> str:
    """What a phone lets one send: something, and not too much of it."""
    text = text.strip()
    if not text:
        raise Refused("There is nothing to send yet: write something first.")
    if units(text) > LONGEST_MESSAGE:
        raise Refused(
            f"That is longer than one message can be ({LONGEST_MESSAGE} characters): send it in two."
        )
    return text


def _entities(text: str) -> tuple[Entity, ...]:
    return with_links(Formatted(text)).entities
