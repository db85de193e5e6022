"""The files for a server: what they run works in the environment that they give it."""

import configparser
import os
import shlex
import subprocess
import sys
from pathlib import Path

import pytest

from core.store.cipher import new_key

ROOT = Path(__file__).parents[1]
DEPLOY = ROOT / "deploy"
STATE = "/var/lib/keptword"


def unit(name: str) -> configparser.SectionProxy:
    """The service section of a unit; a key that stands twice would be refused here."""
    read = configparser.ConfigParser(interpolation=None)
    read.optionxform = str  # type: ignore[assignment,method-assign]
    read.read(DEPLOY / name)
    return read["Service"]


def environment_of(
    service: configparser.SectionProxy, secrets: dict[str, str], folder: Path
) -> dict[str, str]:
    """What systemd would set: the unit's own words, and the secrets if it names their file."""
    own = dict(pair.split("=", 1) for pair in shlex.split(service.get("Environment", "")))
    given = own | (secrets if service.get("EnvironmentFile") == "/etc/keptword.env" else {})
    return {"PATH": os.environ["PATH"]} | {  # noqa: TID251 - of this test's own children
        name: value.replace(STATE, str(folder)) for name, value in given.items()
    }


def run_as_unit(service: configparser.SectionProxy, key: str, env: dict[str, str], folder: Path) -> str:
    command = service[key].replace("%%", "%").replace(STATE, str(folder))
    command = command.replace("/opt/keptword/bin/keptword", f"{sys.executable} -m bot")
    done = subprocess.run(
        shlex.split(command), env=env, cwd=ROOT, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr
    return done.stdout


def test_the_night_copies_what_the_service_keeps_with_the_key_in_its_environment(tmp_path: Path) -> None:
    folder = tmp_path / "keptword"
    (folder / "backups").mkdir(parents=True)
    secrets = {
        "KEPTWORD_DATA_KEY": new_key(),
        "KEPTWORD_BOT_TOKEN": "7000000001:AAF-kPw0invented0invented0invented00",
    }
    serves = environment_of(unit("keptword.service"), secrets, folder)
    subprocess.run(
        [sys.executable, "-m", "bot", "migrate"], env=serves, cwd=ROOT, check=True, capture_output=True
    )
    copies = unit("keptword-backup.service")
    said = run_as_unit(copies, "ExecStart", environment_of(copies, secrets, folder), folder)
    assert "checked" in said
    run_as_unit(copies, "ExecStartPost", {"PATH": serves["PATH"]}, folder)
    assert len(list((folder / "backups").glob("keptword-*.db"))) == 1


@pytest.mark.parametrize(
    "key", ["User", "StateDirectoryMode", "EnvironmentFile", "ProtectSystem", "NoNewPrivileges"]
)
def test_the_copy_is_made_by_whoever_serves_and_opens_the_folder_to_nobody_else(key: str) -> None:
    """Systemd sets the mode of a folder anew for each unit that names it."""
    assert unit("keptword-backup.service")[key] == unit("keptword.service")[key]
