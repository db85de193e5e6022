"""What may stand below a message: inline buttons, or a keyboard in place of the usual one."""

from bot.rehearsal.botapi.arguments import Arguments
from bot.rehearsal.botapi.errors import bad_request
from bot.rehearsal.botapi.models import Chat, Json

MOST_BUTTONS = 100
LONGEST_DATA = 64  # bytes
WAYS = frozenset(
    {
        "callback_data",
        "url",
        "switch_inline_query",
        "switch_inline_query_current_chat",
        "copy_text",
        "web_app",
        "pay",
    }
)


def read_markup(given: Arguments) -> Json | None:
    """The reply_markup of a call, checked; raises 400 as Telegram does."""
    markup = given.structure("reply_markup")
    if markup in (None, {}):
        return None
    if not isinstance(markup, dict):
        raise bad_request("object expected as reply markup")
    rows = markup.get("inline_keyboard")
    if rows is not None:
        _check(rows)
    return markup


def apply_keyboard(chat: Chat, markup: Json | None) -> None:
    """A reply keyboard belongs to the chat and stays until it is replaced or removed."""
    if markup is None:
        return
    if "keyboard" in markup:
        chat.keyboard = markup
    elif markup.get("remove_keyboard"):
        chat.keyboard = None


def _check(rows: object) -> None:
    if not isinstance(rows, list) or not all(isinstance(row, list) for row in rows):
        raise bad_request('field "inline_keyboard" of the InlineKeyboardMarkup must be an Array of Arrays')
    buttons = [button for row in rows for button in row]
    if len(buttons) > MOST_BUTTONS:
        raise bad_request("reply markup is too long")
    for button in buttons:
        _check_button(button)


def _check_button(button: object) -> None:
    if not isinstance(button, dict) or not str(button.get("text", "")).strip():
        raise bad_request(
            "can't parse inline keyboard button: Text buttons are unallowed in the inline keyboard"
        )
    if not WAYS & button.keys():
        raise bad_request(
            "can't parse inline keyboard button: Text buttons are unallowed in the inline keyboard"
        )
    data = button.get("callback_data")
    if data is not None and not 1 <= len(str(data).encode()) <= LONGEST_DATA:
        raise bad_request("BUTTON_DATA_INVALID")
