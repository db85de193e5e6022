"""Who the bot is, what it knows of its chats, its commands and files; and calls that go nowhere."""

from collections.abc import Callable

import httpx
import pytest
from telegram import Bot, BotCommand, BotCommandScopeAllPrivateChats, BotCommandScopeChat
from telegram.constants import ChatAction
from telegram.error import BadRequest, Forbidden, InvalidToken

from bot.rehearsal.botapi.api import BotApi
from bot.rehearsal.botapi.methods.about import commands_of
from bot.rehearsal.phone import Phone


async def test_the_bot_knows_itself(bot: Bot) -> None:
    assert (bot.username, bot.first_name, bot.id) == ("keptword_bot", "Keptword", 100200300)


async def test_a_chat_is_known_once_it_was_started(bot: Bot, api: BotApi, ines: Phone) -> None:
    chat = await bot.get_chat(ines.chat.id)
    assert (chat.type, chat.first_name, chat.last_name) == ("private", "Ines", "Duarte")
    with pytest.raises(BadRequest, match="Chat not found"):
        await bot.get_chat(api.world.add_person("Nobody").id)


async def test_commands_by_scope_the_most_specific_wins(bot: Bot, api: BotApi, ines: Phone) -> None:
    await bot.set_my_commands([BotCommand("week", "this week")], scope=BotCommandScopeAllPrivateChats())
    await bot.set_my_commands([BotCommand("digest", "everybody")], scope=BotCommandScopeChat(ines.chat.id))
    assert await bot.get_my_commands(scope=BotCommandScopeAllPrivateChats()) == (
        BotCommand("week", "this week"),
    )
    assert await bot.get_my_commands() == ()
    assert [c["command"] for c in commands_of(api.world.commands, ines.chat.id)] == ["digest"]
    assert [c["command"] for c in commands_of(api.world.commands, 1)] == ["week"]
    await bot.delete_my_commands(scope=BotCommandScopeChat(ines.chat.id))
    assert [c["command"] for c in commands_of(api.world.commands, ines.chat.id)] == ["week"]


@pytest.mark.parametrize(
    ("command", "why"),
    [
        ({"command": "My week", "description": "x"}, "BOT_COMMAND_INVALID"),
        ({"command": "week", "description": ""}, "BOT_COMMAND_DESCRIPTION_INVALID"),
    ],
)
async def test_bad_commands_are_refused(raw: httpx.AsyncClient, command: dict[str, str], why: str) -> None:
    answer = (await raw.post("/setMyCommands", json={"commands": [command]})).json()
    assert (answer["error_code"], answer["description"]) == (400, f"Bad Request: {why}")


async def test_chat_actions(bot: Bot, api: BotApi, ines: Phone) -> None:
    assert await bot.send_chat_action(ines.chat.id, ChatAction.TYPING)
    assert api.world.actions[ines.chat.id] == "typing"
    with pytest.raises(BadRequest, match="Wrong parameter action in request"):
        await bot.send_chat_action(ines.chat.id, "juggling")


async def test_a_group_can_be_left(bot: Bot, ines: Phone) -> None:
    inside = ines.add_bot_to_group("Crew, Hall 2")
    assert (await bot.get_chat(inside.chat.id)).title == "Crew, Hall 2"
    assert await bot.leave_chat(inside.chat.id)
    with pytest.raises(Forbidden, match="bot is not a member of the group chat"):
        await bot.send_message(inside.chat.id, "x")
    with pytest.raises(BadRequest):
        await bot.leave_chat(ines.chat.id)


async def test_files(bot: Bot, address: str, ines: Phone) -> None:
    sent = ines.send_document(b"a,b\n", name="plan.csv", mime="text/csv")
    assert sent.attachment is not None
    got = await bot.get_file(sent.attachment.file.id)
    assert bytes(await got.download_as_bytearray()) == b"a,b\n"
    with pytest.raises(BadRequest, match="Invalid file_id"):
        await bot.get_file("no-such-file")
    async with httpx.AsyncClient(trust_env=False) as client:
        missing = await client.get(f"{address}/file/bot{bot.token}/documents/nothing.csv")
        foreign = await client.get(f"{address}/file/bot1:wrong/{sent.attachment.file.path}")
    assert (missing.status_code, foreign.status_code) == (404, 401)


async def test_a_file_over_20_mb_cannot_be_fetched(bot: Bot, ines: Phone) -> None:
    sent = ines.send_document(bytes(20 * 1024 * 1024 + 1), name="film.bin")
    assert sent.attachment is not None
    with pytest.raises(BadRequest, match="File is too big"):
        await bot.get_file(sent.attachment.file.id)


async def test_a_wrong_token_and_an_unknown_method(
    address: str, raw: httpx.AsyncClient, make_bot: Callable[[str, str], Bot]
) -> None:
    stranger = make_bot(address, "1:wrong")
    with pytest.raises(InvalidToken):
        await stranger.initialize()
    await stranger.shutdown()
    async with httpx.AsyncClient(trust_env=False) as client:
        wrong = (await client.get(f"{address}/bot1:wrong/getMe")).json()
    assert wrong == {"ok": False, "error_code": 401, "description": "Unauthorized"}
    unknown = await raw.post("/makeCoffee")
    assert (unknown.status_code, unknown.json()["error_code"]) == (404, 404)
