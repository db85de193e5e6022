"""The commands that look into an installation, run as an operator runs them: another process, the environment, a real database."""

import asyncio
import json
import sqlite3

import pytest

from bot.cli import main
from bot.clock import ManualClock
from bot.rehearsal.app import make_app
from bot.rehearsal.botapi.api import make_api
from bot.rehearsal.serve import LocalServer
from core.store import house
from core.store.engine import Store
from tests.bot.commands.installation import NOW, Installation, spoil
from tests.quiet_stage import QuietStage


async def test_preview_lists_prompts_on_the_clients_own_clock_outside_quiet_hours(
    installed: Installation,
) -> None:
    code, out, err = await installed.run("preview", "--client", "Mara", "--days", "21", "--format", "json")
    assert (code, err) == (0, "")
    prompts = json.loads(out)
    assert {"weekly", "prompt"} <= {p["kind"] for p in prompts}
    assert {p["zone"] for p in prompts} == {"Asia/Singapore"}
    assert all("07:00" <= p["local"][11:] < "21:00" for p in prompts)
    assert [p["local"][11:] for p in prompts if p["kind"] == "prompt"] == ["07:00"] * sum(
        p["kind"] == "prompt" for p in prompts
    )
    assert len({(p["client"], p["kind"], p["utc"]) for p in prompts}) == len(prompts)


async def test_history_is_written_in_the_format_that_forecast_reads(installed: Installation) -> None:
    file = installed.folder / "history.csv"
    code, out, err = await installed.run("history", str(file))
    assert (code, err) == (0, "")
    assert "0 rows" in out
    assert file.read_text().startswith("client,date,promised,outcome,minutes,away,slept_h,lowered")


async def test_export_holds_a_client_and_only_the_owner_may_read_it(installed: Installation) -> None:
    file = installed.folder / "held.json"
    code, _, err = await installed.run("export", "--client", "mara", str(file))
    assert (code, err) == (0, "")
    held = json.loads(file.read_text())
    assert [h["client"]["name"] for h in held] == ["Mara"]
    assert file.stat().st_mode & 0o777 == 0o600


async def test_a_file_that_was_there_and_open_to_others_is_closed_to_them(installed: Installation) -> None:
    file = installed.folder / "held.json"
    file.touch(mode=0o644)
    assert (await installed.run("export", str(file)))[0] == 0
    assert file.stat().st_mode & 0o777 == 0o600


async def test_erase_removes_a_client_for_good(installed: Installation) -> None:
    code, out, _ = await installed.run("erase", "--client", "Mara")
    assert (code, out.strip()) == (0, "Everything held about Mara is gone.")
    code, _, err = await installed.run("erase", "--client", "Mara")
    assert code == 1
    assert "There is no client called Mara. There are: nobody yet." in err


async def test_an_unknown_client_is_said_with_who_there_is(installed: Installation) -> None:
    code, out, err = await installed.run("preview", "--client", "Nobody")
    assert (code, out) == (1, "")
    assert err.strip() == "There is no client called Nobody. There are: Mara."


@pytest.mark.parametrize(
    ("args", "code"),
    [
        ((), 2),
        (("nosuch",), 2),
        (("preview",), 2),
        (("preview", "--client", "Mara", "--days", "0"), 1),
        (("preview", "--client", "#²"), 1),
        (("preview", "--client", f"#{10**24}"), 1),
        (("rehearse", "--port", "99999"), 2),
        (("understand", "--now", "9999-12-31T23:59:59", "tomorrow at 7"), 1),
    ],
)
async def test_wrong_usage_is_two_and_a_fault_is_one(
    installed: Installation, args: tuple[str, ...], code: int
) -> None:
    found, out, err = await installed.run(*args)
    assert (found, out) == (code, "")
    assert err
    assert "Traceback" not in err
    assert "Something went wrong inside" not in err


async def test_enrol_coach_prints_a_link_that_names_the_bot(installed: Installation) -> None:
    api = make_api(ManualClock(NOW))
    async with LocalServer(make_app(api, QuietStage(api.world, ManualClock(NOW))), port=0) as server:
        served = Installation(
            {**installed.env, "KEPTWORD_BOT_TOKEN": api.world.token, "KEPTWORD_BOT_API_URL": server.url},
            installed.folder,
        )
        code, out, err = await served.run("enrol-coach", "Otto Lind")
    await api.close()
    assert (code, err) == (0, "")
    assert out.startswith("https://t.me/")
    assert len(out.strip().split("?start=")[1]) >= 22


async def test_enrol_coach_without_a_token_says_which_variable_is_missing(installed: Installation) -> None:
    code, out, err = await installed.run("enrol-coach", "Otto Lind")
    assert (code, out) == (1, "")
    assert "KEPTWORD_BOT_TOKEN is missing" in err


async def test_a_damaged_database_is_said_in_a_sentence(installed: Installation) -> None:
    spoil(installed.folder / "keptword.db")
    code, out, err = await installed.run("export", str(installed.folder / "held.json"))
    assert (code, out) == (1, "")
    assert err.startswith("The database file is damaged, or is none")
    assert "sqlalche" not in err


async def test_who_is_erased_while_the_bot_is_busy_is_erased_all_the_same(
    installed: Installation, monkeypatch: pytest.MonkeyPatch
) -> None:
    async def busy(_store: Store) -> None:
        raise sqlite3.OperationalError("database is locked")

    for name in ("KEPTWORD_DATABASE_URL", "KEPTWORD_DATA_KEY"):
        monkeypatch.setenv(name, installed.env[name])
    monkeypatch.setattr(Store, "compact", busy)
    assert await asyncio.to_thread(main, ["erase", "--client", "Mara"]) == 0
    async with installed.store() as store, store.reading() as tx:
        assert await house.clients.list(tx) == []


@pytest.mark.parametrize(
    "command",
    [
        ("history", "out.csv"),
        ("preview", "--client", "Mara"),
        ("backup", "out.backup"),
        ("erase", "--client", "Mara"),
    ],
)
async def test_who_looks_at_a_mistyped_address_makes_no_database_there(
    installed: Installation, command: tuple[str, ...]
) -> None:
    file = installed.folder / "mistyped" / "keptword.db"
    elsewhere = Installation(
        {**installed.env, "KEPTWORD_DATABASE_URL": f"sqlite:///{file}"}, installed.folder
    )
    code, out, err = await elsewhere.run(*command)
    assert (code, out) == (1, "")
    assert f"There is no database {file}" in err
    assert not file.parent.exists()


async def test_one_row_is_said_as_one(installed: Installation) -> None:
    code, out, _ = await installed.run("export", "--client", "Mara", str(installed.folder / "held.json"))
    assert (code, out.split(" in ")[0]) == (0, "1 client")
