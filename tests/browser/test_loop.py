"""The whole loop in a real browser: invite, agree, be asked, answer, settle the week. The bot runs as in production, on loopback."""

from collections.abc import AsyncIterator
from pathlib import Path

import pytest
import pytest_asyncio
from playwright.async_api import Browser, Page, expect

from bot.rehearsal.setting import on_the_page

pytestmark = [pytest.mark.browser, pytest.mark.asyncio(loop_scope="session"), pytest.mark.timeout(240)]

CLIENT, COACH = ".phone[data-role=client]", ".phone[data-role=coach]"
SOON = 30_000  # milliseconds; the machine may be busy
QUESTIONS = (
    "2",
    "45",
    "dumbbells",
    "Some months",
    "Nothing hurts",
    "Keep my strength",
    "Mon Wed Fri",
    "07:00",
    "8 h",
    "Yes, that",
)


@pytest_asyncio.fixture(loop_scope="session")
async def rehearsed(browser: Browser, tmp_path: Path) -> AsyncIterator[Page]:
    async with on_the_page(folder=tmp_path, port=0, tell=lambda _: None) as (_, url):
        context = await browser.new_context(viewport={"width": 1280, "height": 860})
        context.set_default_timeout(SOON)
        page = await context.new_page()
        await page.goto(url)
        await page.locator(f"{COACH} .message").first.wait_for(state="attached")
        yield page
        await context.close()


async def tap(page: Page, phone: str, label: str) -> None:
    """Tap the newest button with this label."""
    button = page.locator(phone).get_by_role("button", name=label).last
    await expect(button).to_be_visible(timeout=SOON)
    await button.click()


async def hears(page: Page, phone: str, words: str) -> None:
    await expect(page.locator(f"{phone} .message", has_text=words).last).to_be_attached(timeout=SOON)


async def move(page: Page, label: str) -> None:
    button = page.get_by_role("button", name=label)
    await expect(button).to_be_enabled(timeout=SOON)
    await button.click()
    await expect(button).to_be_enabled(timeout=SOON)


async def test_a_coach_invites_a_client_agrees_is_asked_answers_and_the_week_is_settled(
    rehearsed: Page,
) -> None:
    page = rehearsed
    box = page.get_by_label("Message from Ines Prado")
    await box.fill("/invite Zoe Hart")
    await box.press("Enter")
    link = page.locator(COACH).get_by_role("link", name="t.me/").last
    await link.click()
    dialog = page.get_by_role("dialog", name="Who opens this invitation?")
    await dialog.get_by_label("Name").fill("Zoe Hart")
    await dialog.get_by_label("City").select_option("Oslo")
    await dialog.get_by_role("button", name="Open it there").click()

    await hears(page, CLIENT, "Is that all right with you?")
    await tap(page, CLIENT, "I agree")
    await hears(page, CLIENT, "Where do you live?")
    words = page.get_by_label("Message from Zoe Hart")
    await words.fill("Oslo")
    await words.press("Enter")
    await hears(page, CLIENT, "How many sessions a week")
    for answer in QUESTIONS:
        await tap(page, CLIENT, answer)
    await tap(page, CLIENT, "None of these")
    await hears(page, CLIENT, "That is all. You told me")

    await tap(page, COACH, "Confirm, begin on Monday")
    await hears(page, COACH, "Zoe Hart begins")
    await tap(page, COACH, "Accept")
    await hears(page, COACH, "Zoe Hart: 1 session")

    await move(page, "+1 hour")  # the digest of Sunday 18:00 has come
    await hears(page, COACH, "need you")
    await expect(page.locator(f"{COACH} .message img").last).to_be_attached(timeout=SOON)
    await tap(page, COACH, "Accept all")
    await hears(page, COACH, "settled as recommended")

    await hears(page, CLIENT, "1 session of 45 minutes")
    await tap(page, CLIENT, "That fits")
    await hears(page, CLIENT, "Agreed: 1 session")
    await move(page, "+1 day")
    await hears(page, CLIENT, "Still good?")
    await tap(page, CLIENT, "Done")
    await hears(page, CLIENT, "done. Noted.")
