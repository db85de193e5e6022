import errno
import os
import stat
from pathlib import Path

import pytest
from pydantic import SecretStr

from bot.keys import cipher_for
from bot.settings import Settings
from core.errors import Fault
from core.store.cipher import Cipher, new_key


def _settings(tmp_path: Path, **more: object) -> Settings:
    return Settings.model_validate({"database_url": f"sqlite:///{tmp_path / 'k' / 'keptword.db'}"} | more)


def test_the_first_start_makes_a_key_file_that_only_its_owner_reads(tmp_path: Path) -> None:
    sealed = cipher_for(_settings(tmp_path)).seal("hip")
    file = tmp_path / "k" / "keptword.key"
    assert stat.S_IMODE(file.stat().st_mode) == 0o600
    assert cipher_for(_settings(tmp_path)).open(sealed) == "hip"


def test_a_key_has_its_name_only_once_all_of_it_is_on_the_disk(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Else a power cut leaves half a key, or none, where everything is sealed with it from then on."""

    def full(_: int) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    with monkeypatch.context() as patched:
        patched.setattr(os, "fsync", full)
        with pytest.raises(Fault, match="cannot be made \\(No space left on device\\)"):
            cipher_for(_settings(tmp_path))
    assert list((tmp_path / "k").iterdir()) == []
    cipher_for(_settings(tmp_path))


def test_of_two_that_start_at_once_one_makes_the_key_for_both(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    others, fsync = list[Cipher](), os.fsync

    def another_is_first(descriptor: int) -> None:
        monkeypatch.setattr(os, "fsync", fsync)
        others.append(cipher_for(_settings(tmp_path)))
        fsync(descriptor)

    monkeypatch.setattr(os, "fsync", another_is_first)
    sealed = cipher_for(_settings(tmp_path)).seal("hip")
    assert [other.open(sealed) for other in others] == ["hip"]
    assert [file.name for file in (tmp_path / "k").iterdir()] == ["keptword.key"]


def test_a_key_is_never_made_anew_for_a_database_that_is_there(tmp_path: Path) -> None:
    cipher_for(_settings(tmp_path))
    (tmp_path / "k" / "keptword.db").write_bytes(b"SQLite format 3")
    (tmp_path / "k" / "keptword.key").unlink()
    with pytest.raises(Fault, match=r"keptword\.key is missing, but the database .* is there"):
        cipher_for(_settings(tmp_path))
    assert not (tmp_path / "k" / "keptword.key").exists()


def test_the_environment_goes_before_the_file_and_takes_several_keys(tmp_path: Path) -> None:
    old, new = new_key(), new_key()
    cipher = cipher_for(_settings(tmp_path, data_key=SecretStr(f"{new}, {old}")))
    assert cipher.open(Cipher([old]).seal("hip")) == "hip"
    assert Cipher([new]).open(cipher.seal("hip")) == "hip"
    assert not (tmp_path / "k").exists()


def test_with_postgresql_the_key_must_be_given() -> None:
    settings = Settings.model_validate({"database_url": "postgresql://localhost/keptword"})
    with pytest.raises(Fault, match="KEPTWORD_DATA_KEY is missing: with PostgreSQL"):
        cipher_for(settings)


def test_an_empty_key_file_is_named(tmp_path: Path) -> None:
    (tmp_path / "k").mkdir()
    (tmp_path / "k" / "keptword.key").write_text("\n")
    with pytest.raises(Fault, match="is empty"):
        cipher_for(_settings(tmp_path))


def test_a_folder_that_cannot_be_made_is_named(tmp_path: Path) -> None:
    (tmp_path / "k").write_text("a file")
    with pytest.raises(Fault, match="cannot be made"):
        cipher_for(_settings(tmp_path))
