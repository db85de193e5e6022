"""Every way to send, through the bot's own client library over real HTTP."""

import datetime as dt
import io
import json

import httpx
import pytest
from PIL import Image
from telegram import (
    Bot,
    InlineKeyboardButton,
    InlineKeyboardMarkup,
    KeyboardButton,
    LinkPreviewOptions,
    MessageEntity,
    ReplyKeyboardMarkup,
    ReplyKeyboardRemove,
    ReplyParameters,
)
from telegram.constants import MessageLimit, ParseMode
from telegram.error import BadRequest, Forbidden, RetryAfter

from bot.clock import ManualClock
from bot.rehearsal.botapi.api import BotApi
from bot.rehearsal.phone import Phone


def picture(width: int = 40, height: int = 30) -> bytes:
    held = io.BytesIO()
    Image.new("RGB", (width, height), "navy").save(held, "PNG")
    return held.getvalue()


async def test_a_message_arrives_on_the_phone_with_the_date_of_the_clock(
    bot: Bot, ines: Phone, clock: ManualClock
) -> None:
    clock.advance(dt.timedelta(days=3))
    sent = await bot.send_message(
        ines.chat.id, "<b>Thursday</b>, 40 minutes & no more", parse_mode=ParseMode.HTML
    )
    shown = ines.received()[-1]
    assert (shown.id, shown.text) == (sent.message_id, "Thursday, 40 minutes & no more")
    assert sent.date == dt.datetime(2026, 3, 5, 7, 30, tzinfo=dt.UTC)
    assert sent.entities == (MessageEntity("bold", 0, 8),)
    assert sent.chat.first_name == "Ines"
    assert sent.from_user is not None
    assert sent.from_user.is_bot


async def test_json_form_and_query_all_work(raw: httpx.AsyncClient, ines: Phone) -> None:
    said: dict[str, str | int] = {"chat_id": ines.chat.id, "text": "hello"}
    buttons = {"inline_keyboard": [[{"text": "Done", "callback_data": "d"}]]}
    await raw.post("/sendMessage", json=said | {"reply_markup": buttons})
    await raw.post("/sendMessage", data=said | {"reply_markup": json.dumps(buttons)})
    await raw.post("/SENDMESSAGE", params={**said, "reply_markup": json.dumps(buttons)})
    assert [m.buttons for m in ines.received()] == [buttons["inline_keyboard"]] * 3


async def test_explicit_entities_and_previews_are_taken(bot: Bot, ines: Phone) -> None:
    sent = await bot.send_message(
        ines.chat.id,
        "week of 9 March",
        entities=[MessageEntity("italic", 0, 4)],
        link_preview_options=LinkPreviewOptions(is_disabled=True),
    )
    assert sent.entities == (MessageEntity("italic", 0, 4),)


async def test_a_reply_shows_what_it_answers(bot: Bot, ines: Phone) -> None:
    asked = ines.send("Which hotel?")
    sent = await bot.send_message(
        ines.chat.id, "The one at the harbour", reply_parameters=ReplyParameters(asked.id)
    )
    assert sent.reply_to_message is not None
    assert sent.reply_to_message.text == "Which hotel?"
    with pytest.raises(BadRequest, match="Message to be replied not found"):
        await bot.send_message(ines.chat.id, "x", reply_parameters=ReplyParameters(9999))
    lone = await bot.send_message(
        ines.chat.id, "x", reply_parameters=ReplyParameters(9999, allow_sending_without_reply=True)
    )
    assert lone.reply_to_message is None


async def test_a_photo_comes_back_as_it_was_sent(bot: Bot, ines: Phone) -> None:
    sent = await bot.send_photo(ines.chat.id, picture(), caption="<i>The week</i>", parse_mode=ParseMode.HTML)
    assert (sent.photo[-1].width, sent.photo[-1].height) == (40, 30)
    assert (sent.caption, sent.caption_entities) == ("The week", (MessageEntity("italic", 0, 8),))
    held = await (await bot.get_file(sent.photo[-1].file_id)).download_as_bytearray()
    assert bytes(held) == picture()
    again = await bot.send_photo(ines.chat.id, sent.photo[-1].file_id)
    assert again.photo[-1].file_unique_id == sent.photo[-1].file_unique_id


