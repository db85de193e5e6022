"""Names in any writing stand in our lines without turning them round."""

import pytest

from bot.chats.phrases.common import safe
from core.digest.phrases import cut


@pytest.mark.parametrize(
    ("name", "shown"),
    [
        ("Mara", "Mara"),
        ("\u202eaRAM", "aRAM"),
        ("עדן לוי", "\u2068עדן לוי\u2069"),
        ("Noor نور", "\u2068Noor نور\u2069"),
        ("<b>Mara</b> & Co", "&lt;b&gt;Mara&lt;/b&gt; &amp; Co"),
    ],
)
def test_a_name_turns_round_nothing_but_itself(name: str, shown: str) -> None:
    assert safe(name) == cut(name, 40) == shown


def test_words_of_several_lines_stand_as_they_were_written() -> None:
    assert safe("שלום\nMara") == "שלום\nMara"
