"""Two phones side by side: writing, tapping, replying, sending, in a real browser."""

import io

import pytest
from PIL import Image
from playwright.async_api import Page, expect

from tests.browser.conftest import Scene

pytestmark = [pytest.mark.browser, pytest.mark.asyncio(loop_scope="session")]

CLIENT, COACH = ".phone[data-role=client]", ".phone[data-role=coach]"


async def test_a_prompt_appears_and_is_answered_with_one_tap(scene: Scene, page: Page) -> None:
    number = await scene.say(scene.ines, "<b>Squats today</b>, 40 minutes?", "Done", "Short")
    prompt = page.locator(f"{CLIENT} .message", has_text="Squats today")
    await expect(prompt.locator("b")).to_have_text("Squats today")
    await prompt.get_by_role("button", name="Done").click()
    await scene.phone(scene.ines).wait_for(lambda _: bool(scene.taps()))
    assert scene.taps() == [("tap", "done")]
    press = scene.api.world.updates.batch(1)[0]["callback_query"]
    await scene.bot("answerCallbackQuery", callback_query_id=press["id"], text="Noted.")
    await scene.bot("editMessageText", chat_id=scene.ines.chat, message_id=number, text="Noted: done.")
    await expect(page.locator(f"{CLIENT} .notice")).to_have_text("Noted.")
    await expect(page.locator(f"{CLIENT} .message", has_text="Noted: done.")).to_have_count(1)
    await expect(page.get_by_role("button", name="Short")).to_have_count(0)
    await expect(page.locator(f"{CLIENT} .message", has_text="Noted: done.")).to_be_focused()


async def test_words_are_sent_with_enter_and_appear_once(scene: Scene, page: Page) -> None:
    box = page.get_by_label("Message from Ines Duarte")
    await box.fill("slept 6.5")
    await box.press("Enter")
    await expect(page.locator(f"{CLIENT} .mine", has_text="slept 6.5")).to_have_count(1)
    await expect(box).to_have_value("")
    await expect(box).to_be_focused()
    assert scene.taps() == [("message", "slept 6.5")]
    await box.press("Enter")
    assert len(scene.taps()) == 1


async def test_every_phone_shows_its_own_local_time(scene: Scene, page: Page) -> None:
    await scene.say(scene.ines, "Good afternoon")
    await scene.say(scene.marta, "Good morning")
    await expect(page.locator(f"{CLIENT} .message", has_text="Good afternoon").locator("time")).to_have_text(
        "15:30"
    )
    await expect(page.locator(f"{COACH} .message", has_text="Good morning").locator("time")).to_have_text(
        "07:30"
    )
    await expect(page.locator(f"{CLIENT} .day")).to_have_text("Monday 2 March")


async def test_a_reply_and_a_change(scene: Scene, page: Page) -> None:
    number = await scene.say(scene.ines, "Which gym is it?")
    await page.locator(f"{CLIENT} .message", has_text="Which gym").get_by_role("button", name="Reply").click()
    box = page.get_by_label("Message from Ines Duarte")
    await expect(box).to_be_focused()
    await expect(page.locator(f"{CLIENT} .about")).to_contain_text("Replying to: Which gym is it?")
    await box.fill("the small one")
    await box.press("Enter")
    answer = page.locator(f"{CLIENT} .mine", has_text="the small one")
    await expect(answer.locator(".answered")).to_contain_text("Which gym is it?")
    assert scene.api.world.updates.batch(1)[0]["message"]["reply_to_message"]["message_id"] == number
    await answer.get_by_role("button", name="Change").click()
    await box.fill("the big one")
    await box.press("Enter")
    await expect(page.locator(f"{CLIENT} .mine", has_text="the big one")).to_contain_text("changed since")
    assert scene.taps()[-1] == ("edit", "the big one")


async def test_escape_gives_up_a_reply(scene: Scene, page: Page) -> None:
    await scene.say(scene.ines, "Which gym is it?")
    await page.locator(f"{CLIENT} .message", has_text="Which gym").get_by_role("button", name="Reply").click()
    await page.keyboard.press("Escape")
    await expect(page.locator(f"{CLIENT} .about")).to_be_hidden()


