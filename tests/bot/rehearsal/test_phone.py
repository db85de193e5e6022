"""What people do with their phones, as the bot sees it."""

import asyncio
import datetime as dt
import io

import pytest
from PIL import Image
from telegram import Bot, InlineKeyboardButton, InlineKeyboardMarkup, Update

from bot.clock import ManualClock
from bot.rehearsal.botapi.api import BotApi
from bot.rehearsal.botapi.models import Json
from bot.rehearsal.botapi.world import World
from bot.rehearsal.phone import Phone
from core.errors import Refused


async def next_update(bot: Bot) -> Update:
    (update,) = await bot.get_updates(timeout=1)
    await bot.get_updates(offset=update.update_id + 1)
    return update


async def test_start_with_a_payload_is_a_command(bot: Bot, api: BotApi) -> None:
    phone = Phone(api.world, api.world.add_person("Tomas", username="tomas"))
    phone.start("aB3_-x")
    message = (await next_update(bot)).message
    assert message is not None
    assert message.text == "/start aB3_-x"
    assert message.parse_entities(["bot_command"]) == {message.entities[0]: "/start"}
    with pytest.raises(Refused):
        phone.start("has spaces")


async def test_words_and_their_date(bot: Bot, ines: Phone, clock: ManualClock) -> None:
    clock.advance(dt.timedelta(hours=1))
    ines.send("  slept 6.5  ")
    message = (await next_update(bot)).message
    assert message is not None
    assert (message.text, message.date, message.chat_id) == ("slept 6.5", clock.now(), ines.person.id)


async def test_a_reply_carries_what_it_answers(bot: Bot, ines: Phone) -> None:
    asked = await bot.send_message(ines.chat.id, "Trained?")
    ines.send("yes", reply_to=asked.message_id)
    message = (await next_update(bot)).message
    assert message is not None
    assert message.reply_to_message is not None
    assert message.reply_to_message.message_id == asked.message_id


async def test_an_edited_message(bot: Bot, ines: Phone, clock: ManualClock) -> None:
    said = ines.send("slept 7")
    await next_update(bot)
    clock.advance(dt.timedelta(minutes=1))
    ines.edit(said.id, "slept 8")
    edited = (await next_update(bot)).edited_message
    assert edited is not None
    assert (edited.text, edited.message_id, edited.edit_date) == ("slept 8", said.id, clock.now())
    theirs = await bot.send_message(ines.chat.id, "x")
    with pytest.raises(Refused):
        ines.edit(theirs.message_id, "y")


async def test_places_pictures_sounds_films_papers_and_stickers(bot: Bot, ines: Phone) -> None:
    held = io.BytesIO()
    Image.new("RGB", (20, 10)).save(held, "PNG")
    ines.send_location(1.35, 103.82)
    ines.send_photo(held.getvalue(), caption="the hotel gym")
    ines.send_voice(b"spoken", seconds=4)
    ines.send_video(b"moving")
    ines.send_document(b"a,b", name="log.csv", mime="text/csv")
    ines.send_sticker("\N{FLEXED BICEPS}")
    seen = [update.message for update in await bot.get_updates()]
    place, photo, voice, video, document, sticker = [message for message in seen if message]
    assert place.location is not None
    assert (place.location.latitude, place.location.longitude) == (1.35, 103.82)
    assert (photo.photo[0].width, photo.caption) == (20, "the hotel gym")
    assert voice.voice is not None
    assert video.video is not None
    assert document.document is not None
    assert document.document.file_name == "log.csv"
    assert sticker.sticker is not None
    assert sticker.sticker.emoji == "\N{FLEXED BICEPS}"


async def test_blocking_and_coming_back(bot: Bot, ines: Phone) -> None:
    ines.block()
    change = (await next_update(bot)).my_chat_member
    assert change is not None
    assert (change.old_chat_member.status, change.new_chat_member.status) == ("member", "kicked")
    with pytest.raises(Refused, match="unblock it first"):
        ines.send("hello?")
    ines.start()
    back, start = await bot.get_updates()
    assert back.my_chat_member is not None
    assert back.my_chat_member.new_chat_member.status == "member"
    assert start.message is not None


