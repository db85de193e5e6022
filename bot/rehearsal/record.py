"""The record of a rehearsal: what was said on every phone, with the kind and the key under which the bot meant it."""

import datetime as dt
import json
import zoneinfo
from collections.abc import Callable
from dataclasses import dataclass, field

from bot.rehearsal.botapi.world import World
from bot.rehearsal.transcript import Line
from core.store.lanes import Kind
from core.store.outbox import Queued

UNASKED = frozenset({Kind.PROMPT, Kind.FOLLOW_UP, Kind.WEEKLY, Kind.SLEEP, Kind.OFFER})
"""What a client gets without having asked for it. Safety and what the coach sends are apart."""


@dataclass(slots=True, kw_only=True)
class Entry:
    """One line.

    ``kind`` and ``key`` of what the bot said are those of its outbox; a person's kind is what they did, and their key that of
    what they tapped on or replied to.
    """

    at: dt.datetime
    zone: str
    chat: str
    author: str  # bot | client | coach
    what: str
    text: str
    number: int = 0
    kind: str = ""
    key: str = ""

    @property
    def local(self) -> dt.datetime:
        return self.at.astimezone(zoneinfo.ZoneInfo(self.zone))

    @property
    def is_unasked(self) -> bool:
        return self.author == "bot" and self.kind in UNASKED

    def json(self) -> str:
        line = {
            "utc": self.at.strftime("%Y-%m-%dT%H:%M:%SZ"),
            "local": self.local.isoformat(timespec="seconds"),
            "chat": self.chat,
            "from": self.author,
            "kind": self.kind or self.what,
            "key": self.key,
            "text": self.text,
        }
        return json.dumps(line, ensure_ascii=False)


@dataclass(slots=True)
class Record:
    """Listens to the phones and to the sender, and puts the two together.

    ``zone_of``: where the owner of a phone is now; ``role_of``: 'coach' or 'client'.
    """

    world: World
    zone_of: Callable[[int], str]
    role_of: Callable[[int], str]
    entries: list[Entry]
    keys: dict[int, str] = field(default_factory=dict)  # of what the bot said, by the number of the message

    def hear(self, line: Line) -> None:
        """A line of the transcript: of the local server, whatever it was that the bot meant by it."""
        person = self.world.people.get(line.chat)
        name = person.name if person is not None else str(line.chat)
        author = "bot" if line.author == "bot" else self.role_of(line.chat)
        text = self._label(line) if line.what == "press" else line.text
        key = self._answered(line) if author != "bot" else ""
        self.entries.append(
            Entry(
                at=line.at,
                zone=self.zone_of(line.chat),
                chat=name,
                author=author,
                what=line.what,
                text=text,
                number=line.number,
                key=key,
            )
        )

    def sent(self, row: Queued) -> None:
        """What the sender knows of the last message to that chat: its key and its kind."""
        person = self.world.people.get(row.chat_id)
        for entry in reversed(self.entries):
            if (
                entry.author == "bot"
                and not entry.key
                and entry.number == row.message_id
                and person is not None
                and entry.chat == person.name
            ):
                entry.kind, entry.key = row.kind.value, row.key
                if row.kind is not Kind.EDIT:
                    self.keys[entry.number] = row.key
                return

    def _answered(self, line: Line) -> str:
        """The key of the message whose button was tapped, or that was replied to."""
        if line.what == "press":
            return self.keys.get(line.number, "")
        message = self.world.find(line.chat, line.number)
        answered = message.reply_to if message is not None else None
        return self.keys.get(answered.id, "") if answered is not None else ""

    def _label(self, line: Line) -> str:
        """What stood on the button that was tapped."""
        message = self.world.find(line.chat, line.number)
        buttons = [b for row in message.buttons for b in row] if message is not None else []
        return next((b["text"] for b in buttons if b.get("callback_data") == line.text), line.text)
