"""The Bot API's published limits, held against what we send and how fast.

Sources beside each check; 'constants' is python-telegram-bot 22.8's telegram.constants, which carries the figures of the Bot API
documentation (core.telegram.org/bots/api) and of its FAQ (core.telegram.org/bots/faq), as a second witness.
"""

import datetime as dt
import inspect
import re
from collections.abc import Callable

import pytest
from telegram import Bot
from telegram.constants import (
    FloodLimit,
    InlineKeyboardButtonLimit,
    MessageLimit,
    PollingLimit,
    UpdateType,
    WebhookLimit,
)

from bot.chats.buttons import MOST_BYTES
from bot.chats.client import door as client_door
from bot.chats.client import enrol
from bot.chats.coach import door as coach_door
from bot.chats.coach import setup
from bot.receiver import ALLOWED_UPDATES, BATCH
from bot.settings import SECRET
from bot.steady import MOST, WITHIN, Steady
from core.digest.packing import LONGEST
from core.people.invitations import TOKEN_BYTES, token_from
from core.store.outbox import METHODS
from core.store.pace import ALONE, Pace

SECOND = dt.timedelta(seconds=1)
BEGAN = dt.datetime(2026, 11, 25, 12, tzinfo=dt.UTC)


def starts(pace: Pace, count: int, late: Callable[[int], dt.timedelta]) -> list[dt.datetime]:
    """When messages start that are always wanted, by a sender that is ``late`` at each."""
    free_at, now, told = BEGAN, BEGAN, []
    for n in range(count):
        now = max(now, pace.opens_at(free_at)) + late(n)
        told.append(now)
        free_at = pace.after_taking(free_at, now)
    return told


@pytest.mark.parametrize("late_ms", [0, 3, 14, 40])
def test_no_more_than_thirty_messages_start_within_any_second(late_ms: int) -> None:
    """FAQ: bulk notifications, about 30 messages per second; constants: FloodLimit.MESSAGES_PER_SECOND."""
    assert int(FloodLimit.MESSAGES_PER_SECOND) == MOST
    told = starts(Pace(), 300, lambda n: dt.timedelta(milliseconds=late_ms * (n % 3) / 2))
    within = [sum(1 for each in told if start <= each < start + SECOND) for start in told]
    assert max(within) <= FloodLimit.MESSAGES_PER_SECOND


def test_a_sender_that_is_a_little_late_loses_nothing_of_what_is_allowed() -> None:
    told = starts(Pace(), 300, lambda n: dt.timedelta(milliseconds=12) if n % 2 else dt.timedelta())
    rate = 299 / (told[-1] - told[0]).total_seconds()
    assert rate > 0.95 * FloodLimit.MESSAGES_PER_SECOND


def test_a_process_that_makes_good_for_a_stall_counts_the_last_second() -> None:
    """`ALONE` alone would let more than thirty through after a stall: so starts are counted too."""
    told = starts(ALONE, 60, lambda n: dt.timedelta(milliseconds=290) if n == 10 else dt.timedelta())
    assert max(sum(1 for each in told if start <= each < start + SECOND) for start in told) > 30
    assert MOST <= FloodLimit.MESSAGES_PER_SECOND
    assert WITHIN > SECOND


def test_a_stall_is_made_good_for_without_more_than_thirty_in_any_second() -> None:
    """What `ALONE` allows, `Steady` holds: a sender that counts its starts stays within the limit after a stall."""
    steady, free_at, now, told = Steady(), BEGAN, BEGAN, []
    for n in range(90):
        now = max(now, ALONE.opens_at(free_at), steady.opens_at() or now)
        now += dt.timedelta(milliseconds=290) if n == 40 else dt.timedelta()
        steady.claim()
        free_at = ALONE.after_taking(free_at, now)
        steady.start(now)
        told.append(now)
    within = [sum(1 for each in told if start <= each < start + SECOND) for start in told]
    assert max(within) <= FloodLimit.MESSAGES_PER_SECOND


def test_a_chat_gets_at_most_one_message_a_second_counted_from_the_answer() -> None:
    """FAQ: avoid more than one message per second in a chat; constants: FloodLimit.MESSAGES_PER_SECOND_PER_CHAT."""
    free_at = Pace().chat_free_at(7123456789, BEGAN)
    assert (free_at - BEGAN) >= SECOND / FloodLimit.MESSAGES_PER_SECOND_PER_CHAT


def test_a_group_gets_at_most_twenty_messages_a_minute() -> None:
    """FAQ: no more than 20 messages per minute to the same group; constants: FloodLimit.MESSAGES_PER_MINUTE_PER_GROUP."""
    free_at = Pace().chat_free_at(-100123, BEGAN)
    assert (free_at - BEGAN) >= 60 * SECOND / FloodLimit.MESSAGES_PER_MINUTE_PER_GROUP


def test_as_many_updates_are_asked_for_as_may_be() -> None:
    """Bot API, getUpdates: limit 1 to 100; constants: PollingLimit."""
    assert PollingLimit.MIN_LIMIT <= BATCH <= PollingLimit.MAX_LIMIT


def test_only_kinds_of_updates_that_exist_are_asked_for() -> None:
    """Bot API, Update: its fields; constants: UpdateType."""
    assert set(ALLOWED_UPDATES) <= {kind.value for kind in UpdateType}


def test_a_webhooks_secret_is_as_the_server_takes_it() -> None:
    """Bot API, setWebhook: secret_token, 1 to 256 of A-Z a-z 0-9 _ -; constants: WebhookLimit."""
    assert SECRET.fullmatch("a" * WebhookLimit.MAX_SECRET_TOKEN_LENGTH)
    assert not SECRET.fullmatch("a" * (WebhookLimit.MAX_SECRET_TOKEN_LENGTH + 1))
    assert not SECRET.fullmatch("")
    assert not SECRET.fullmatch("a b")


def test_every_method_that_is_sent_exists() -> None:
    """Bot API: its methods, of each of which python-telegram-bot's Bot has one of the same name."""
    known = {name for name, _ in inspect.getmembers(Bot, inspect.isfunction)}
    assert known >= METHODS


def test_a_button_carries_at_most_what_fits() -> None:
    assert InlineKeyboardButtonLimit.MAX_CALLBACK_DATA == MOST_BYTES


def test_a_digest_message_is_no_longer_than_a_message_may_be() -> None:
    assert LONGEST <= MessageLimit.MAX_TEXT_LENGTH


def test_a_link_has_the_alphabet_and_length_of_a_deep_link() -> None:
    """Bots documentation: up to 64 signs of A-Z a-z 0-9 _ -; ours carries 128 bits."""
    token = token_from(bytes(range(TOKEN_BYTES)))
    assert re.fullmatch(r"[A-Za-z0-9_-]{1,64}", token)
    assert len(token) * 6 >= 128


def test_the_commands_of_both_menus_exist_and_are_spelled_as_commands_are() -> None:
    """Bot API: a command is 1 to 32 of a-z 0-9 _, its description 1 to 256."""
    for menu, known in ((enrol.MENU, client_door.COMMANDS), (setup.MENU, coach_door.COMMANDS)):
        assert set(menu) <= set(known)
        assert all(re.fullmatch(r"[a-z0-9_]{1,32}", name) for name in menu)
        assert all(1 <= len(words) <= 256 for words in menu.values())
