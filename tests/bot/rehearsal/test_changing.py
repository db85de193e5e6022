"""Edits, deletions and answers to taps."""

import datetime as dt
import io

import pytest
from PIL import Image
from telegram import Bot, InlineKeyboardButton, InlineKeyboardMarkup
from telegram.error import BadRequest

from bot.clock import ManualClock
from bot.rehearsal.phone import Phone
from core.errors import Refused

DONE = InlineKeyboardMarkup([[InlineKeyboardButton("Done", callback_data="done")]])
SHORT = InlineKeyboardMarkup([[InlineKeyboardButton("Short", callback_data="short")]])


async def test_an_edit_changes_words_and_takes_old_buttons_away(
    bot: Bot, ines: Phone, clock: ManualClock
) -> None:
    sent = await bot.send_message(ines.chat.id, "Trained?", reply_markup=DONE)
    clock.advance(dt.timedelta(minutes=5))
    edited = await bot.edit_message_text(
        "<b>Noted</b>: done", ines.chat.id, sent.message_id, parse_mode="HTML"
    )
    shown = ines.received()[-1]
    assert (shown.text, shown.buttons) == ("Noted: done", [])
    assert not isinstance(edited, bool)
    assert edited.edit_date == clock.now()


async def test_an_edit_that_changes_nothing_is_refused(bot: Bot, ines: Phone) -> None:
    sent = await bot.send_message(ines.chat.id, "<b>Trained?</b>", parse_mode="HTML", reply_markup=DONE)
    with pytest.raises(BadRequest, match="Message is not modified"):
        await bot.edit_message_text(
            "<b>Trained?</b>", ines.chat.id, sent.message_id, parse_mode="HTML", reply_markup=DONE
        )
    with pytest.raises(BadRequest, match="Message is not modified"):
        await bot.edit_message_reply_markup(ines.chat.id, sent.message_id, reply_markup=DONE)
    await bot.edit_message_text("Trained?", ines.chat.id, sent.message_id, reply_markup=DONE)


async def test_buttons_alone_and_captions_can_be_edited(bot: Bot, ines: Phone) -> None:
    held = io.BytesIO()
    Image.new("RGB", (8, 8)).save(held, "PNG")
    sent = await bot.send_photo(ines.chat.id, held.getvalue(), caption="The week", reply_markup=DONE)
    await bot.edit_message_reply_markup(ines.chat.id, sent.message_id, reply_markup=SHORT)
    assert ines.received()[-1].buttons[0][0]["text"] == "Short"
    await bot.edit_message_caption(ines.chat.id, sent.message_id, caption="The week, settled")
    assert (ines.received()[-1].text, ines.received()[-1].buttons) == ("The week, settled", [])
    with pytest.raises(BadRequest, match="There is no text in the message to edit"):
        await bot.edit_message_text("x", ines.chat.id, sent.message_id)


async def test_what_cannot_be_edited(bot: Bot, ines: Phone) -> None:
    theirs = ines.send("mine")
    with pytest.raises(BadRequest, match="Message can't be edited"):
        await bot.edit_message_text("x", ines.chat.id, theirs.id)
    with pytest.raises(BadRequest, match="Message to edit not found"):
        await bot.edit_message_text("x", ines.chat.id, 9999)
    plain = await bot.send_message(ines.chat.id, "plain")
    with pytest.raises(BadRequest, match="There is no caption in the message to edit"):
        await bot.edit_message_caption(ines.chat.id, plain.message_id, caption="x")


async def test_a_deleted_message_is_gone(bot: Bot, ines: Phone) -> None:
    sent = await bot.send_message(ines.chat.id, "oops", reply_markup=DONE)
    assert await bot.delete_message(ines.chat.id, sent.message_id)
    assert not ines.received()
    with pytest.raises(BadRequest, match="Message to delete not found"):
        await bot.delete_message(ines.chat.id, sent.message_id)
    with pytest.raises(Refused):
        ines.press(sent.message_id, "done")


async def test_a_message_can_be_deleted_for_two_days(bot: Bot, ines: Phone, clock: ManualClock) -> None:
    sent = await bot.send_message(ines.chat.id, "old")
    clock.advance(dt.timedelta(hours=48, seconds=1))
    with pytest.raises(BadRequest, match="Message can't be deleted"):
        await bot.delete_message(ines.chat.id, sent.message_id)


async def test_a_tap_reaches_the_bot_and_its_answer_the_phone(bot: Bot, ines: Phone) -> None:
    sent = await bot.send_message(ines.chat.id, "Trained?", reply_markup=DONE)
    ines.tap("done")
    (update,) = await bot.get_updates(timeout=1)
    query = update.callback_query
    assert query is not None
    assert query.message is not None
    assert (query.data, query.message.message_id, query.from_user.id) == (
        "done",
        sent.message_id,
        ines.person.id,
    )
    await bot.answer_callback_query(query.id, "Noted.", show_alert=True)
    assert [(n.text, n.alert) for n in ines.notices()] == [("Noted.", True)]
    with pytest.raises(BadRequest, match="Query is too old"):
        await bot.answer_callback_query(query.id, "Again")


async def test_a_tap_is_answered_soon_or_not_at_all(bot: Bot, ines: Phone, clock: ManualClock) -> None:
    await bot.send_message(ines.chat.id, "Trained?", reply_markup=DONE)
    tap = ines.tap("Done")
    with pytest.raises(BadRequest, match=r"(?i)message_too_long"):
        await bot.answer_callback_query(tap.id, "x" * 201)
    clock.advance(dt.timedelta(minutes=2))
    with pytest.raises(
        BadRequest, match="Query is too old and response timeout expired or query id is invalid"
    ):
        await bot.answer_callback_query(tap.id)


async def test_a_forged_tap_on_nothing_is_inaccessible(bot: Bot, ines: Phone) -> None:
    ines.forge(9999, "settle:everybody")
    (update,) = await bot.get_updates(timeout=1)
    assert update.callback_query is not None
    assert update.callback_query.message is not None
    assert not update.callback_query.message.is_accessible