async def test_a_place_is_chosen_from_a_list(scene: Scene, page: Page) -> None:
    await page.locator(CLIENT).get_by_role("button", name="Place").click()
    dialog = page.get_by_role("dialog", name="Where is this phone?")
    await dialog.get_by_label("City").select_option("Singapore")
    await dialog.get_by_role("button", name="Send the place").click()
    await expect(page.locator(f"{CLIENT} .mine", has_text="Place: Singapore (1.35, 103.82)")).to_have_count(1)
    assert scene.api.world.updates.batch(1)[0]["message"]["location"] == {
        "latitude": 1.35,
        "longitude": 103.82,
    }


async def test_a_keyboard_of_the_bot_can_ask_for_the_place(scene: Scene, page: Page) -> None:
    keys = {"keyboard": [[{"text": "Send my place", "request_location": True}], [{"text": "I will type it"}]]}
    await scene.bot("sendMessage", chat_id=scene.ines.chat, text="Where are you?", reply_markup=keys)
    await page.get_by_role("button", name="I will type it").click()
    await expect(page.locator(f"{CLIENT} .mine", has_text="I will type it")).to_have_count(1)
    await page.get_by_role("button", name="Send my place").click()
    await expect(page.get_by_role("dialog", name="Where is this phone?")).to_be_visible()


async def test_a_photo_goes_in_and_is_enlarged_and_closed_by_keyboard(scene: Scene, page: Page) -> None:
    held = io.BytesIO()
    Image.new("RGB", (640, 360), "teal").save(held, "PNG")
    await page.get_by_label("Message from Ines Duarte").fill("the hotel gym")
    chosen = {"name": "gym.png", "mimeType": "image/png", "buffer": held.getvalue()}
    await page.locator(f"{CLIENT} input[type=file]").set_input_files(chosen)  # type: ignore[arg-type]
    photo = page.get_by_role("button", name="Photo: the hotel gym")
    await photo.focus()
    await page.keyboard.press("Enter")
    dialog = page.get_by_role("dialog", name="Photo")
    await expect(dialog.get_by_role("img", name="Photo: the hotel gym")).to_be_visible()
    await page.keyboard.press("Escape")
    await expect(dialog).to_be_hidden()
    await expect(photo).to_be_focused()
    assert scene.api.world.updates.batch(1)[0]["message"]["photo"][0]["width"] == 640


async def test_a_document_goes_both_ways(page: Page) -> None:
    chosen = {"name": "log.csv", "mimeType": "text/csv", "buffer": b"a,b\n"}
    await page.locator(f"{CLIENT} input[type=file]").set_input_files(chosen)  # type: ignore[arg-type]
    paper = page.locator(f"{CLIENT} .paper")
    await expect(paper).to_contain_text("log.csv")
    await expect(paper).to_contain_text("4 bytes")
    async with page.expect_download() as coming:
        await paper.click()
    assert (await coming.value).suggested_filename == "log.csv"


async def test_what_cannot_be_sent_is_said_in_a_sentence(scene: Scene, page: Page) -> None:
    chosen = {"name": "gym.png", "mimeType": "image/png", "buffer": b"no picture"}
    await page.locator(f"{CLIENT} input[type=file]").set_input_files(chosen)  # type: ignore[arg-type]
    await expect(page.locator(f"{CLIENT} .notice")).to_have_text(
        "This file cannot be sent as a photo: choose another one."
    )
    assert [line for line in scene.complaints if "409" not in line] == []
    scene.complaints.clear()


async def test_markup_of_people_stays_words(page: Page) -> None:
    box = page.get_by_label("Message from Ines Duarte")
    nasty = "<b>hi</b><img src=x onerror=alert(1)> \u202eright to left"
    await box.fill(nasty)
    await box.press("Enter")
    words = page.locator(f"{CLIENT} .mine .words").last
    await expect(words).to_have_text(nasty)
    await expect(words.locator("img, b")).to_have_count(0)


