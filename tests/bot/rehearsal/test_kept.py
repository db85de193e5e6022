"""A rehearsal that is kept goes on where it ended."""

import datetime as dt
from pathlib import Path

import pytest

from bot.rehearsal import kept
from bot.rehearsal.cast import CAST, OPENS
from bot.rehearsal.people.plans import Deed
from bot.rehearsal.phone import Phone
from bot.rehearsal.scene import Scene, build
from bot.rehearsal.setting import someones
from core.errors import Fault


@pytest.fixture
def scene() -> Scene:
    made = build(CAST, OPENS, seed=3)
    mara = Phone(made.world, made.world.people[made.chats["Mara Lindqvist"]])
    mara.send("slept 7")
    made.crowd.agenda.add(OPENS + dt.timedelta(minutes=5), mara.chat.id, Deed.SAY, "done")
    made.clock.move_to(OPENS + dt.timedelta(minutes=1))
    return made


def test_what_was_said_and_what_is_meant_are_there_again(scene: Scene, tmp_path: Path) -> None:
    kept.save(tmp_path, scene, someones(CAST, scene.chats))
    again = build(CAST, OPENS - dt.timedelta(days=8), seed=3)
    people = kept.recall(tmp_path, again)
    assert people is not None
    assert [p.name for p in people][:2] == ["Ines Prado", "Mara Lindqvist"]
    assert again.clock.now() == OPENS + dt.timedelta(minutes=1)
    phone = Phone(again.world, again.world.people[again.chats["Mara Lindqvist"]])
    assert [message.text for message in phone.messages()] == ["slept 7"]
    phone.edit(phone.messages()[0].id, "slept 8")  # it is still her own message
    due = again.crowd.agenda.due(OPENS + dt.timedelta(minutes=6))
    assert [(plan.deed, plan.words) for plan in due if plan.chat == phone.chat.id] == [(Deed.SAY, "done")]
    assert phone.send("one more").id > 1


def test_where_nothing_was_kept_there_is_nothing_to_go_on_with(scene: Scene, tmp_path: Path) -> None:
    assert kept.recall(tmp_path, scene) is None


def test_a_database_without_its_phones_is_cleared_away(tmp_path: Path) -> None:
    left = tmp_path / kept.DATABASE
    left.write_bytes(b"half a beginning")
    kept.clear_away(tmp_path)
    assert not left.exists()


def test_what_cannot_be_read_is_said_in_a_sentence(scene: Scene, tmp_path: Path) -> None:
    (tmp_path / kept.PHONES).write_bytes(b"no such thing")
    with pytest.raises(Fault, match="remove that folder"):
        kept.recall(tmp_path, scene)


def test_the_key_is_made_once_and_for_its_owner_alone(tmp_path: Path) -> None:
    key = kept.data_key(tmp_path / "new")
    assert kept.data_key(tmp_path / "new") == key
    assert (tmp_path / "new" / kept.KEY).stat().st_mode & 0o777 == 0o600
