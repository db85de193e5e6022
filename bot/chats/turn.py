"""One turn of a conversation: what came in, who said it, and everything that goes out, in one transaction.

`say` writes a row of the outbox; nothing is sent here. The keys of replies are made from the update that they answer, so that
handling it again says nothing twice.
"""

import datetime as dt
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from sqlalchemy.ext.asyncio import AsyncConnection

from bot.chats.buttons import Button, Signer
from bot.chats.files import Brought
from bot.chats.incoming import Incoming
from core.adherence.forecast import Population
from core.people.records import Dialogue
from core.store import house, outbox
from core.store.lanes import Kind
from core.store.outbox import Outgoing

Rows = Sequence[Sequence[Button]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Desk:
    """What every turn and every round needs to speak: the secret behind the buttons, and the bot's own name."""

    signer: Signer
    bot_name: str
    random_bytes: Callable[[int], bytes]  # the machine's, or a rehearsal's seed
    calendar_base: str = ""  # where phones can reach the calendar feed from outside; '': nowhere


@dataclass(slots=True)
class Speaker:
    """Writes messages of one occasion into the outbox, numbering them so that each has a key of its own."""

    tx: AsyncConnection
    at: dt.datetime
    desk: Desk
    occasion: str  # what makes the keys of this occasion's messages unique
    about: str | None = None  # the client whom it is all about: what is theirs goes when they go
    _said: int = field(default=0, init=False)

    async def say(  # noqa: PLR0913 - the parts of a message, all but two by name
        self,
        chat_id: int,
        text: str,
        rows: Rows = (),
        *,
        kind: Kind = Kind.REPLY,
        key: str | None = None,
        expires_at: dt.datetime | None = None,
        not_before: dt.datetime | None = None,
        person: str | None = None,
        reply_to: int | None = None,
    ) -> bool:
        """Write one message. False if its key has been used: it was said before."""
        payload: dict[str, Any] = {"text": text, "parse_mode": "HTML"}
        if reply_to is not None:
            payload["reply_parameters"] = {"message_id": reply_to, "allow_sending_without_reply": True}
        return await self.send(
            chat_id,
            "sendMessage",
            payload,
            rows,
            kind=kind,
            key=key,
            expires_at=expires_at,
            not_before=not_before,
            person=person,
        )

    async def send(  # noqa: PLR0913 - the parts of a message, all but four by name
        self,
        chat_id: int,
        method: str,
        payload: dict[str, Any],
        rows: Rows = (),
        *,
        kind: Kind = Kind.REPLY,
        key: str | None = None,
        expires_at: dt.datetime | None = None,
        not_before: dt.datetime | None = None,
        person: str | None = None,
    ) -> bool:
        """Write one call of the Bot API: a photo, a document, an edit."""
        body = dict(payload)
        if rows:
            body["reply_markup"] = self.keyboard(chat_id, rows)
        return await outbox.enqueue(
            self.tx,
            Outgoing(
                key=key or self._next_key(),
                chat_id=chat_id,
                kind=kind,
                method=method,
                payload=body,
                not_before=not_before,
                expires_at=expires_at,
                person=person or self.about,
            ),
            at=self.at,
        )

    async def edit(self, chat_id: int, message_id: int, text: str, rows: Rows = ()) -> None:
        """Change a message that was sent, and its buttons."""
        body: dict[str, Any] = {"message_id": message_id, "text": text, "parse_mode": "HTML"}
        await self.send(chat_id, "editMessageText", body, rows, kind=Kind.EDIT)

    async def take_buttons(self, chat_id: int, message_id: int) -> None:
        """Take the buttons off a message: they have been used."""
        body = {"message_id": message_id, "reply_markup": {"inline_keyboard": []}}
        await self.send(chat_id, "editMessageReplyMarkup", body, kind=Kind.EDIT)

    def keyboard(self, chat_id: int, rows: Rows) -> dict[str, Any]:
        return {
            "inline_keyboard": [
                [{"text": b.label, "callback_data": self.desk.signer.data(b, chat_id)} for b in row]
                for row in rows
                if row
            ]
        }

    def _next_key(self) -> str:
        self._said += 1
        return f"{self.occasion}:{self._said}"


@dataclass(slots=True)
class Turn:
    """One message of one person, and where their conversation stands."""

    incoming: Incoming
    speaker: Speaker
    dialogue: Dialogue
    brought: Brought | None = None  # what was read of the file that came with it, if it was wanted
    learnt: Population | None = None  # what a first promise is reckoned by, where one is about to be made
    touched: set[int] = field(default_factory=set)  # clients whose agenda may have changed
    coming_back: bool = False  # the first words after a silence: a greeting is enough, nothing is asked back

    @property
    def tx(self) -> AsyncConnection:
        return self.speaker.tx

    @property
    def at(self) -> dt.datetime:
        return self.speaker.at

    @property
    def desk(self) -> Desk:
        return self.speaker.desk

    @property
    def chat_id(self) -> int:
        return self.incoming.chat_id

    async def say(self, text: str, rows: Rows = (), *, kind: Kind = Kind.REPLY) -> None:
        """Answer in this chat."""
        await self.speaker.say(self.chat_id, text, rows, kind=kind)

    async def tell(
        self, chat_id: int | None, text: str, rows: Rows = (), *, kind: Kind = Kind.COACH_NOTE
    ) -> bool:
        """Say something in another chat; nothing where there is none."""
        return chat_id is not None and await self.speaker.say(chat_id, text, rows, kind=kind)

    async def edit_here(self, text: str, rows: Rows = ()) -> None:
        """Change the message whose button was pressed; where there is none, say it anew."""
        if self.incoming.message_id is not None and self.incoming.button:
            await self.speaker.edit(self.chat_id, self.incoming.message_id, text, rows)
        else:
            await self.say(text, rows)

    async def show_menu(self, commands: Mapping[str, str]) -> None:
        """Give this chat its own list of commands."""
        listed = [{"command": name, "description": words} for name, words in commands.items()]
        body: dict[str, Any] = {"commands": listed, "scope": {"type": "chat", "chat_id": self.chat_id}}
        await self.speaker.send(self.chat_id, "setMyCommands", body, kind=Kind.EDIT)

    async def used(self) -> None:
        """Take the buttons off the message that was pressed."""
        if self.incoming.message_id is not None and self.incoming.button:
            await self.speaker.take_buttons(self.chat_id, self.incoming.message_id)

    async def remember(self, state: Mapping[str, object]) -> None:
        """Add to what is remembered of the open topic."""
        self.dialogue = replace(self.dialogue, state={**self.dialogue.state, **state}, at=self.at)
        await house.keep_dialogue(self.tx, self.dialogue)

    async def expect(
        self, *, topic: str | None = None, asked: str | None = None, about: int | None = None, **state: object
    ) -> None:
        """Remember what is open in this chat. `topic` '' closes it."""
        kept = self.dialogue
        if topic is not None:
            kept = replace(kept, topic=topic, state=dict(state))
        elif state:
            kept = replace(kept, state={**kept.state, **state})
        if asked is not None:
            kept = replace(kept, asked=asked, about=about)
        self.dialogue = replace(kept, at=self.at)
        await house.keep_dialogue(self.tx, self.dialogue)
