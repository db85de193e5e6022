import io
from dataclasses import replace

import pytest
from PIL import Image

from core.digest import look
from core.digest.drawing import drawable, first_that_fits, fitted, width_of
from core.digest.facts import GroupWeek, Pain
from core.digest.picture import WIDTH, picture
from core.digest.strokes import Stroke, strokes_of
from core.digest.words import headline
from tests.core.digest import an_invented_group as some

TALLEST = 3000
NAMES = ("", "🎭🚢", "Ömer " + "Çağlar-" * 12, "نور حداد", "日本 太郎", "<b>Bo</b>", "W" * 400, "two\nlines")


def opened(group: GroupWeek) -> Image.Image:
    return Image.open(io.BytesIO(picture(group)))


@pytest.mark.parametrize("clients", [0, 1, 4, 12, 20, 60])
def test_a_group_of_any_size_has_a_picture_that_telegram_takes(clients: int) -> None:
    """Bot API, sendPhoto: width and height at most 10000 together, their ratio at most 20; and no taller than a phone can show."""
    image = opened(some.group(clients) if clients else GroupWeek(week=some.WEEK, clients=()))
    assert image.format == "PNG"
    assert image.width == WIDTH
    assert WIDTH / 6 < image.height < TALLEST


def test_the_same_facts_make_the_same_bytes_and_others_do_not() -> None:
    group = some.group(8)
    assert picture(group) == picture(some.group(8))
    changed = replace(group, clients=(replace(group.clients[0], missed=1), *group.clients[1:]))
    assert picture(changed) != picture(group)


@pytest.mark.parametrize("name", NAMES)
def test_a_name_of_any_kind_is_drawn(name: str) -> None:
    clients = tuple(replace(client, name=name, extras=9) for client in some.group(12).clients)
    assert opened(GroupWeek(week=some.WEEK, clients=clients)).width == WIDTH


def test_nothing_is_drawn_outside_the_margins() -> None:
    clients = tuple(
        replace(client, name="W" * 400, extras=9, promised=7) for client in some.group(20).clients
    )
    image = opened(GroupWeek(week=some.WEEK, clients=clients)).convert("RGB")
    paper = image.getpixel((0, 0))
    for left in (0, WIDTH - 40):
        assert image.crop((left, 0, left + 40, image.height)).getcolors() == [(40 * image.height, paper)]


def test_signs_without_a_shape_are_left_out_and_a_nameless_client_has_a_number() -> None:
    assert drawable("Bo 🎭 Adeyemi") == "Bo Adeyemi"
    assert drawable("日本") == ""
    nameless = GroupWeek(week=some.WEEK, clients=(replace(some.STEADY, name="日本"),))
    numbered = GroupWeek(week=some.WEEK, clients=(replace(some.STEADY, name="Client 1"),))
    assert picture(nameless) == picture(numbered)


def test_words_are_cut_to_the_room_they_have() -> None:
    assert fitted("Bo", 30, 400) == "Bo"
    cut = fitted("W" * 80, 30, 200)
    assert cut.endswith("…")
    assert width_of(cut, 30) <= 200


def test_of_several_ways_the_first_that_fits_is_taken() -> None:
    ways = ("Bergen 28 Nov to 12 Dec", "Bergen to 12 Dec")
    assert first_that_fits(ways, 24, 800) == ways[0]
    assert first_that_fits(ways, 24, width_of(ways[1], 24)) == ways[1]
    assert first_that_fits(ways, 24, 60).endswith("…")


def test_a_reason_is_left_out_rather_than_cut_in_two() -> None:
    fewer = replace(some.STEADY, next_week=some.coming(2))
    also_says = replace(fewer, said=("How do I hang the front cloth?",))
    assert headline(also_says) == "fewer next week, has something to say"
    alone, both = (GroupWeek(week=some.WEEK, clients=(client,)) for client in (fewer, also_says))
    assert picture(alone) == picture(both)


def test_each_session_is_one_stroke_and_extras_come_last() -> None:
    assert strokes_of(replace(some.SORE, excused=1, unanswered=1, still_open=1, extras=2)) == (
        Stroke.DONE,
        Stroke.DONE,
        Stroke.SHORT,
        Stroke.MISSED,
        Stroke.UNANSWERED,
        Stroke.EXCUSED,
        Stroke.OPEN,
        Stroke.EXTRA,
        Stroke.EXTRA,
    )
    assert strokes_of(some.NEW) == ()


def luminance(colour: str) -> float:
    """Relative luminance: WCAG 2.2, definitions."""
    parts = [int(colour[n : n + 2], 16) / 255 for n in (1, 3, 5)]
    linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


@pytest.mark.parametrize(
    ("colour", "least"),
    [(look.INK, 4.5), (look.FAINT, 4.5), (look.DARK_OCHRE, 4.5), (look.BLUE, 3), (look.OCHRE, 3)],
)
def test_words_and_strokes_stand_out_from_the_paper(colour: str, least: float) -> None:
    """WCAG 2.2, success criteria 1.4.3 (text, 4.5 to 1) and 1.4.11 (graphics, 3 to 1)."""
    assert (luminance(look.PAPER) + 0.05) / (luminance(colour) + 0.05) >= least


def test_no_two_kinds_of_stroke_look_alike_without_colour() -> None:
    """Drawn in the first row of a picture, then turned to black and white."""
    drawn = set()
    for changes in (
        {"done": 1},
        {"done": 1, "short": 1},
        {"missed": 1},
        {"unanswered": 1},
        {"excused": 1},
        {"still_open": 1},
        {"extras": 1},
    ):
        client = replace(some.STEADY, promised=1, done=0, extras=0, pain=(Pain("knee"),))
        group = GroupWeek(week=some.WEEK, clients=(replace(client, **changes),))  # type: ignore[arg-type]
        strokes = (
            opened(group).convert("L").crop((450, 340, 500, 412)).point(lambda grey: 255 if grey > 190 else 0)
        )
        drawn.add(strokes.tobytes())
    assert len(drawn) == 7