async def test_covered_words_are_shown_on_request(scene: Scene, page: Page) -> None:
    await scene.say(scene.ines, "It was <tg-spoiler>72 kg</tg-spoiler> <i>today</i>, see /week")
    cover = page.get_by_role("button", name="72 kg")
    await expect(cover).to_have_attribute("aria-expanded", "false")
    await cover.click()
    await expect(cover).to_have_attribute("aria-expanded", "true")
    await page.get_by_role("button", name="/week").click()
    await expect(page.locator(f"{CLIENT} .mine").last).to_contain_text("/week")


async def test_the_bot_is_blocked_and_let_in_again(page: Page) -> None:
    await page.locator(f"{CLIENT} summary").click()
    await page.locator(CLIENT).get_by_role("button", name="Block the bot").click()
    await expect(page.locator(CLIENT).get_by_text("This phone has blocked the bot.")).to_be_visible()
    await expect(page.locator(f"{CLIENT} .composer")).to_be_hidden()
    await page.locator(CLIENT).get_by_role("button", name="Let it in again").click()
    await expect(page.locator(f"{CLIENT} .composer")).to_be_visible()


async def test_the_commands_of_the_bot_are_in_the_menu(scene: Scene, page: Page) -> None:
    await scene.bot("setMyCommands", commands=[{"command": "week", "description": "your week"}])
    await page.locator(f"{CLIENT} summary").click()
    await page.get_by_role("button", name="/week your week").click()
    await expect(page.locator(f"{CLIENT} .mine").last).to_contain_text("/week")
    assert scene.taps() == [("message", "/week")]


async def test_another_client_is_taken_in_hand(scene: Scene, page: Page) -> None:
    await page.locator(CLIENT).get_by_label("Whose phone").select_option(label="Tomas Berg")
    await expect(page.locator(CLIENT).get_by_text("Nothing has been said on this phone yet.")).to_be_visible()
    await expect(page.locator("#walls")).to_contain_text("Tomas in Reykjavik")
    await page.locator(CLIENT).get_by_role("button", name="Say hello to the bot").click()
    await expect(page.locator(f"{CLIENT} .mine")).to_contain_text("/start")
    await expect(page.locator(f"{CLIENT} .message")).to_have_count(1)
    assert scene.api.world.updates.batch(1)[0]["message"]["chat"]["first_name"] == "Tomas"


async def test_an_invitation_opens_on_a_new_phone(scene: Scene, page: Page) -> None:
    await scene.say(scene.marta, "Send her this: https://t.me/keptword_bot?start=aB3_x-9")
    await page.get_by_role("link", name="t.me/keptword_bot").click()
    dialog = page.get_by_role("dialog", name="Who opens this invitation?")
    await dialog.get_by_label("Name").fill("Jonas Rask")
    await dialog.get_by_label("City").select_option("Oslo")
    await dialog.get_by_role("button", name="Open it there").click()
    await expect(page.locator(f"{CLIENT} .mine")).to_contain_text("/start aB3_x-9")
    await expect(page.locator("#walls")).to_contain_text("Jonas in Oslo")
    assert scene.taps() == [("message", "/start aB3_x-9")]


async def test_older_messages_are_fetched_on_request(scene: Scene, page: Page) -> None:
    for number in range(130):
        scene.phone(scene.tomas).send(f"message {number}")
    await page.locator(CLIENT).get_by_label("Whose phone").select_option(label="Tomas Berg")
    await expect(page.locator(f"{CLIENT} .message")).to_have_count(120)
    await page.get_by_role("button", name="Earlier messages").click()
    await expect(page.locator(f"{CLIENT} .message")).to_have_count(130)
    await expect(page.locator(f"{CLIENT} .message").first).to_contain_text("message 0")
    await expect(page.locator(f"{CLIENT} .day")).to_have_count(1)


async def test_an_alert_is_shown_as_one(scene: Scene, page: Page) -> None:
    await scene.say(scene.ines, "?", "Done")
    tap = scene.phone(scene.ines).tap("Done")
    await scene.bot(
        "answerCallbackQuery", callback_query_id=tap.id, text="That week is over.", show_alert=True
    )
    dialog = page.get_by_role("dialog", name="That week is over.")
    await expect(dialog).to_be_visible()
    await dialog.get_by_role("button", name="Close").click()
    await expect(dialog).to_be_hidden()


