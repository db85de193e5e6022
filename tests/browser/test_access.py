"""For everybody: keyboard alone, small windows, light and dark, screen readers, quiet motion (WCAG 2.2 AA)."""

import pytest
from playwright.async_api import Browser, Page, expect

from tests.browser.conftest import Scene, open_page

pytestmark = [pytest.mark.browser, pytest.mark.asyncio(loop_scope="session")]

CLIENT, COACH = ".phone[data-role=client]", ".phone[data-role=coach]"

# Every visible piece of text with the colour that it really has on what is really behind it.
LOW_CONTRAST = """() => {
  const parse = (colour) => colour.match(/[\\d.]+/g).map(Number);
  const behind = (node) => {
    for (let at = node; at; at = at.parentElement) {
      const [r, g, b, a = 1] = parse(getComputedStyle(at).backgroundColor);
      if (a > 0) return [r, g, b];
    }
    return [255, 255, 255];
  };
  const light = (rgb) => {
    const [r, g, b] = rgb.map((v) => v / 255).map((v) => (v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4));
    return 0.2126 * r + 0.7152 * g + 0.0722 * b;
  };
  const found = [];
  let seen = 0;
  const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walk.nextNode()) {
    const node = walk.currentNode.parentElement;
    const box = node.getBoundingClientRect();
    const hidden = box.width < 2 || !node.checkVisibility() || node.closest(".unseen, .spoiler, option, script");
    if (!walk.currentNode.data.trim() || hidden) continue;
    const [one, other] = [light(parse(getComputedStyle(node).color).slice(0, 3)), light(behind(node))].sort((a, b) => b - a);
    const ratio = (one + 0.05) / (other + 0.05);
    seen += 1;
    if (ratio < 4.5) found.push(`${ratio.toFixed(2)} ${walk.currentNode.data.trim().slice(0, 40)}`);
  }
  return { seen, found };
}"""

SMALL_TARGETS = """() => [...document.querySelectorAll("button, summary, select, textarea, .attach")]
  .filter((node) => node.checkVisibility() && !node.closest(".words, .unseen"))
  .map((node) => [node.textContent.trim() || node.tagName, node.getBoundingClientRect()])
  .filter(([, box]) => box.width > 0 && (box.width < 24 || box.height < 24))
  .map(([name, box]) => `${name} ${box.width}x${box.height}`)"""

FOCUSED = """() => {
  const node = document.activeElement;
  const ring = node.matches("input[type=file]") ? node.parentElement : node;
  const style = getComputedStyle(ring);
  const box = ring.getBoundingClientRect();
  return {
    name: (node.getAttribute("aria-label") || node.textContent || node.tagName).trim().replace(/\\s+/g, " ").slice(0, 40),
    ring: style.outlineStyle !== "none" && parseFloat(style.outlineWidth) >= 2,
    inside: box.bottom > 0 && box.top < innerHeight && box.right > 0 && box.left < innerWidth,
    body: node === document.body,
  };
}"""


async def lively(scene: Scene) -> None:
    """Something of everything on both phones."""
    await scene.say(
        scene.marta,
        "<b>Ines</b> kept 3 of 3. <i>Three again?</i> https://example.org/x /week",
        "Three",
        "Four",
    )
    number = await scene.say(
        scene.ines, "Trained?\n<blockquote>yesterday</blockquote><code>2 x 8</code>", "Done", "Short"
    )
    scene.phone(scene.ines).send("did half", reply_to=number)
    scene.phone(scene.ines).edit(scene.phone(scene.ines).messages()[-1].id, "did half of it")
    scene.phone(scene.ines).send_document(b"a,b", name="log.csv")
    scene.phone(scene.ines).send_location(1.35, 103.82)


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("width", [1280, 360])
async def test_all_text_has_enough_contrast(browser: Browser, scene: Scene, scheme: str, width: int) -> None:
    await lively(scene)
    context = await browser.new_context(
        viewport={"width": width, "height": 800},
        color_scheme="dark" if scheme == "dark" else "light",
        reduced_motion="reduce",
    )
    page = await open_page(context, scene)
    await expect(page.locator(f"{COACH} .buttons")).to_have_count(1)
    if width < 600:
        await page.get_by_role("button", name="Client").click()
    await page.locator(f"{CLIENT} .message").last.hover()
    await page.locator(f"{CLIENT} summary").click()
    result = await page.evaluate(LOW_CONTRAST)
    await context.close()
    assert result["found"] == []
    assert result["seen"] > (30 if width > 600 else 20)


async def test_everything_is_reached_by_tab_with_a_visible_ring(scene: Scene, page: Page) -> None:
    await lively(scene)
    await expect(page.locator(f"{CLIENT} .paper")).to_have_count(1)
    names: list[str] = []
    for _ in range(60):
        await page.keyboard.press("Tab")
        focused = await page.evaluate(FOCUSED)
        if focused["body"]:
            break
        assert focused["ring"], focused
        assert focused["inside"], focused
        names.append(focused["name"])
    for wanted in [
        "Next event",
        "+1 week",
        "Play",
        "Got it",
        "Three",
        "Reply",
        "Done",
        "Change",
        "Send",
        "Place",
        "More",
    ]:
        assert wanted in names, (wanted, names)
    assert names.index("Next event") < names.index("Three") < names.index("Done")


