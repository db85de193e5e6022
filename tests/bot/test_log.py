import io
import logging
from collections.abc import Iterator

import httpx
import pytest

from bot.log import configure_log, redacted
from core.store.lanes import Kind
from tests.bot.queues import MINUTE, Queues, message, outgoing
from tests.fake_api import BAD_GATEWAY, JUNK, LOST_ANSWER, TOKEN, refused

CANARY = "kanarienvogel"


@pytest.fixture
def logged() -> Iterator[io.StringIO]:
    """Everything that is logged, at the wordiest."""
    stream, root = io.StringIO(), logging.getLogger()
    before = root.handlers[:], root.level
    levels = {name: logging.getLogger(name).level for name in list(logging.root.manager.loggerDict)}
    configure_log(logging.DEBUG, stream)
    yield stream
    root.handlers[:], _ = before
    root.setLevel(before[1])
    for name in logging.root.manager.loggerDict:
        logging.getLogger(name).setLevel(levels.get(name, logging.NOTSET))


async def test_no_words_no_names_and_no_token_are_logged_whatever_goes_wrong(
    queues: Queues, logged: io.StringIO
) -> None:
    server = queues.server
    server.next("getUpdates", refused(409, "Conflict"))
    server.next(
        "sendMessage", LOST_ANSWER, BAD_GATEWAY, JUNK,
        refused(400, f'Bad Request: unsupported "{CANARY}" here'),
        refused(400, "Bad Request: can't parse entities"),
        refused(403, "Forbidden: bot was blocked by the user"),
        refused(401, "Unauthorized"), refused(429, "Too Many Requests", retry_after=1),
    )  # fmt: skip
    person = message(1, f"poison {CANARY}")
    person["message"]["from"]["first_name"] = CANARY
    server.arrive(person, message(2, CANARY, chat=8), {"update_id": 3, CANARY: CANARY})
    for _ in range(2):
        try:
            await queues.receiver.poll_once(0)
        except Exception:
            logging.getLogger("bot").exception("as the loop does")
    queues.house.broken.add("broken")
    await queues.enqueue(
        *(outgoing(f"p{n}", chat=n, kind=Kind.REPLY, text=f"<b>{CANARY}") for n in range(1, 9))
    )
    await queues.enqueue(outgoing("broken", chat=20), outgoing("tell me not", chat=21))
    for _ in range(7):
        await queues.handle_all()
        queues.machine.advance(10 * MINUTE)
    await queues.send_all()
    said = logged.getvalue()
    assert "set aside" in said
    assert "ValueError, at" in said
    assert CANARY not in said
    assert TOKEN not in said
    assert "poison" not in said


async def test_a_library_that_logs_addresses_is_redacted_or_silent(logged: io.StringIO) -> None:
    logging.getLogger("httpx").info("HTTP Request: POST %s", f"https://api.telegram.org/bot{TOKEN}/getMe")
    logging.getLogger("somebody").error("POST %s", httpx.URL(f"https://api.telegram.org/bot{TOKEN}/getMe"))
    assert logged.getvalue().count("[token]") == 1
    assert TOKEN not in logged.getvalue()


@pytest.mark.parametrize("form", [TOKEN, f"bot{TOKEN}/sendMessage", TOKEN.replace(":", "%3A")])
def test_a_token_is_recognised_wherever_it_stands(form: str) -> None:
    assert "invented" not in redacted(f"could not reach {form} at all")