async def test_a_deleted_message_disappears(scene: Scene, page: Page) -> None:
    number = await scene.say(scene.ines, "oops")
    await expect(page.locator(f"{CLIENT} .message", has_text="oops")).to_have_count(1)
    await scene.bot("deleteMessage", chat_id=scene.ines.chat, message_id=number)
    await expect(page.locator(f"{CLIENT} .message", has_text="oops")).to_have_count(0)


async def test_what_came_is_shown_from_its_beginning_however_long_it_is(scene: Scene, page: Page) -> None:
    for n in range(3):
        await scene.say(scene.marta, f"Before, {n}")
    await expect(page.locator(f"{COACH} .message", has_text="Before, 2")).to_be_in_viewport()
    await scene.say(scene.marta, "\n".join(["The week from the top", *(f"line {n}" for n in range(60))]))
    digest = page.locator(f"{COACH} .message", has_text="The week from the top")
    await expect(digest).to_be_in_viewport()
    log, at = await page.locator(f"{COACH} .log").bounding_box(), await digest.bounding_box()
    assert log is not None
    assert at is not None
    assert 0 <= at["y"] - log["y"] < 40
    await scene.say(scene.marta, "And after it")
    await page.locator(f"{COACH} .below").click()
    await expect(page.locator(f"{COACH} .message", has_text="And after it")).to_be_in_viewport()


async def test_only_other_words_are_called_a_change(scene: Scene, page: Page) -> None:
    number = await scene.say(scene.ines, "Still good?", "Done")
    shown = page.locator(f"{CLIENT} .message", has_text="Still good?")
    await expect(shown.get_by_role("button", name="Done")).to_be_visible()
    chat = scene.ines.chat
    await scene.bot("editMessageReplyMarkup", chat_id=chat, message_id=number)
    await expect(shown.get_by_role("button", name="Done")).to_have_count(0)
    await expect(shown.locator(".aside")).to_have_count(0)
    await scene.bot("editMessageText", chat_id=chat, message_id=number, text="Still good? Noted.")
    await expect(shown.locator(".aside")).to_have_text("changed since")


async def test_after_a_quotation_no_line_is_lost_to_an_empty_one(scene: Scene, page: Page) -> None:
    await scene.say(scene.marta, "Ines wrote\n<blockquote>all well</blockquote>\nwith <b>thanks</b>")
    words = page.locator(f"{COACH} .message", has_text="all well").locator(".words")
    await expect(words.locator("blockquote")).to_have_text("all well")
    assert await words.evaluate("w => w.querySelector('blockquote').nextSibling.data") == "with "


async def test_the_answer_to_what_one_has_just_done_is_in_sight_wherever_the_log_stood(
    scene: Scene, page: Page
) -> None:
    lines = "\n".join(f"line {n}" for n in range(60))
    await scene.say(scene.marta, f"The week from the top\n{lines}")
    await expect(page.locator(f"{COACH} .message", has_text="The week from the top")).to_be_in_viewport()
    box = page.get_by_label("Message from Marta Oliveira")
    await box.fill("/clients")
    await box.press("Enter")
    await expect(page.locator(f"{COACH} .mine", has_text="/clients")).to_be_in_viewport()
    await scene.say(scene.marta, f"Your clients\n{lines}")
    await expect(page.locator(f"{COACH} .message", has_text="Your clients")).to_be_in_viewport()


async def test_a_long_name_leaves_the_clock_its_shape(page: Page) -> None:
    strip = page.locator(".strip")
    before = await strip.bounding_box()
    await page.locator(CLIENT).get_by_role("button", name="New phone").click()
    await page.get_by_role("dialog").get_by_label("Name").fill("W" * 60)
    await page.get_by_role("button", name="Take it in hand").click()
    await expect(page.locator(".walls dt", has_text="WWW")).to_be_visible()
    after = await strip.bounding_box()
    assert before is not None
    assert after is not None
    assert after["height"] == before["height"]
