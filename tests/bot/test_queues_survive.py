"""Whatever happens in whatever order (crashes, retries, delays, duplicates), the promises of the two queues hold.

A machine of rules plays against the real queues, on SQLite, over real HTTP; the model is what the server was told.
"""

import asyncio
import datetime as dt
import shutil
import tempfile
from collections.abc import Callable, Coroutine
from contextlib import AsyncExitStack
from pathlib import Path
from typing import Any, TypeVar

import pytest
from hypothesis import HealthCheck, Phase, settings
from hypothesis import strategies as st
from hypothesis.stateful import (
    RuleBasedStateMachine,
    initialize,
    invariant,
    precondition,
    rule,
    run_state_machine_as_test,
)
from typing_extensions import override

from core.store.cipher import Cipher
from core.store.engine import open_store
from core.store.lanes import POLICIES, Kind
from core.store.outbox import Outgoing
from tests.bot.queues import MINUTE, SECOND, Queues, message, outgoing, queues_on
from tests.fake_api import BAD_GATEWAY, BLOCKED, JUNK, LOST_ANSWER, TOO_MANY, Answer, Call

T = TypeVar("T")

CHATS = st.integers(1, 3)
KINDS = st.sampled_from([Kind.PROMPT, Kind.REPLY, Kind.DIGEST, Kind.SAFETY, Kind.SLEEP])
ANSWERS = st.sampled_from([LOST_ANSWER, JUNK, TOO_MANY, BAD_GATEWAY, BLOCKED])


