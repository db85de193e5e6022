"""A message whose markup is broken, as plain text."""

import html
import re
from collections.abc import Mapping

from core.store.columns import Json

# The tags that Telegram's HTML mode knows; anything else between angle brackets is somebody's words.
_TAG = re.compile(
    r"</?(?:b|strong|i|em|u|ins|s|strike|del|a|code|pre|blockquote|tg-spoiler|tg-emoji|span)(?:\s[^<>]*)?>",
    re.IGNORECASE,
)


def as_plain(payload: Mapping[str, Json]) -> dict[str, Json]:
    """The same parameters without a parse mode, and text and caption without tags."""
    plain = {name: value for name, value in payload.items() if name != "parse_mode"}
    for name in ("text", "caption"):
        words = plain.get(name)
        if isinstance(words, str):
            plain[name] = html.unescape(_TAG.sub("", words))
    return plain
