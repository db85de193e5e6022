"""Buttons: what one carries, and how we know that it is ours.

A client's software chooses what it sends back. So a button's data is signed for the chat that it was sent to: nobody can forge
one, and one that was forwarded does nothing. Whether it still makes sense is a question to the state, not to the button.
"""

import base64
import hashlib
import hmac
from dataclasses import dataclass

MOST_BYTES = 64  # the Bot API's limit of callback_data
_SIGNATURE_BYTES = 6


@dataclass(frozen=True, slots=True)
class Button:
    """A label, and what pressing it means."""

    label: str
    verb: str
    args: tuple[str, ...] = ()


def button(label: str, verb: str, *args: object) -> Button:
    return Button(label, verb, tuple(str(a) for a in args))


@dataclass(frozen=True, slots=True)
class Signer:
    """Signs and checks the data of buttons with a secret of this installation."""

    secret: bytes

    def data(self, pressed: Button, chat_id: int) -> str:
        """Spell a button for the Bot API: at most 64 bytes."""
        body = ":".join((pressed.verb, *pressed.args))
        data = f"{body}~{self._signature(body, chat_id)}"
        if len(data.encode()) > MOST_BYTES:
            msg = f"the button {body} is too long for Telegram"
            raise ValueError(msg)
        return data

    def read(self, data: str, chat_id: int) -> tuple[str, tuple[str, ...]] | None:
        """The verb and its arguments, or None for data that we never sent to this chat."""
        body, _, signature = data.rpartition("~")
        if not body or not hmac.compare_digest(signature.encode(), self._signature(body, chat_id).encode()):
            return None
        verb, *args = body.split(":")
        return verb, tuple(args)

    def _signature(self, body: str, chat_id: int) -> str:
        digest = hmac.new(self.secret, f"{chat_id}:{body}".encode(), hashlib.sha256).digest()
        return base64.urlsafe_b64encode(digest[:_SIGNATURE_BYTES]).decode()
