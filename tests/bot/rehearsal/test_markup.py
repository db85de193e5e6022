"""HTML of messages: what it looks like, and what is refused."""

import contextlib
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.rehearsal.botapi.errors import ApiError
from bot.rehearsal.botapi.markup import Entity, Formatted, parse_html, trimmed, units, with_links


@pytest.mark.parametrize(
    ("source", "text", "entities"),
    [
        ("plain & simple", "plain & simple", ()),
        ("<b>Tue</b> 07:00", "Tue 07:00", (Entity("bold", 0, 3),)),
        ("<strong>a</strong><em>b</em>", "ab", (Entity("bold", 0, 1), Entity("italic", 1, 1))),
        ("<u>a</u><ins>b</ins>", "ab", (Entity("underline", 0, 1), Entity("underline", 1, 1))),
        ("<s>a</s><del>b</del>", "ab", (Entity("strikethrough", 0, 1), Entity("strikethrough", 1, 1))),
        ("<code>x &lt; 3</code>", "x < 3", (Entity("code", 0, 5),)),
        ('<pre><code class="language-csv">a,b</code></pre>', "a,b", (Entity("pre", 0, 3, language="csv"),)),
        ("<tg-spoiler>72 kg</tg-spoiler>", "72 kg", (Entity("spoiler", 0, 5),)),
        ('<span class="tg-spoiler">72 kg</span>', "72 kg", (Entity("spoiler", 0, 5),)),
        ("<blockquote>said</blockquote>", "said", (Entity("blockquote", 0, 4),)),
        ("<blockquote expandable>said</blockquote>", "said", (Entity("expandable_blockquote", 0, 4),)),
        (
            '<a href="https://t.me/x?start=a&amp;b=c">open</a>',
            "open",
            (Entity("text_link", 0, 4, "https://t.me/x?start=a&b=c"),),
        ),
        ("<b><i>x</i></b>", "x", (Entity("italic", 0, 1), Entity("bold", 0, 1))),
        ("&lt;b&gt; &amp;amp; &#8217;", "<b> &amp; ’", ()),
        ("  <b>x </b> ", "x", (Entity("bold", 0, 1),)),
    ],
)
def test_html_becomes_text_and_entities(source: str, text: str, entities: tuple[Entity, ...]) -> None:
    assert parse_html(source) == Formatted(text, entities)


def test_offsets_count_utf_16_units() -> None:
    """A person lifting weights is one character and two units."""
    assert parse_html("\N{WEIGHT LIFTER} <b>x</b>").entities == (Entity("bold", 3, 1),)


@pytest.mark.parametrize(
    ("source", "why"),
    [
        ("Tom <3 training", 'Unsupported start tag "3" at byte offset 4'),
        ("<font>x</font>", 'Unsupported start tag "font" at byte offset 0'),
        ("é <b>x", 'Can\'t find end tag corresponding to start tag "b"'),
        ("é </b>", "Unexpected end tag at byte offset 3"),
        ("<b><i>x</b></i>", 'Unmatched end tag at byte offset 7, expected "</i>", found "</b>"'),
        ("<b", "Unclosed start tag at byte offset 0"),
        ("<span>x</span>", 'Unsupported start tag "span" at byte offset 0'),
    ],
)
def test_what_cannot_be_read_is_refused_with_its_place(source: str, why: str) -> None:
    with pytest.raises(ApiError, match=re.escape(f"Bad Request: can't parse entities: {why}")) as refused:
        parse_html(source)
    assert refused.value.code == 400


@given(st.text(alphabet='ab<>/&;"= \U0001f3cb\n', max_size=40))
def test_any_text_is_read_or_refused(source: str) -> None:
    formatted = Formatted("")
    with contextlib.suppress(ApiError):
        formatted = parse_html(source)
    for entity in formatted.entities:
        assert 0 <= entity.offset < entity.offset + entity.length <= units(formatted.text)


def test_entities_move_with_the_trimming() -> None:
    loose = Formatted("  ab  ", (Entity("bold", 0, 4), Entity("italic", 4, 2)))
    assert trimmed(loose) == Formatted("ab", (Entity("bold", 0, 2),))


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("see https://t.me/keptword_bot?start=aB3_x-9.", ["https://t.me/keptword_bot?start=aB3_x-9"]),
        ("(https://example.org/a)", ["https://example.org/a"]),
        ("tap /week or /pause@keptword_bot", ["/week", "/pause@keptword_bot"]),
        ("either/or, 2/3, a//b", []),
        ("\N{WEIGHT LIFTER} /week", ["/week"]),
    ],
)
def test_addresses_and_commands_are_found(text: str, found: list[str]) -> None:
    wide = text.encode("utf-16-le")
    entities = with_links(Formatted(text)).entities
    assert [wide[2 * e.offset : 2 * (e.offset + e.length)].decode("utf-16-le") for e in entities] == found


def test_nothing_is_found_inside_code_and_links() -> None:
    formatted = parse_html('<code>/week</code> <a href="https://x.example">https://y.example</a>')
    assert with_links(formatted) == formatted
