"""A rehearsal that goes on next time: the phones, the people's plans and the clock in one file beside its database."""

import os
import pickle
from pathlib import Path
from typing import Any

from bot.rehearsal.scene import Scene
from bot.rehearsal.stage import Someone
from core.errors import Fault
from core.store.cipher import new_key

DATABASE, PHONES, KEY = "rehearsal.db", "rehearsal.phones", "rehearsal.key"
FORMAT = 1
# What the local server remembers; who waits for what is gone with the process.
REMEMBERED = (
    "bot",
    "people",
    "chats",
    "messages",
    "files",
    "notices",
    "commands",
    "actions",
    "_presses",
    "_by_chat",
    "_counts",
)


def data_key(folder: Path) -> str:
    """The key of this rehearsal's database, made on the first start."""
    file = folder / KEY
    if not file.exists():
        folder.mkdir(parents=True, exist_ok=True, mode=0o700)
        with os.fdopen(os.open(file, os.O_CREAT | os.O_WRONLY, 0o600), "w") as writing:
            writing.write(new_key())
    return file.read_text("ascii").strip()


def clear_away(folder: Path) -> None:
    """A rehearsal that was left before its curtain rose is begun anew."""
    if not (folder / PHONES).exists():
        for file in folder.glob(f"{DATABASE}*"):
            file.unlink()


def save(folder: Path, scene: Scene, people: list[Someone]) -> None:
    """Write everything that is not in the database; whole, or not at all."""
    world, record = scene.world, scene.record
    state = {
        "format": FORMAT,
        "at": scene.clock.now(),
        "world": {name: getattr(world, name) for name in REMEMBERED},
        "next_update": world.updates.next_id,
        "revision": world.changes.revision,
        "agenda": scene.crowd.agenda,
        "crowd": scene.crowd.people,
        "entries": record.entries,
        "keys": record.keys,
        "homes": scene.atlas.homes,
        "people": people,
    }
    fresh = folder / f"{PHONES}.new"
    with os.fdopen(os.open(fresh, os.O_CREAT | os.O_TRUNC | os.O_WRONLY, 0o600), "wb") as writing:
        pickle.dump(state, writing)
    fresh.replace(folder / PHONES)


def recall(folder: Path, scene: Scene) -> list[Someone] | None:
    """Put everything back as it was; who has a phone, or None where there is nothing to go on with."""
    file = folder / PHONES
    if not file.exists():
        return None
    state = _read(file)
    for name, value in state["world"].items():
        setattr(scene.world, name, value)
    scene.world.updates.next_id = state["next_update"]
    scene.world.changes.revision = state["revision"]
    scene.crowd.agenda, scene.crowd.people = state["agenda"], state["crowd"]
    scene.record.entries, scene.record.keys = state["entries"], state["keys"]
    scene.atlas.homes.update(state["homes"])
    scene.clock.move_to(state["at"])
    people: list[Someone] = state["people"]
    return people


def _read(file: Path) -> dict[str, Any]:
    try:
        with file.open("rb") as reading:
            state: dict[str, Any] = pickle.load(reading)  # noqa: S301 - a file of our own, that only its owner may write
    except Exception as error:
        raise Fault(_unreadable(file)) from error
    if state.get("format") != FORMAT:
        raise Fault(_unreadable(file))
    return state


def _unreadable(file: Path) -> str:
    return (
        f"The rehearsal kept in {file.parent} cannot be gone on with: remove that folder to begin a new one."
    )
