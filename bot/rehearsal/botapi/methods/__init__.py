"""The methods of the Bot API that exist here, by name in lower case."""

from collections.abc import Awaitable, Callable
from typing import Any

from bot.rehearsal.botapi.api import BotApi
from bot.rehearsal.botapi.arguments import Arguments
from bot.rehearsal.botapi.methods import about, changing, intake, sending

Method = Callable[[BotApi, Arguments], Awaitable[Any]]

METHODS: dict[str, Method] = {
    "getme": about.get_me,
    "getchat": about.get_chat,
    "getfile": about.get_file,
    "leavechat": about.leave_chat,
    "setmycommands": about.set_my_commands,
    "getmycommands": about.get_my_commands,
    "deletemycommands": about.delete_my_commands,
    "sendchataction": about.send_chat_action,
    "getupdates": intake.get_updates,
    "setwebhook": intake.set_webhook,
    "deletewebhook": intake.delete_webhook,
    "getwebhookinfo": intake.get_webhook_info,
    "sendmessage": sending.send_message,
    "sendphoto": sending.send_photo,
    "senddocument": sending.send_document,
    "sendvideo": sending.send_video,
    "sendvoice": sending.send_voice,
    "sendlocation": sending.send_location,
    "copymessage": sending.copy_message,
    "forwardmessage": sending.forward_message,
    "editmessagetext": changing.edit_message_text,
    "editmessagecaption": changing.edit_message_caption,
    "editmessagereplymarkup": changing.edit_message_reply_markup,
    "deletemessage": changing.delete_message,
    "answercallbackquery": changing.answer_callback_query,
}