class Survival(RuleBasedStateMachine):
    """Each rule is one step of one of the loops, or a blow to it."""

    template: Path
    cipher: Cipher

    def __init__(self) -> None:
        super().__init__()
        self.loop = asyncio.new_event_loop()
        self.folder = Path(tempfile.mkdtemp())
        self.stack = AsyncExitStack()
        self.messages: dict[str, Outgoing] = {}
        self.arrived: list[int] = []  # whose update number 100, 101 ... is
        self.taken_at: list[tuple[str, dt.datetime]] = []

    def run(self, work: Coroutine[Any, Any, T]) -> T:
        return self.loop.run_until_complete(work)

    @initialize()
    def open(self) -> None:
        shutil.copyfile(self.template, self.folder / "keptword.db")
        self.store = open_store(f"sqlite:///{self.folder / 'keptword.db'}", self.cipher)
        self.stack.push_async_callback(self.store.close)
        self.queues: Queues = self.run(self.stack.enter_async_context(queues_on(self.store)))
        self.queues.server.on_taken = self._note

    def _note(self, call: Call) -> None:
        if call.method == "sendMessage":
            self.taken_at.append((call.parameters["text"], self.queues.clock.now()))

    @override
    def teardown(self) -> None:
        if hasattr(self, "queues"):
            self.run(self._until_quiet())
            for check in (self.check_every_reply_was_handled_once, *self.promises()):
                check()
        self.run(self.stack.aclose())
        self.loop.close()
        shutil.rmtree(self.folder)

    async def _until_quiet(self) -> None:
        self.queues.server.script.clear()
        self.queues.receiver._offset = None
        await self.queues.receiver.poll_once(0)
        while "waiting" in await self.queues.inbox_states():  # poison is tried a few times
            self.queues.machine.advance(10 * MINUTE)
            await self.queues.handle_all()
        await self.queues.send_all()

    @rule(
        n=st.integers(1, 12),
        chat=CHATS,
        kind=KINDS,
        later=st.sampled_from([0, 0, 30]),
        lasts=st.sampled_from([None, 20]),
    )
    def plan(self, n: int, chat: int, kind: Kind, later: int, lasts: int | None) -> None:
        """Anybody may plan the same moment again."""
        now = self.queues.clock.now()
        key = f"{kind}/{n}"
        planned = outgoing(
            key, chat=chat, kind=kind,
            not_before=now + later * MINUTE if later else None,
            expires_at=now + (later + lasts) * MINUTE if lasts else None,
        )  # fmt: skip
        self.messages.setdefault(key, planned)
        self.run(self.queues.enqueue(planned))

    @rule(chat=CHATS, texts=st.lists(st.sampled_from(["done", "slept 6", "poison"]), min_size=1, max_size=3))
    def write(self, chat: int, texts: list[str]) -> None:
        for text in texts:
            number = 100 + len(self.arrived)
            self.arrived.append(chat)
            self.queues.server.arrive(message(number, f"{text} {number}", chat))
        self.poll()

    @rule()
    def poll(self) -> None:
        self.run(self.queues.receiver.poll_once(0))

    @rule()
    def forget_what_was_confirmed(self) -> None:
        """Killed after the commit, before the next poll: the server serves the last batch again."""
        self.queues.receiver._offset = None

    @rule(times=st.integers(1, 3))
    def handle(self, times: int) -> None:
        for _ in range(times):
            self.run(self.queues.dispatcher.handle_next())

    @rule()
    def die_while_handling(self) -> None:
        self.run(self.queues.dispatcher._claim())

    @rule(times=st.integers(1, 5))
    def send(self, times: int) -> None:
        for _ in range(times):
            self.queues.machine.advance(SECOND)
            self.run(self.queues.sender.send_next())

    @rule(answer=ANSWERS)
    def send_with_trouble(self, answer: Answer) -> None:
        self.queues.server.script.clear()
        self.queues.server.next("sendMessage", answer)
        self.send(times=2)

    @rule(went_out=st.booleans())
    def die_while_sending(self, went_out: bool) -> None:
        self.queues.machine.advance(SECOND)
        row = self.run(self.queues.sender._claim()).row
        if row is not None and went_out:
            self.run(self.queues.sender._send(row))

    @rule()
    def leases_run_out(self) -> None:
        self.queues.machine.advance(100 * SECOND)

    @rule(minutes=st.sampled_from([5, 40]))
    def time_passes_for_people(self, minutes: int) -> None:
        self.queues.clock.advance(minutes * MINUTE)

    @precondition(lambda self: self.messages)
    @rule(data=st.data())
    def it_is_no_longer_true(self, data: st.DataObject) -> None:
        self.queues.house.untrue.add(data.draw(st.sampled_from(sorted(self.messages))))

    def promises(self) -> list[Callable[[], None]]:
        return [
            self.nothing_that_must_not_be_doubled_is,
            self.nothing_is_handled_twice,
            self.each_chat_is_answered_in_order,
            self.nothing_stale_is_sent,
            self.each_chat_hears_its_answers_in_order,
        ]

    @invariant()
    def nothing_that_must_not_be_doubled_is(self) -> None:
        if not hasattr(self, "queues"):
            return
        for text, times in self.queues.server.times_taken().items():
            kind = self.messages[text].kind if text in self.messages else Kind.REPLY
            assert times == 1 or POLICIES[kind].resend_if_uncertain, f"{text} was sent {times} times"

    @invariant()
    def nothing_is_handled_twice(self) -> None:
        if hasattr(self, "queues"):
            handled = [update["update_id"] for update in self.queues.house.handled]
            assert len(handled) == len(set(handled))

    @invariant()
    def each_chat_is_answered_in_order(self) -> None:
        if not hasattr(self, "queues"):
            return
        for chat in (1, 2, 3):
            numbers = [
                u["update_id"] for u in self.queues.house.handled if u["message"]["chat"]["id"] == chat
            ]
            assert numbers == sorted(numbers)

    def check_every_reply_was_handled_once(self) -> None:
        """Lost: none. What could not be handled is set aside, where the operator sees it."""
        states = self.run(self.queues.inbox_states())
        assert len(states) == len(self.arrived)
        assert states.count("handled") == len(self.queues.house.handled)
        assert "waiting" not in states

    @invariant()
    def nothing_stale_is_sent(self) -> None:
        for text, at in self.taken_at:
            expires_at = self.messages[text].expires_at if text in self.messages else None
            assert expires_at is None or at < expires_at

    @invariant()
    def each_chat_hears_its_answers_in_order(self) -> None:
        numbers = [int(text.split()[-1]) for text, _ in self.taken_at if text.startswith("heard:")]
        for chat in (1, 2, 3):
            its_own = [n for n in dict.fromkeys(numbers) if self.arrived[n - 100] == chat]
            assert its_own == sorted(its_own)


@pytest.mark.timeout(300)
def test_the_promises_of_the_queues_survive(sqlite_template: Path, cipher: Cipher) -> None:
    Survival.template, Survival.cipher = sqlite_template, cipher
    run_state_machine_as_test(
        Survival,
        settings=settings(
            max_examples=25,
            phases=[Phase.explicit, Phase.generate],
            stateful_step_count=40,
            deadline=None,
            derandomize=True,
            suppress_health_check=list(HealthCheck),
        ),
    )
