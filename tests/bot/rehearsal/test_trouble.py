"""Faults on demand, as the bot's client library sees them."""

import httpx
import pytest
from telegram import Bot
from telegram.error import NetworkError, RetryAfter, TelegramError, TimedOut

from bot.rehearsal.botapi.api import BotApi
from bot.rehearsal.botapi.errors import too_many_requests
from bot.rehearsal.botapi.trouble import Kind
from bot.rehearsal.phone import Phone


@pytest.mark.parametrize(
    ("kind", "raised", "cause", "done"),
    [
        (Kind.SERVER_ERROR, NetworkError, None, 0),
        (Kind.SERVER_ERROR_AFTER, NetworkError, None, 1),
        (Kind.DEAF, TimedOut, httpx.ReadTimeout, 0),
        (Kind.SILENCE, TimedOut, httpx.ReadTimeout, 1),
        (Kind.CUT, NetworkError, httpx.TransportError, 0),
        (Kind.DROPPED, NetworkError, httpx.TransportError, 1),
        (Kind.JUNK, TelegramError, None, 1),
    ],
)
async def test_each_fault_looks_as_it_does_outside(
    bot: Bot,
    api: BotApi,
    ines: Phone,
    kind: Kind,
    raised: type[Exception],
    cause: type[Exception] | None,
    done: int,
) -> None:
    api.trouble.plan(kind, method="sendMessage")
    with pytest.raises(raised) as error:
        await bot.send_message(ines.chat.id, "x", read_timeout=0.2)
    if cause is not None:
        assert isinstance(error.value.__cause__, cause)
    assert len(ines.received()) == done
    await bot.send_message(ines.chat.id, "and on it goes")
    assert len(ines.received()) == done + 1


async def test_a_fault_hits_only_the_method_it_names_and_so_many_times(
    bot: Bot, api: BotApi, ines: Phone
) -> None:
    api.trouble.plan(Kind.ERROR, method="sendMessage", times=2, error=too_many_requests(7))
    await bot.get_me()
    for _ in range(2):
        with pytest.raises(RetryAfter, match="7"):
            await bot.send_message(ines.chat.id, "x")
    await bot.send_message(ines.chat.id, "x")
    api.trouble.plan(Kind.SERVER_ERROR)
    api.trouble.clear()
    await bot.send_message(ines.chat.id, "x")


async def test_an_answer_that_is_no_json(bot: Bot, api: BotApi, ines: Phone) -> None:
    api.trouble.plan(Kind.JUNK)
    with pytest.raises(TelegramError, match="Invalid server response"):
        await bot.send_message(ines.chat.id, "x")
