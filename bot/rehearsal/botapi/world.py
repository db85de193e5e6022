"""Everything the local server remembers: people, chats, messages, files, taps. In memory; ids are counted, never drawn."""

import datetime as dt
from collections import defaultdict
from dataclasses import replace

from bot.clock import Clock
from bot.rehearsal.botapi import shapes
from bot.rehearsal.botapi.changes import Changes
from bot.rehearsal.botapi.errors import ApiError, bad_request, forbidden
from bot.rehearsal.botapi.models import Chat, Json, Message, Notice, Person, Press, Standing, StoredFile
from bot.rehearsal.botapi.queue import Updates
from bot.rehearsal.transcript import Author, Line, Transcript

TOKEN = "100200300:rehearsal-on-this-machine-alone-00"  # noqa: S105 - opens nothing but this server
FIRST_PERSON, FIRST_GROUP, FIRST_MESSAGE = 5_000_001, -4_000_001, 1
ANSWERABLE_FOR = dt.timedelta(minutes=1)


class World:
    """The state behind one bot. Lives in one event loop; dates come from the clock that it is given."""

    def __init__(
        self, clock: Clock, *, token: str = TOKEN, name: str = "Keptword", username: str = "keptword_bot"
    ) -> None:
        self.clock = clock
        self.token = token
        self.bot = Person(id=int(token.partition(":")[0]), first_name=name, username=username, is_bot=True)
        self.people: dict[int, Person] = {}
        self.chats: dict[int, Chat] = {}
        self.messages: dict[int, Message] = {}
        self.files: dict[str, StoredFile] = {}
        self.notices: list[Notice] = []
        self.commands: dict[str, list[Json]] = {}
        self.actions: dict[int, str] = {}
        self.updates = Updates(clock)
        self.changes = Changes()
        self.transcript = Transcript()
        self._presses: dict[str, Press] = {}
        self._by_chat: defaultdict[int, list[Message]] = defaultdict(list)
        self._counts: dict[str, int] = {}

    # People and chats

    def add_person(
        self, first_name: str, *, last_name: str = "", username: str = "", number: int | None = None
    ) -> Person:
        """Somebody who has a phone and has not met the bot yet."""
        number = FIRST_PERSON + self._count("person") if number is None else number
        person = Person(id=number, first_name=first_name, last_name=last_name, username=username)
        self.people[number] = person
        self.chats[number] = Chat(id=number, person=person)
        self.changes.mark()
        return person

    def add_group(self, title: str) -> Chat:
        group = Chat(id=FIRST_GROUP - self._count("group"), title=title)
        self.chats[group.id] = group
        return group

    def chat(self, number: int) -> Chat:
        """A chat that the bot can speak in, or the refusal it gets."""
        place = self.chats.get(number)
        if place is None:
            raise bad_request("chat not found")
        match place.standing:
            case Standing.UNKNOWN:
                raise forbidden("bot can't initiate conversation with a user")
            case Standing.BLOCKED:
                raise _shut_out(place)
            case Standing.LEFT:
                raise forbidden("bot is not a member of the group chat")
            case Standing.MEMBER:
                return place

    # Messages

    def post(self, message: Message, *, what: str = "message") -> Message:
        """Put a new message (its id is given here) into its chat."""
        message.id = FIRST_MESSAGE + self._count("message")
        self.messages[message.id] = message
        self._by_chat[message.chat.id].append(message)
        self.touched(message, what=what, text=message.text, by=message.sender)
        return message

    def touched(self, message: Message, *, what: str, text: str, by: Person) -> None:
        """Note a change to a message for everybody who looks on."""
        message.revision = self.changes.mark()
        self.note(message.chat.id, "bot" if by.is_bot else "person", what, text, message.id)

    def note(self, chat: int, author: Author, what: str, text: str, number: int = 0) -> None:
        self.transcript.write(
            Line(at=self.clock.now(), chat=chat, author=author, what=what, text=text, number=number)
        )

    def find(self, chat: int, number: int | None) -> Message | None:
        """A message of this chat that is still there."""
        message = self.messages.get(number or 0)
        return message if message is not None and message.chat.id == chat and not message.deleted else None

    def in_chat(self, chat: int) -> list[Message]:
        return [message for message in self._by_chat[chat] if not message.deleted]

    def gone_from(self, chat: int) -> list[Message]:
        """What was deleted there."""
        return [message for message in self._by_chat[chat] if message.deleted]

    # Files

    def keep(self, stored: StoredFile, *, folder: str) -> StoredFile:
        """Store bytes; the id and the path are given here."""
        number = self._count("file")
        ending = stored.name.rpartition(".")[2] if "." in stored.name else "bin"
        stored = replace(stored, id=f"file-{number:06d}-{folder}", path=f"{folder}/file_{number}.{ending}")
        self.files[stored.id] = stored
        return stored

    def file(self, file_id: str) -> StoredFile:
        if file_id not in self.files:
            raise bad_request("wrong file identifier/HTTP URL specified")
        return self.files[file_id]

    # Taps

    def press(self, by: Person, chat: int, number: int, data: str) -> Press:
        """Somebody taps a button: queue it for the bot."""
        tap = Press(
            id=f"{900_000_001 + self._count('press')}",
            chat=chat,
            message=number,
            data=data,
            at=self.clock.now(),
        )
        self._presses[tap.id] = tap
        self.note(chat, "person", "press", data, number)
        self.updates.put("callback_query", shapes.press(tap, by, self.find(chat, number), chat))
        self.changes.mark()
        return tap

    def answer(self, press_id: str, text: str, *, alert: bool) -> None:
        """Answer a tap, once and soon, else 400."""
        tap = self._presses.pop(press_id, None)
        if tap is None or self.clock.now() - tap.at > ANSWERABLE_FOR:
            raise bad_request("query is too old and response timeout expired or query ID is invalid")
        self.notices.append(Notice(tap, text, alert, self.changes.mark()))
        if text:
            self.note(tap.chat, "bot", "notice", text, tap.message)

    def _count(self, what: str) -> int:
        number = self._counts.get(what, 0)
        self._counts[what] = number + 1
        return number


def _shut_out(place: Chat) -> ApiError:
    return forbidden("bot was blocked by the user" if place.person else "bot was kicked from the group chat")
