"""Who the bot is, whom it knows, its commands and its files."""

import json
import re
from typing import Any

from bot.rehearsal.botapi import shapes
from bot.rehearsal.botapi.api import BotApi
from bot.rehearsal.botapi.arguments import Arguments
from bot.rehearsal.botapi.errors import bad_request
from bot.rehearsal.botapi.models import Json, Standing

LARGEST_DOWNLOAD = 20 * 1024 * 1024
MOST_COMMANDS = 100
COMMAND = re.compile(r"[a-z0-9_]{1,32}")
ACTIONS = frozenset({
    "typing", "upload_photo", "record_video", "upload_video", "record_voice", "upload_voice", "upload_document",
    "choose_sticker", "find_location", "record_video_note", "upload_video_note",
})  # fmt: skip


async def get_me(api: BotApi, given: Arguments) -> Json:  # noqa: ARG001 - all methods look alike
    return shapes.me(api.world.bot)


async def get_chat(api: BotApi, given: Arguments) -> Json:
    place = api.world.chats.get(given.chat())
    if place is None or place.standing is Standing.UNKNOWN:
        raise bad_request("chat not found")
    return shapes.full_chat(place)


async def get_file(api: BotApi, given: Arguments) -> Json:
    stored = api.world.files.get(given.text("file_id"))
    if stored is None:
        raise bad_request("invalid file_id")
    if len(stored.content) > LARGEST_DOWNLOAD:
        raise bad_request("file is too big")
    return shapes.file(stored) | {"file_path": stored.path}


async def leave_chat(api: BotApi, given: Arguments) -> bool:
    place = api.world.chat(given.chat())
    if place.person is not None:
        raise bad_request("chat member status can't be changed in private chats")
    place.standing = Standing.LEFT
    api.world.note(place.id, "bot", "left", "")
    return True


async def send_chat_action(api: BotApi, given: Arguments) -> bool:
    place = api.world.chat(given.chat())
    action = given.text("action")
    if action not in ACTIONS:
        raise bad_request("wrong parameter action in request")
    api.world.actions[place.id] = action
    return True


async def set_my_commands(api: BotApi, given: Arguments) -> bool:
    wanted = given.structure("commands") or []
    if len(wanted) > MOST_COMMANDS:
        raise bad_request("too many commands specified")
    commands = [
        {"command": str(c["command"]).removeprefix("/"), "description": str(c["description"])} for c in wanted
    ]
    for command in commands:
        if not COMMAND.fullmatch(command["command"]):
            raise bad_request("BOT_COMMAND_INVALID")
        if not 1 <= len(command["description"]) <= 256:
            raise bad_request("BOT_COMMAND_DESCRIPTION_INVALID")
    api.world.commands[_scope(given)] = commands
    api.world.changes.mark()
    return True


async def get_my_commands(api: BotApi, given: Arguments) -> list[Json]:
    return api.world.commands.get(_scope(given), [])


async def delete_my_commands(api: BotApi, given: Arguments) -> bool:
    api.world.commands.pop(_scope(given), None)
    return True


def commands_of(commands: dict[str, list[Json]], chat: int) -> list[Json]:
    """What the menu of a private chat shows: the most specific scope wins."""
    scopes: tuple[dict[str, Any], ...] = (
        {"type": "chat", "chat_id": chat},
        {"type": "all_private_chats"},
        {"type": "default"},
    )
    return next((commands[key] for scope in scopes if (key := _key(scope, "")) in commands), [])


def _scope(given: Arguments) -> str:
    return _key(given.structure("scope") or {"type": "default"}, given.text("language_code"))


def _key(scope: dict[str, Any], language: str) -> str:
    return json.dumps([scope, language], sort_keys=True)