async def test_documents_videos_and_voices(bot: Bot, ines: Phone) -> None:
    document = await bot.send_document(
        ines.chat.id, b"a,b\n1,2\n", filename="history.csv", caption="all of it"
    )
    assert document.document is not None
    assert (document.document.file_name, document.document.mime_type) == ("history.csv", "text/csv")
    video = await bot.send_video(ines.chat.id, b"moving", duration=12, filename="hinge.mp4")
    assert video.video is not None
    assert video.video.duration == dt.timedelta(seconds=12)
    voice = await bot.send_voice(ines.chat.id, b"spoken", duration=3)
    assert voice.voice is not None
    assert voice.voice.duration == dt.timedelta(seconds=3)
    assert [m.attachment.kind for m in ines.received() if m.attachment] == ["document", "video", "voice"]


async def test_a_location(bot: Bot, ines: Phone) -> None:
    sent = await bot.send_location(ines.chat.id, 38.72, -9.14)
    assert sent.location is not None
    assert (sent.location.latitude, sent.location.longitude) == (38.72, -9.14)
    with pytest.raises(BadRequest):
        await bot.send_location(ines.chat.id, 138.72, -9.14)


async def test_forwarding_says_from_whom_and_copying_does_not(bot: Bot, api: BotApi, ines: Phone) -> None:
    coach = Phone(api.world, api.world.add_person("Marta"))
    coach.start()
    said = ines.send("My knee is fine again")
    forwarded = await bot.forward_message(coach.chat.id, ines.chat.id, said.id)
    copied = await bot.copy_message(coach.chat.id, ines.chat.id, said.id)
    assert forwarded.forward_origin is not None
    assert forwarded.forward_origin.to_dict()["sender_user"]["first_name"] == "Ines"
    assert copied.message_id == forwarded.message_id + 1
    assert [m.text for m in coach.received()] == ["My knee is fine again"] * 2
    assert coach.received()[-1].forwarded_from is None
    with pytest.raises(BadRequest, match="Message to copy not found"):
        await bot.copy_message(coach.chat.id, ines.chat.id, 9999)
    with pytest.raises(BadRequest, match="Message to forward not found"):
        await bot.forward_message(coach.chat.id, ines.chat.id, 9999)


async def test_a_reply_keyboard_stays_until_it_is_removed(bot: Bot, ines: Phone) -> None:
    keyboard = ReplyKeyboardMarkup([[KeyboardButton("Send my place", request_location=True)]])
    await bot.send_message(ines.chat.id, "Where are you?", reply_markup=keyboard)
    await bot.send_message(ines.chat.id, "Or type the city.")
    assert ines.chat.keyboard is not None
    await bot.send_message(ines.chat.id, "Thanks.", reply_markup=ReplyKeyboardRemove())
    assert ines.chat.keyboard is None


@pytest.mark.parametrize(
    ("text", "mode", "why"),
    [
        ("   ", None, "Message text is empty"),
        ("<b></b>", "HTML", "Message text is empty"),
        ("x" * (MessageLimit.MAX_TEXT_LENGTH + 1), None, "Message is too long"),
        ("\N{WEIGHT LIFTER}" * 2049, None, "Message is too long"),
        ("Tom & <3", "HTML", "Can't parse entities"),
        ("*x*", "MarkdownV2", "Unsupported parse_mode"),
    ],
)
async def test_texts_that_are_refused(bot: Bot, ines: Phone, text: str, mode: str | None, why: str) -> None:
    with pytest.raises(BadRequest, match=why):
        await bot.send_message(ines.chat.id, text, parse_mode=mode)
    assert not ines.received()


async def test_the_length_counts_after_parsing(bot: Bot, ines: Phone) -> None:
    await bot.send_message(
        ines.chat.id, f"<b>{'x' * MessageLimit.MAX_TEXT_LENGTH}</b>", parse_mode=ParseMode.HTML
    )
    with pytest.raises(BadRequest, match="Message caption is too long"):
        await bot.send_photo(ines.chat.id, picture(), caption="x" * (MessageLimit.CAPTION_LENGTH + 1))


