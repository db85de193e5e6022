"""The exchange on the README's first screen is what the house says, word for word."""

import datetime as dt
import html
import re
from pathlib import Path

import pytest

from core.store.engine import Store
from tests.playhouse import CLIENT_ID, Message, Play

README = (Path(__file__).parents[1] / "README.md").read_text(encoding="utf-8")


def quoted(speaker: str) -> list[str]:
    """What the README lets somebody say, as plain words."""
    said = re.findall(rf"^> \*\*{speaker}\*\* (.+)$", README, re.MULTILINE)
    return [re.sub(r"\*\*|(?<!\w)\*|\*(?!\w)|<br>", "", line).strip() for line in said]


def plain(message: Message) -> str:
    return " ".join(html.unescape(re.sub(r"<[^>]+>", "", message.text)).split())


async def test_the_exchange_in_the_readme_is_what_is_said(store: Store) -> None:
    play = Play(store)
    await play.coach()
    await play.agreed(await play.client(), 2)
    heard = await play.until(dt.datetime(2026, 11, 30, 7, tzinfo=dt.UTC))
    for words in quoted("Mara"):
        heard += await play.says(CLIENT_ID, words)
    told = [plain(m) for m in heard if m.chat_id == CLIENT_ID and m.text]
    lines = quoted("Keptword")
    assert len(lines) >= 4
    for line in lines:
        assert any(line in each for each in told), f"{line!r} is not among {told}"
    labels = {label for m in heard for label in m.buttons}
    for row in re.findall(r"^> (`.+`)$", README, re.MULTILINE):
        assert set(re.findall(r"`([^`]+)`", row)) <= labels


@pytest.mark.parametrize("path", sorted(set(re.findall(r"\]\(([\w./-]+)\)", README))))
def test_every_file_that_the_readme_names_is_there(path: str) -> None:
    assert (Path(__file__).parents[1] / path).exists()
