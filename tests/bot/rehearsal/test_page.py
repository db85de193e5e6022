"""What the page asks the server for, its colours and its words."""

import re
from collections.abc import AsyncIterator
from pathlib import Path

import httpx
import pytest

from bot.clock import ManualClock
from bot.rehearsal.app import PAGE, make_app
from bot.rehearsal.botapi.api import BotApi
from bot.rehearsal.phone import Phone
from bot.rehearsal.serve import LocalServer
from bot.rehearsal.stage import Someone
from core.errors import Fault
from tests.quiet_stage import QuietStage


@pytest.fixture
def stage(api: BotApi, clock: ManualClock) -> QuietStage:
    return QuietStage(api.world, clock)


@pytest.fixture
def marta(stage: QuietStage) -> Someone:
    return stage.add("Marta Oliveira", "coach", "Europe/Lisbon")


@pytest.fixture
async def desk(api: BotApi, stage: QuietStage, marta: Someone) -> AsyncIterator[httpx.AsyncClient]:
    assert marta.role == "coach"
    async with LocalServer(make_app(api, stage)) as server:
        async with httpx.AsyncClient(base_url=server.url, trust_env=False) as client:
            yield client
        await api.close()


async def test_changes_since_a_revision_are_those_and_no_others(
    api: BotApi, desk: httpx.AsyncClient, marta: Someone
) -> None:
    phone = Phone(api.world, api.world.people[marta.chat])
    phone.send("one")
    first = (await desk.get("/changes", params={"since": 0, "chat": marta.chat})).json()
    phone.send("two")
    then = (await desk.get("/changes", params={"since": first["revision"], "chat": marta.chat})).json()
    shown = [[m["text"] for m in news["phones"][str(marta.chat)]["messages"]] for news in (first, then)]
    assert shown == [["one"], ["two"]]
    assert first["people"][0]["time"] == "07:30"


async def test_nonsense_in_the_address_is_taken_as_nothing(desk: httpx.AsyncClient) -> None:
    assert (await desk.get("/changes?since=x&chat=y")).json()["phones"] == {}


@pytest.mark.parametrize(
    ("path", "body", "says"),
    [
        ("/phones/{chat}/text", {"text": " "}, "There is nothing to send yet: write something first."),
        ("/phones/{chat}/text", {"words": "x"}, "This could not be read: reload the page and try again."),
        ("/phones/{chat}/press", {"message": 1, "data": "x"}, "That message is no longer there."),
        ("/phones/{chat}/location", {"place": "Atlantis"}, "Choose one of the cities in the list."),
        ("/phones/1/text", {"text": "x"}, "There is no such phone here: reload the page."),
        (
            "/phones/{chat}/start",
            {"payload": "a b"},
            "This start link does not work: it has at most 64 letters, digits, _ and -.",
        ),
        ("/stage/advance", {"hours": 0}, "This could not be read: reload the page and try again."),
        ("/stage/people", {"name": "Jonas", "zone": "Moon/Base"}, "Choose one of the cities in the list."),
        ("/phones/{chat}/file", {}, "Choose a file first."),
    ],
)
async def test_what_cannot_be_done_is_said_in_a_sentence(
    desk: httpx.AsyncClient, marta: Someone, path: str, body: dict[str, object], says: str
) -> None:
    answer = await desk.post(path.format(chat=marta.chat), json=body)
    assert (answer.status_code, answer.json()) == (409, {"error": says})


async def test_other_pages_of_the_browser_may_not_act(desk: httpx.AsyncClient, marta: Someone) -> None:
    path, body = f"/phones/{marta.chat}/text", {"text": "x"}
    foreign = await desk.post(path, json=body, headers={"origin": "https://example.org"})
    own = await desk.post(path, json=body, headers={"origin": str(desk.base_url).rstrip("/")})
    elsewhere = await desk.get("/", headers={"host": "example.org"})
    assert (foreign.status_code, own.status_code, elsewhere.status_code) == (403, 200, 400)


