"""The text or the caption of a call: parsed, trimmed, and within Telegram's length."""

from typing import Any

from bot.rehearsal.botapi.arguments import Arguments
from bot.rehearsal.botapi.errors import bad_request
from bot.rehearsal.botapi.markup import Entity, Formatted, parse_html, trimmed, units, with_links

LONGEST_TEXT, LONGEST_CAPTION = 4096, 1024  # UTF-16 units, after parsing


def read_text(given: Arguments) -> Formatted:
    wording = _formatted(given, given.text("text"), "entities")
    if not wording.text:
        raise bad_request("message text is empty")
    if units(wording.text) > LONGEST_TEXT:
        raise bad_request("message is too long")
    return wording


def read_caption(given: Arguments) -> Formatted:
    wording = _formatted(given, given.text("caption"), "caption_entities")
    if units(wording.text) > LONGEST_CAPTION:
        raise bad_request("message caption is too long")
    return wording


def _formatted(given: Arguments, source: str, entities: str) -> Formatted:
    mode = given.text("parse_mode").lower()
    if mode == "html":
        return with_links(parse_html(source))
    if mode:
        raise bad_request("unsupported parse_mode")
    given_entities = tuple(_entity(raw) for raw in given.structure(entities) or [])
    return with_links(trimmed(Formatted(source, given_entities)))


def _entity(raw: dict[str, Any]) -> Entity:
    return Entity(
        str(raw["type"]), int(raw["offset"]), int(raw["length"]), raw.get("url", ""), raw.get("language", "")
    )
