"""Weeks at full speed, with nobody before the page: everybody behaves by themselves, and all that was said is written down."""

import datetime as dt
import json
import tempfile
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import httpx
from starlette.applications import Starlette

from bot.clock import ManualClock
from bot.rehearsal import rules
from bot.rehearsal.botapi.server import bot_api_routes
from bot.rehearsal.cast import CAST, OPENS, Cast
from bot.rehearsal.past import Past
from bot.rehearsal.people.crowd import chance_of
from bot.rehearsal.people.plans import Deed
from bot.rehearsal.play import Play
from bot.rehearsal.record import Entry
from bot.rehearsal.rules import Kept, Said
from bot.rehearsal.scene import Scene, build
from bot.rehearsal.setting import BEFORE, Tell, start
from bot.rehearsal.works import set_up
from core.adherence.history import HistoryRow, write_history
from core.adherence.weeks import weeks_of
from core.calendar.quiet import QuietHours
from core.calendar.weeks import IsoWeek
from core.people.model import Stage
from core.store import house
from core.store import house_tables as t
from core.store.cipher import new_key
from core.terms import Outcome
from core.usecases import history

BEGINS = OPENS - BEFORE
WEEK = dt.timedelta(days=7)


@dataclass(frozen=True, slots=True, kw_only=True)
class Played:
    """What a play leaves behind."""

    entries: Sequence[Entry]
    rows: Sequence[HistoryRow]
    asks: Sequence[Kept]
    quiet: dict[str, QuietHours]
    pictures: dict[str, bytes]  # by the key of the message that brought them
    client_weeks: int
    updates_failed: int


async def play(weeks: int, seed: int, tell: Tell, cast: Cast = CAST) -> Played:
    """Play so many weeks. The same seed plays the same weeks."""
    scene = build(cast, BEGINS, seed)
    machine = ManualClock(BEGINS)
    app = Starlette(routes=bot_api_routes(scene.api))
    with tempfile.TemporaryDirectory(prefix="keptword-rehearsal-") as folder:
        async with set_up(
            file=Path(folder) / "rehearsal.db",
            key=new_key(),
            world=scene.world,
            clock=scene.clock,
            machine=machine,
            seed=seed,
            tell=scene.record.sent,
            transport=httpx.ASGITransport(app),
        ) as works:
            past = Past(chance=chance_of(seed, "the past"), until=BEGINS)
            await past.write(works.store, cast, scene.chats)
            playing = await start(scene, works, machine=machine)
            _invite_the_newcomer(scene, cast)
            client_weeks = 0
            for number in range(1, weeks + 1):
                await playing.until(BEGINS + number * WEEK)
                active = await _active(playing)
                client_weeks += active
                tell(f"week {number} of {weeks}: {active} clients, {len(scene.record.entries)} lines so far")
            return await _gathered(playing, scene, client_weeks)


def _invite_the_newcomer(scene: Scene, cast: Cast) -> None:
    """The coach invites somebody in the first days."""
    coach = scene.chats[cast.coach]
    scene.crowd.agenda.add(BEGINS + dt.timedelta(days=2), coach, Deed.SAY, f"/invite {cast.newcomer.name}")


async def _active(playing: Play) -> int:
    async with playing.works.store.reading() as tx:
        return len(await house.clients.list(tx, t.client.c.stage == Stage.ACTIVE))


async def _gathered(playing: Play, scene: Scene, client_weeks: int) -> Played:
    async with playing.works.store.reading() as tx:
        clients = await house.clients.list(tx, order=[t.client.c.name, t.client.c.id])
        rows = await history.named_rows(tx, clients)
        asks = [
            Kept(number=a.id, chat=client.name, outcome=a.outcome.value if a.outcome else None)
            for client in clients
            for a in await house.asks_of(tx, client.id)
            if not a.withdrawn
        ]
    dispatcher = playing.works.dispatcher
    return Played(
        entries=scene.record.entries,
        rows=rows,
        asks=asks,
        quiet={c.name: QuietHours(c.quiet_from, c.quiet_to) for c in clients},
        pictures=_pictures(scene),
        client_weeks=client_weeks,
        updates_failed=dispatcher.failed + dispatcher.dead,
    )


def _pictures(scene: Scene) -> dict[str, bytes]:
    pictures = {}
    for entry in scene.record.entries:
        message = scene.world.messages.get(entry.number)
        if entry.kind == "digest" and message is not None and message.attachment is not None:
            pictures[entry.key] = message.attachment.file.content
    return pictures


# --- writing --------------------------------------------------------------------------------------------------------------


def write(played: Played, folder: Path, *, weeks: int, seed: int) -> dict[str, int]:
    """Write everything; the summary. Its counts are read back from the transcript that was written."""
    folder.mkdir(parents=True, exist_ok=True)
    transcript = folder / "transcript.jsonl"
    transcript.write_text("".join(f"{entry.json()}\n" for entry in played.entries), encoding="utf-8")
    with (folder / "history.csv").open("w", encoding="utf-8", newline="") as file:
        write_history(played.rows, file)
    _write_digests(played, folder)
    summary = summed_up(played, rules.read_transcript(transcript), weeks=weeks, seed=seed)
    (folder / "summary.json").write_text(json.dumps(summary, indent=2) + "\n", encoding="utf-8")
    return summary


def _write_digests(played: Played, folder: Path) -> None:
    texts: dict[str, list[str]] = {}
    for entry in played.entries:
        if entry.kind == "digest" and ":text:" in entry.key:
            texts.setdefault(entry.key.split(":")[2], []).append(entry.text)
    for week, parts in texts.items():
        (folder / f"digest-{week}.txt").write_text("\n\n".join(parts) + "\n", encoding="utf-8")
    for key, content in played.pictures.items():
        (folder / f"digest-{key.split(':')[2]}.png").write_bytes(content)


def summed_up(played: Played, lines: Sequence[Said], *, weeks: int, seed: int) -> dict[str, int]:
    """Flat, and numbers only."""
    first, last = IsoWeek.of(BEGINS.date()).next().monday, IsoWeek.of((BEGINS + weeks * WEEK).date()).monday
    rows = [row for row in played.rows if first <= row.monday < last]
    outcomes = [row.outcome for row in rows]
    kinds = [said.kind for said in lines if said.author == "bot"]
    broken = rules.broken(lines, played.quiet)
    return {
        "seed": seed,
        "weeks": weeks,
        "client_weeks": played.client_weeks,
        **_promises(rows),
        "done": sum(o in {Outcome.DONE, Outcome.SHORT} for o in outcomes),
        "extras": outcomes.count(Outcome.EXTRA),
        "missed": outcomes.count(Outcome.MISSED),
        "unanswered": outcomes.count(Outcome.UNANSWERED),
        "excused": outcomes.count(Outcome.EXCUSED),
        "prompts_sent": kinds.count("prompt"),
        "follow_ups_sent": kinds.count("follow_up"),
        "weekly_messages_sent": kinds.count("weekly"),
        "digests_sent": len(played.pictures),
        "from_clients": sum(said.author == "client" for said in lines),
        "updates_failed": played.updates_failed,
        **{rule: len(found) for rule, found in broken.items()},
        "otherwise_kept": len(rules.otherwise_kept(lines, played.asks)),
    }


def _promises(rows: Sequence[HistoryRow]) -> dict[str, int]:
    """The client-weeks that counted, and those that were kept."""
    promises = kept = 0
    for client in {row.client for row in rows}:
        for week in weeks_of([row for row in rows if row.client == client]):
            promises += week.counted
            kept += week.kept
    return {"promises": promises, "kept": kept}