async def test_a_whole_exchange_by_keyboard_alone(scene: Scene, page: Page) -> None:
    await scene.say(scene.ines, "Trained?", "Done", "Short")
    await expect(page.get_by_role("button", name="Done")).to_be_visible()
    for _ in range(40):
        await page.keyboard.press("Tab")
        if await page.evaluate("document.activeElement.textContent") == "Done":
            break
    await page.keyboard.press("Enter")
    await scene.phone(scene.ines).wait_for(lambda _: scene.taps() == [("tap", "done")])
    for _ in range(40):
        await page.keyboard.press("Tab")
        if await page.evaluate("document.activeElement.tagName") == "TEXTAREA":
            break
    await page.keyboard.type("easy one")
    await page.keyboard.press("Enter")
    await expect(page.locator(f"{CLIENT} .mine", has_text="easy one")).to_have_count(1)


async def test_a_small_window_shows_one_phone_and_counts_the_other(scene: Scene, small: Page) -> None:
    await expect(small.locator(COACH)).to_be_visible()
    await expect(small.locator(CLIENT)).to_be_hidden()
    await scene.say(scene.ines, "Trained?")
    await scene.say(scene.ines, "And how did you sleep?")
    await small.get_by_role("button", name="Client · 2 new").click()
    await expect(small.locator(CLIENT)).to_be_visible()
    await expect(small.locator(COACH)).to_be_hidden()
    await expect(small.locator(f"{CLIENT} .message").last).to_be_in_viewport()
    await expect(small.get_by_role("button", name="Client", exact=True)).to_have_attribute(
        "aria-pressed", "true"
    )


@pytest.mark.parametrize("width", [320, 360, 760, 900, 1280, 1920])
async def test_nothing_runs_off_the_side(browser: Browser, scene: Scene, width: int) -> None:
    await lively(scene)
    await scene.say(scene.marta, f"{'Nonstop' * 12} <pre>{'a wide table of many columns ' * 4}</pre>")
    context = await browser.new_context(viewport={"width": width, "height": 700})
    page = await open_page(context, scene)
    await expect(page.locator(f"{COACH} pre")).to_have_count(1)
    wide = await page.evaluate("document.documentElement.scrollWidth")
    small = await page.evaluate(SMALL_TARGETS)
    logs = await page.evaluate(
        "[...document.querySelectorAll('.log')].map((log) => log.scrollWidth - log.clientWidth)"
    )
    await context.close()
    assert wide <= width
    assert max(logs) <= 0
    assert small == []


async def test_new_messages_are_announced_and_old_ones_are_not(browser: Browser, scene: Scene) -> None:
    context = await browser.new_context()
    await context.add_init_script(
        """addEventListener("DOMContentLoaded", () => {
          window.announced = [];
          new MutationObserver((changes) => changes.forEach((change) => change.addedNodes.forEach((node) => {
            const log = node.parentElement?.closest?.("[role=log]");
            const live = log?.getAttribute("aria-live") === "polite";
            if (live && node.matches?.(".message")) window.announced.push(node.textContent);
          }))).observe(document.body, { childList: true, subtree: true });
        });"""
    )
    page = await open_page(context, scene)
    await expect(page.get_by_role("log", name="Messages on the phone of Ines Duarte")).to_have_attribute(
        "aria-live", "polite"
    )
    assert await page.evaluate("window.announced") == []
    await scene.say(scene.ines, "Trained?")
    await expect(page.locator(f"{CLIENT} .message", has_text="Trained?")).to_have_count(1)
    assert len(await page.evaluate("window.announced")) == 1
    await context.close()


@pytest.mark.parametrize(("motion", "animations"), [("reduce", "none"), ("no-preference", "settle")])
async def test_motion_is_left_out_on_request(
    browser: Browser, scene: Scene, motion: str, animations: str
) -> None:
    context = await browser.new_context(reduced_motion="reduce" if motion == "reduce" else "no-preference")
    page = await open_page(context, scene)
    await scene.say(scene.ines, "Trained?")
    fresh = page.locator(f"{CLIENT} .fresh-in")
    await expect(fresh).to_have_count(1)
    assert await fresh.evaluate("(node) => getComputedStyle(node).animationName") == animations
    await context.close()


async def test_the_hint_says_what_to_do_until_it_was_understood(page: Page) -> None:
    hint = page.get_by_role("complementary", name="What to do here")
    await expect(hint).to_contain_text("press Next event")
    await hint.get_by_role("button", name="Got it").click()
    await expect(hint).to_be_hidden()
    await page.reload()
    await page.locator(".message").first.wait_for(state="attached")
    await expect(hint).to_be_hidden()


async def test_a_reader_who_looks_back_is_not_torn_away(scene: Scene, page: Page) -> None:
    for number in range(30):
        scene.phone(scene.ines).send(f"line {number}")
    await expect(page.locator(f"{CLIENT} .message").last).to_contain_text("line 29")
    await page.locator(f"{CLIENT} .log").evaluate("(log) => { log.scrollTop = 0; }")
    await scene.say(scene.ines, "a new word")
    below = page.get_by_role("button", name="New below")
    await expect(below).to_be_visible()
    assert await page.locator(f"{CLIENT} .log").evaluate("(log) => log.scrollTop") == 0
    await below.click()
    await expect(page.locator(f"{CLIENT} .message", has_text="a new word")).to_be_in_viewport()
    await expect(below).to_be_hidden()