async def test_a_sticker_and_a_group(api: BotApi, desk: httpx.AsyncClient, marta: Someone) -> None:
    await desk.post(f"/phones/{marta.chat}/sticker", json={})
    made = await desk.post(f"/phones/{marta.chat}/group", json={"title": "Crew, Hall 2"})
    updates = api.world.updates.batch(9)
    assert updates[0]["message"]["sticker"]["emoji"] == "\N{WAVING HAND SIGN}"
    assert updates[1]["my_chat_member"]["chat"] == {
        "id": made.json()["said"],
        "title": "Crew, Hall 2",
        "type": "group",
        "all_members_are_administrators": True,
    }


async def test_trouble_can_be_planned_from_outside(api: BotApi, desk: httpx.AsyncClient) -> None:
    await desk.post("/trouble", json={"kind": "server error", "method": "getMe"})
    broken = await desk.get(f"/bot{api.world.token}/getMe")
    whole = await desk.get(f"/bot{api.world.token}/getMe")
    assert (broken.status_code, whole.status_code) == (502, 200)


async def test_files_are_served_without_being_run(
    api: BotApi, desk: httpx.AsyncClient, marta: Someone
) -> None:
    phone = Phone(api.world, api.world.people[marta.chat])
    sent = phone.send_document(b"<script>", name="x.html", mime="text/html")
    assert sent.attachment is not None
    answer = await desk.get(f"/files/{sent.attachment.file.id}")
    assert answer.headers["content-security-policy"] == "sandbox"
    assert answer.headers["x-content-type-options"] == "nosniff"
    assert (await desk.get("/files/none")).status_code == 404


async def test_a_port_in_use_is_named(desk: httpx.AsyncClient, api: BotApi, stage: QuietStage) -> None:
    with pytest.raises(Fault, match=r"Port \d+ cannot be used .* choose another with --port"):
        async with LocalServer(make_app(api, stage), port=desk.base_url.port or 0):
            pass


# Colours, by WCAG 2.2: 4.5 for text, 3 for edges and rings (success criteria 1.4.3 and 1.4.11)

TEXT = [
    *[
        (colour, ground)
        for colour in ("ink", "soft")
        for ground in ("ground", "paper", "card", "sea-tint", "plum-tint")
    ],
    *[("sea", ground) for ground in ("paper", "card", "sea-tint")],
    *[("plum", ground) for ground in ("paper", "card", "plum-tint")],
    ("on-accent", "sea"),
    ("on-accent", "plum"),
    ("paper", "ink"),
]
EDGES = [(colour, ground) for colour in ("edge", "focus") for ground in ("ground", "paper", "card")]


def palettes() -> dict[str, dict[str, str]]:
    light, dark = (PAGE / "colours.css").read_text().split("@media")
    return {
        name: dict(re.findall(r"--([\w-]+): (#[0-9a-f]{6});", part))
        for name, part in (("light", light), ("dark", dark))
    }


def luminance(colour: str) -> float:
    """Relative luminance of an sRGB colour (WCAG 2.2)."""
    channels = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, other: str) -> float:
    high, low = sorted((luminance(one), luminance(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def test_contrast_itself_is_computed_as_published() -> None:
    """Black on white is 21:1, and #767676 on white the well-known 4.54:1 (WCAG 2.2, common practice)."""
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.005)


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize(("pairs", "least"), [(TEXT, 4.5), (EDGES, 3.0)], ids=["text", "edges"])
def test_colours_can_be_told_apart(scheme: str, pairs: list[tuple[str, str]], least: float) -> None:
    colours = palettes()[scheme]
    low = {pair: round(contrast(colours[pair[0]], colours[pair[1]]), 2) for pair in pairs}
    assert {pair: ratio for pair, ratio in low.items() if ratio < least} == {}


@pytest.mark.parametrize("file", sorted(PAGE.glob("*.*")), ids=lambda path: path.name)
def test_the_page_never_claims_to_know_what_was_read(file: Path) -> None:
    """No receipts: no tick marks, no such words; and nothing from another address."""
    source = file.read_text()
    assert not re.search("[\u2713\u2714\u2611\u2705]|\\bdelivered\\b|\\bread\\b", source)
    assert not set(re.findall(r"https?://[\w.]+", source)) - {"http://www.w3.org"}
