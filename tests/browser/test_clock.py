"""The clock strip."""

import asyncio
import datetime as dt

import pytest
from playwright.async_api import Page, expect

from tests.browser.conftest import Scene

pytestmark = [pytest.mark.browser, pytest.mark.asyncio(loop_scope="session")]


async def test_everybodys_local_time_moves(page: Page) -> None:
    walls = page.locator("#walls > div")
    await expect(walls).to_have_text(["Marta in Lisbon07:30Mon 2 Mar", "Ines in Singapore15:30Mon 2 Mar"])
    for name, marta, ines in [
        ("+1 hour", "08:30Mon 2 Mar", "16:30Mon 2 Mar"),
        ("+1 day", "08:30Tue 3 Mar", "16:30Tue 3 Mar"),
        ("+1 week", "08:30Tue 10 Mar", "16:30Tue 10 Mar"),
    ]:
        await page.get_by_role("button", name=name).click()
        await expect(walls).to_have_text([f"Marta in Lisbon{marta}", f"Ines in Singapore{ines}"])
        await expect(page.locator("#said")).to_have_text("Nothing happened meanwhile.")


async def test_what_happened_next_is_said(page: Page) -> None:
    await page.get_by_role("button", name="Next event").click()
    await expect(page.get_by_role("status").first).to_have_text("Nothing is waiting to happen.")


async def test_it_plays_and_pauses(scene: Scene, page: Page) -> None:
    await page.get_by_role("button", name="Play").click()
    await expect(page.get_by_role("button", name="Pause")).to_have_attribute("aria-pressed", "true")
    await expect(page.locator("#said")).to_have_text("Nothing happens by itself here.")
    assert scene.stage.playing()
    await page.get_by_role("button", name="Pause").click()
    await expect(page.get_by_role("button", name="Play")).to_have_attribute("aria-pressed", "false")
    assert not scene.stage.playing()


async def test_it_moves_once_at_a_time_and_says_so(
    scene: Scene, page: Page, monkeypatch: pytest.MonkeyPatch
) -> None:
    gate = asyncio.Event()

    async def slowly(by: dt.timedelta) -> str:
        await gate.wait()
        return f"{by.days} days later."

    monkeypatch.setattr(scene.stage, "advance", slowly)
    await page.get_by_role("button", name="+1 week").click()
    await expect(page.locator("#said")).to_have_text("The clock is moving …")
    await page.get_by_role("button", name="+1 day").click(force=True)
    await expect(page.locator("#said")).to_have_text("The clock is already moving: wait until it stands.")
    gate.set()
    await expect(page.locator("#said")).to_have_text("7 days later.")
    assert [line for line in scene.complaints if "409" not in line] == []
    scene.complaints.clear()
