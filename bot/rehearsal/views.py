"""What the page shows: phones and the clock as JSON, with every time in the zone of the phone that shows it."""

import datetime as dt
import zoneinfo

from bot.rehearsal.botapi.methods.about import commands_of
from bot.rehearsal.botapi.models import Attached, Json, Message, Notice, Standing
from bot.rehearsal.botapi.world import World
from bot.rehearsal.places import BY_SPOT
from bot.rehearsal.stage import Someone, Stage

SHOWN_AT_FIRST = 120
EXCERPT = 90


def wall(at: dt.datetime, zone: str) -> Json:
    """An instant as a clock on the wall of that zone shows it."""
    local = at.astimezone(zoneinfo.ZoneInfo(zone))
    return {
        "day": f"{local:%A} {local.day} {local:%B}",
        "short": f"{local:%a} {local.day} {local:%b}",
        "time": f"{local:%H:%M}",
        "date": f"{local:%Y-%m-%d}",
    }


def someone(person: Someone, stage: Stage) -> Json:
    zone = stage.zone_of(person.chat)
    city = zone.rpartition("/")[2].replace("_", " ")
    shown = {"chat": person.chat, "name": person.name, "role": person.role, "note": person.note, "city": city}
    return shown | wall(stage.now(), zone)


def phone(world: World, stage: Stage, number: int, *, since: int) -> Json:
    """One phone: what has changed on it after the revision ``since``; at first the latest messages only."""
    place = world.chats[number]
    messages = world.in_chat(number)
    shown = messages[-SHOWN_AT_FIRST:] if since == 0 else [m for m in messages if m.revision > since]
    return {
        "started": place.standing is not Standing.UNKNOWN,
        "blocked": place.standing is Standing.BLOCKED,
        "keyboard": _keyboard(place.keyboard),
        "commands": commands_of(world.commands, number),
        "messages": [message(m, stage.zone_of(number)) for m in shown],
        "earlier": since == 0 and len(messages) > len(shown),
        "gone": [m.id for m in world.gone_from(number) if m.revision > since > 0],
        "notices": [
            _notice(n) for n in world.notices if n.press.chat == number and n.revision > since > 0 and n.text
        ],
    }


def earlier(world: World, stage: Stage, number: int, *, before: int) -> Json:
    """A page of older messages."""
    older = [m for m in world.in_chat(number) if m.id < before]
    page = older[-SHOWN_AT_FIRST:]
    return {"messages": [message(m, stage.zone_of(number)) for m in page], "earlier": len(older) > len(page)}


def message(sent: Message, zone: str) -> Json:
    return {
        "id": sent.id,
        "mine": not sent.sender.is_bot,
        "text": sent.text,
        "entities": [entity.json() for entity in sent.entities],
        "buttons": [[_button(button) for button in row] for row in sent.buttons],
        "file": _file(sent),
        "place": _place(sent),
        "reply": _reply(sent.reply_to),
        "forwarded": sent.forwarded_from.sender.name if sent.forwarded_from else "",
        "edited": sent.reworded,
        "utc": sent.at.isoformat(),
    } | wall(sent.at, zone)


def _button(button: Json) -> Json:
    return {"text": button["text"], "data": button.get("callback_data"), "url": button.get("url")}


def _keyboard(markup: Json | None) -> list[list[Json]]:
    rows = (markup or {}).get("keyboard", [])
    keys = [[key if isinstance(key, dict) else {"text": key} for key in row] for row in rows]
    return [
        [{"text": key["text"], "location": bool(key.get("request_location"))} for key in row] for row in keys
    ]


def _file(sent: Message) -> Json | None:
    if sent.attachment is None:
        return None
    stored = sent.attachment.file
    return {
        "kind": sent.attachment.kind,
        "name": stored.name,
        "bytes": len(stored.content),
        "mime": stored.mime,
        "url": f"/files/{stored.id}",
        "width": stored.width,
        "height": stored.height,
        "emoji": sent.attachment.emoji,
    }


def _place(sent: Message) -> str:
    if sent.spot is None:
        return ""
    city = BY_SPOT.get(sent.spot)
    where = f"{sent.spot.latitude:.2f}, {sent.spot.longitude:.2f}"
    return f"{city.name} ({where})" if city else where


def _reply(answered: Message | None) -> Json | None:
    if answered is None:
        return None
    words = answered.text or (answered.attachment.kind if answered.attachment else Attached.DOCUMENT)
    return {"id": answered.id, "mine": not answered.sender.is_bot, "text": _excerpt(words)}


def _excerpt(text: str) -> str:
    line = " ".join(text.split())
    return line if len(line) <= EXCERPT else f"{line[:EXCERPT]}…"


def _notice(notice: Notice) -> Json:
    return {"text": notice.text, "alert": notice.alert}
