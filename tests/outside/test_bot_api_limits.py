"""The Bot API's published limits, as python-telegram-bot 22.8 states them (telegram.constants, Bot API 10.0), against ours."""

import re

from telegram import constants

from bot.chats.buttons import MOST_BYTES
from bot.chats.client import door as client_door
from bot.chats.client import enrol
from bot.chats.coach import door as coach_door
from bot.chats.coach import setup
from bot.receiver import BATCH
from bot.settings import SECRET
from core.digest.packing import LONGEST
from core.people.invitations import TOKEN_BYTES, token_from
from core.store.pace import Pace


def test_we_send_no_faster_than_is_allowed() -> None:
    """Bots FAQ: one message a second to a chat, 20 a minute to a group, about 30 a second in all."""
    pace = Pace()
    assert 1 / pace.every.total_seconds() <= constants.FloodLimit.MESSAGES_PER_SECOND
    assert 1 / pace.chat_every.total_seconds() <= constants.FloodLimit.MESSAGES_PER_SECOND_PER_CHAT
    assert 60 / pace.group_every.total_seconds() <= constants.FloodLimit.MESSAGES_PER_MINUTE_PER_GROUP


def test_a_button_carries_at_most_what_fits() -> None:
    assert constants.InlineKeyboardButtonLimit.MAX_CALLBACK_DATA == MOST_BYTES


def test_a_digest_message_is_no_longer_than_a_message_may_be() -> None:
    assert LONGEST <= constants.MessageLimit.MAX_TEXT_LENGTH


def test_a_poll_asks_for_no_more_than_it_may() -> None:
    assert BATCH <= constants.PollingLimit.MAX_LIMIT


def test_a_link_has_the_alphabet_and_length_of_a_deep_link() -> None:
    """Bots documentation: up to 64 signs of A-Z a-z 0-9 _ -; ours carries 128 bits."""
    token = token_from(bytes(range(TOKEN_BYTES)))
    assert re.fullmatch(r"[A-Za-z0-9_-]{1,64}", token)
    assert len(token) * 6 >= 128


def test_a_webhook_secret_is_one_that_telegram_takes() -> None:
    longest = "a" * constants.WebhookLimit.MAX_SECRET_TOKEN_LENGTH
    assert SECRET.fullmatch(longest)
    assert not SECRET.fullmatch(longest + "a")


def test_the_commands_of_both_menus_exist_and_are_spelled_as_commands_are() -> None:
    """Bot API: a command is 1 to 32 of a-z 0-9 _, its description 1 to 256."""
    for menu, known in ((enrol.MENU, client_door.COMMANDS), (setup.MENU, coach_door.COMMANDS)):
        assert set(menu) <= set(known)
        assert all(re.fullmatch(r"[a-z0-9_]{1,32}", name) for name in menu)
        assert all(1 <= len(words) <= 256 for words in menu.values())