async def test_adding_the_bot_to_a_group(bot: Bot, ines: Phone) -> None:
    inside = ines.add_bot_to_group("Crew, Hall 2")
    inside.send("/start@keptword_bot")
    membership, joined, command = await bot.get_updates()
    assert membership.my_chat_member is not None
    assert membership.my_chat_member.chat.type == "group"
    assert joined.message is not None
    assert joined.message.new_chat_members[0].id == bot.id
    assert command.message is not None
    assert command.message.entities[0].length == len("/start@keptword_bot")
    assert inside.chat.id < 0


async def test_only_buttons_that_are_there_can_be_tapped(bot: Bot, ines: Phone) -> None:
    markup = InlineKeyboardMarkup([[InlineKeyboardButton("Move it", callback_data="m1")]])
    sent = await bot.send_message(ines.chat.id, "?", reply_markup=markup)
    with pytest.raises(Refused, match="no button 'Done'"):
        ines.tap("Done")
    with pytest.raises(Refused, match="no longer there"):
        ines.press(sent.message_id, "m2")
    ines.press(sent.message_id, "m1")
    assert (await next_update(bot)).callback_query is not None


@pytest.mark.parametrize(("text", "why"), [("  ", "write something first"), ("x" * 4097, "send it in two")])
def test_what_a_phone_does_not_send(ines: Phone, text: str, why: str) -> None:
    with pytest.raises(Refused, match=why):
        ines.send(text)
    with pytest.raises(Refused, match="choose another one"):
        ines.send_photo(b"no picture")


async def test_waiting_for_something_to_appear(bot: Bot, ines: Phone) -> None:
    await bot.send_message(ines.chat.id, "Here it is")
    await ines.wait_for(lambda phone: "Here it is" in [m.text for m in phone.received()])
    with pytest.raises(TimeoutError, match=r"phone of Ines Duarte .*Here it is"):
        await ines.wait_for(lambda phone: len(phone.received()) > 1, seconds=0.05)


async def test_a_tap_wakes_those_who_wait(api: BotApi, ines: Phone) -> None:
    waiting = asyncio.create_task(ines.wait_for(lambda _: api.world.updates.count == 1))
    await asyncio.wait([waiting], timeout=0.01)
    ines.forge(1, "x")
    await waiting


async def test_the_transcript_has_it_all(bot: Bot, api: BotApi, ines: Phone, clock: ManualClock) -> None:
    api.world.transcript.lines.clear()
    heard: list[str] = []
    api.world.transcript.listen(lambda line: heard.append(line.what))
    markup = InlineKeyboardMarkup([[InlineKeyboardButton("Done", callback_data="d")]])
    sent = await bot.send_message(ines.chat.id, "Trained?", reply_markup=markup)
    tap = ines.tap("Done")
    await bot.answer_callback_query(tap.id, "Noted.")
    await bot.edit_message_text("Done, noted.", ines.chat.id, sent.message_id)
    clock.advance(dt.timedelta(hours=2))
    ines.send("easy one")
    ines.block()
    lines = [line.json() for line in api.world.transcript.lines]
    assert [(line["from"], line["kind"], line["text"]) for line in lines] == [
        ("bot", "message", "Trained?"),
        ("person", "press", "d"),
        ("bot", "notice", "Noted."),
        ("bot", "edit", "Done, noted."),
        ("person", "message", "easy one"),
        ("person", "blocked", ""),
    ]
    assert lines[4]["utc"] == "2026-03-02T09:30:00Z"
    assert heard == [line["kind"] for line in lines]


def test_ids_are_the_same_every_time(clock: ManualClock) -> None:
    def play() -> list[Json]:
        world = World(clock)
        phone = Phone(world, world.add_person("Ines"))
        phone.start("x")
        phone.send_document(b"x", name="x.csv")
        phone.forge(1, "d")
        return world.updates.batch(10)

    assert play() == play()