@pytest.mark.parametrize(("length", "fits"), [(64, True), (65, False)])
async def test_button_data_has_64_bytes(bot: Bot, ines: Phone, length: int, fits: bool) -> None:
    markup = InlineKeyboardMarkup([[InlineKeyboardButton("Done", callback_data="é" + "x" * (length - 2))]])
    if fits:
        await bot.send_message(ines.chat.id, "?", reply_markup=markup)
        return
    with pytest.raises(BadRequest, match=r"(?i)button_data_invalid"):
        await bot.send_message(ines.chat.id, "?", reply_markup=markup)


@pytest.mark.parametrize(
    "markup",
    [
        {"inline_keyboard": [[{"text": "Done"}]]},
        {"inline_keyboard": [{"text": "Done", "callback_data": "d"}]},
        {"inline_keyboard": [[{"text": " ", "callback_data": "d"}]]},
        {"inline_keyboard": [[{"text": "x", "callback_data": "d"}] * 101]},
        [1],
    ],
)
async def test_malformed_buttons_are_refused(raw: httpx.AsyncClient, ines: Phone, markup: object) -> None:
    answer = await raw.post(
        "/sendMessage", json={"chat_id": ines.chat.id, "text": "?", "reply_markup": markup}
    )
    assert answer.status_code == 400
    assert not ines.received()


@pytest.mark.parametrize(
    ("content", "why"),
    [
        (b"not a picture", "Image_process_failed"),
        (b"", "File must be non-empty"),
        (picture(4200, 200), "Photo_invalid_dimensions"),
    ],
)
async def test_what_is_no_photo_is_refused(bot: Bot, ines: Phone, content: bytes, why: str) -> None:
    with pytest.raises(BadRequest, match=f"(?i){why}"):
        await bot.send_photo(ines.chat.id, content)


async def test_a_photo_from_elsewhere_is_refused(bot: Bot, ines: Phone) -> None:
    with pytest.raises(BadRequest, match="Failed to get http url content"):
        await bot.send_photo(ines.chat.id, "https://example.org/x.png")
    with pytest.raises(BadRequest, match="Wrong file identifier"):
        await bot.send_photo(ines.chat.id, "nothing-like-this")


async def test_whom_the_bot_cannot_reach(bot: Bot, api: BotApi, ines: Phone) -> None:
    stranger = api.world.add_person("Nobody")
    with pytest.raises(BadRequest, match="Chat not found"):
        await bot.send_message(42, "x")
    with pytest.raises(BadRequest, match="Chat not found"):
        await bot.send_message("@somebody", "x")
    with pytest.raises(Forbidden, match="bot can't initiate conversation with a user"):
        await bot.send_message(stranger.id, "x")
    ines.block()
    with pytest.raises(Forbidden, match="bot was blocked by the user"):
        await bot.send_message(ines.chat.id, "x")
    ines.unblock()
    await bot.send_message(ines.chat.id, "x")


async def test_too_many_messages_to_one_chat(bot: Bot, api: BotApi, ines: Phone, clock: ManualClock) -> None:
    for _ in range(3):
        await bot.send_message(ines.chat.id, "x")
    with pytest.raises(RetryAfter) as refused:
        await bot.send_message(ines.chat.id, "x")
    assert refused.value.retry_after == dt.timedelta(seconds=3)
    clock.advance(dt.timedelta(seconds=3))
    await bot.send_message(ines.chat.id, "x")
    assert len(ines.received()) == 4
    assert api.limits.refused == 1


async def test_what_cannot_be_read_at_all(raw: httpx.AsyncClient, ines: Phone) -> None:
    broken = [
        await raw.post("/sendMessage", content=b"{", headers={"content-type": "application/json"}),
        await raw.post("/sendMessage", json=[1]),
        await raw.post("/sendMessage", json={"text": "x"}),
        await raw.post("/sendMessage", data={"chat_id": ines.chat.id, "text": "x", "reply_markup": "{"}),
        await raw.post(
            "/sendMessage", json={"chat_id": ines.chat.id, "text": "x", "entities": [{"type": "bold"}]}
        ),
    ]
    assert [(answer.status_code, answer.json()["ok"]) for answer in broken] == [(400, False)] * 5
    assert not ines.received()
