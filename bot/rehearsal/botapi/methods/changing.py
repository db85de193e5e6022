"""Everything that changes what is already there: edits, deletions, answers to taps."""

import datetime as dt

from bot.rehearsal.botapi import shapes
from bot.rehearsal.botapi.api import BotApi
from bot.rehearsal.botapi.arguments import Arguments
from bot.rehearsal.botapi.buttons import read_markup
from bot.rehearsal.botapi.errors import bad_request
from bot.rehearsal.botapi.markup import Formatted, units
from bot.rehearsal.botapi.models import Json, Message
from bot.rehearsal.botapi.wording import read_caption, read_text

DELETABLE_FOR = dt.timedelta(hours=48)
LONGEST_NOTICE = 200
UNCHANGED = (
    "message is not modified: specified new message content and reply markup are exactly the same as a current content "
    "and reply markup of the message"
)


async def edit_message_text(api: BotApi, given: Arguments) -> Json:
    message, wording = _own(api, given), read_text(given)
    if message.attachment or message.spot:
        raise bad_request("there is no text in the message to edit")
    return _edit(api, message, wording, read_markup(given), what="edit")


async def edit_message_caption(api: BotApi, given: Arguments) -> Json:
    message, wording = _own(api, given), read_caption(given)
    if not message.attachment:
        raise bad_request("there is no caption in the message to edit")
    return _edit(api, message, wording, read_markup(given), what="edit")


async def edit_message_reply_markup(api: BotApi, given: Arguments) -> Json:
    message = _own(api, given)
    return _edit(api, message, Formatted(message.text, message.entities), read_markup(given), what="buttons")


async def delete_message(api: BotApi, given: Arguments) -> bool:
    chat = api.world.chat(given.chat())
    message = api.world.find(chat.id, given.whole("message_id"))
    if message is None:
        raise bad_request("message to delete not found")
    in_a_group_by_others = chat.person is None and message.sender is not api.world.bot
    if in_a_group_by_others or api.world.clock.now() - message.at > DELETABLE_FOR:
        raise bad_request("message can't be deleted")
    message.deleted = True
    api.world.touched(message, what="delete", text="", by=api.world.bot)
    return True


async def answer_callback_query(api: BotApi, given: Arguments) -> bool:
    text = given.text("text")
    if units(text) > LONGEST_NOTICE:
        raise bad_request("MESSAGE_TOO_LONG")
    api.world.answer(given.text("callback_query_id"), text, alert=given.flag("show_alert"))
    return True


def _own(api: BotApi, given: Arguments) -> Message:
    chat = api.world.chat(given.chat())
    message = api.world.find(chat.id, given.whole("message_id"))
    if message is None:
        raise bad_request("message to edit not found")
    if message.sender is not api.world.bot:
        raise bad_request("message can't be edited")
    return message


def _edit(api: BotApi, message: Message, wording: Formatted, markup: Json | None, *, what: str) -> Json:
    """An edit without buttons takes the old ones away; one that changes nothing is refused."""
    buttons = (markup or {}).get("inline_keyboard", [])
    if (message.text, message.entities, message.buttons) == (wording.text, wording.entities, buttons):
        raise bad_request(UNCHANGED)
    api.limits.admit(message.chat.id)
    message.reworded |= (message.text, message.entities) != (wording.text, wording.entities)
    message.text, message.entities, message.markup = wording.text, wording.entities, markup
    message.edited_at = api.world.clock.now()
    api.world.touched(message, what=what, text=message.text, by=api.world.bot)
    return shapes.message(message)
