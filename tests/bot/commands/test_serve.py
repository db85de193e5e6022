"""The bot as a process of its own, against a server on loopback."""

import asyncio
import signal
from collections.abc import Callable
from pathlib import Path

import httpx
import pytest
from sqlalchemy import select

from bot.keys import cipher_for
from bot.settings import Settings
from core.people.model import Client, Coach, Stage
from core.store import house
from core.store.cipher import Cipher, new_key
from core.store.engine import open_store
from core.store.queue_tables import inbox
from tests.bot.commands.process import environment, free_port, run, running
from tests.bot.queues import message
from tests.fake_api import Answer, FakeApi, refused, serving


async def _wait_for(found: Callable[[], object]) -> None:
    async with asyncio.timeout(20):
        while not found():  # noqa: ASYNC110 - what is waited for happens in another process
            await asyncio.sleep(0.02)


async def test_a_first_start_lays_out_its_tables_answers_and_stops_cleanly(tmp_path: Path) -> None:
    async with serving(FakeApi()) as server:
        port = free_port()
        env = environment(f"sqlite:///{tmp_path / 'k.db'}", server.url, port)
        server.arrive(message(1, "hello"))
        async with running(env) as process:
            await _wait_for(server.taken)
            async with httpx.AsyncClient(trust_env=False, base_url=f"http://127.0.0.1:{port}") as web:
                figures = (await web.get("/metrics")).text
            assert "keptword_handled_total 1" in figures
            code, _, err = await run("serve", env)
            assert code == 1
            assert "Another Keptword is using the database" in err
            process.send_signal(signal.SIGTERM)
            assert await asyncio.wait_for(process.wait(), 10) == 0
    assert server.taken()[0].parameters["chat_id"] == "7"
    assert not any(call.parameters.get("drop_pending_updates") for call in server.calls)


async def test_a_process_that_is_killed_while_it_fetches_a_file_loses_nothing(tmp_path: Path) -> None:
    """Killed in the middle of the download; the next process fetches the file again, and it is answered once."""
    url = f"sqlite:///{tmp_path / 'k.db'}"
    async with serving(FakeApi()) as server:
        env = environment(url, server.url, free_port())
        async with running(env):  # lays out the tables
            pass
        await _enrol_a_coach(url)
        server.files["a"] = b"block,week,session,exercise,sets,repetitions\nstrength,1,1,Goblet squat,3,8\n"
        server.next("download", Answer(after_s=60))
        sent = message(1, "")
        sent["message"]["document"] = {"file_id": "a", "file_name": "plan.csv", "file_size": 75}
        server.arrive(sent, message(2, "/digest"))
        async with running(env) as process:
            await _wait_for(lambda: server.taken("download"))
            process.kill()
            await process.wait()
        assert server.texts() == []
        async with running(env):
            await _wait_for(lambda: len(server.taken()) >= 2)
    assert len(server.taken("download")) == 2
    assert "A programme" in server.texts()[0]
    assert server.texts()[1].startswith("<b>Week")


async def _enrol_a_coach(url: str) -> None:
    store = open_store(url, cipher_for(Settings(database_url=url)))
    async with store.begin() as tx:
        coach = await house.coaches.add(tx, Coach(id=0, name="Ines Prado", telegram_id=7, stage=Stage.ACTIVE))
        await house.clients.add(tx, Client(id=0, coach_id=coach.id, name="Mara", telegram_id=8))
    await store.close()


async def test_a_webhook_is_announced_and_served(tmp_path: Path) -> None:
    async with serving(FakeApi()) as server:
        port = free_port()
        env = environment(
            f"sqlite:///{tmp_path / 'k.db'}", server.url, port,
            KEPTWORD_WEBHOOK_URL="https://bot.example.org/telegram/4mOFGv", KEPTWORD_WEBHOOK_SECRET="3xkQ-9b",  # noqa: S106
        )  # fmt: skip
        async with running(env), httpx.AsyncClient(trust_env=False) as web:
            (announced,) = [call for call in server.calls if call.method == "setWebhook"]
            assert announced.parameters["secret_token"] == "3xkQ-9b"  # noqa: S105
            headers = {"X-Telegram-Bot-Api-Secret-Token": "3xkQ-9b"}
            answer = await web.post(
                f"http://127.0.0.1:{port}/telegram/4mOFGv", headers=headers, json=message(1)
            )
            assert answer.status_code == 200
            await _wait_for(server.taken)
        assert not [call for call in server.calls if call.method == "getUpdates"]


async def test_two_workers_on_postgresql_share_the_work(postgresql_url: str, tmp_path: Path) -> None:
    key = new_key()
    async with serving(FakeApi()) as server:
        envs = [
            environment(postgresql_url, server.url, free_port(), KEPTWORD_DATA_KEY=key, HOME=str(tmp_path))
            for _ in range(2)
        ]
        async with running(envs[0]) as polling:
            server.arrive(*(message(n, "hello", chat=n) for n in range(1, 6)))
            await _wait_for(lambda: len(server.taken()) == 5)
            async with running(envs[1]):
                polling.send_signal(signal.SIGTERM)  # the other takes over
                await polling.wait()
                server.arrive(message(6, "hello", chat=6))
                await _wait_for(lambda: len(server.taken()) == 6)
    store = open_store(postgresql_url, Cipher([key]))
    async with store.reading() as tx:
        states = list((await tx.execute(select(inbox.c.state))).scalars())
    await store.close()
    assert states == ["handled"] * 6


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        ({"KEPTWORD_BOT_TOKEN": ""}, "KEPTWORD_BOT_TOKEN is missing"),
        ({"KEPTWORD_LISTEN": "nowhere"}, "KEPTWORD_LISTEN is not HOST:PORT"),
        ({"KEPTWORD_DATABASE_URL": "postgresql://localhost/k"}, "KEPTWORD_DATA_KEY is missing"),
        ({"KEPTWORD_DATA_KEY": "short"}, "Data key number 1 is not a key"),
    ],
)
async def test_a_wrong_environment_is_said_in_a_sentence(
    tmp_path: Path, wrong: dict[str, str], said: str
) -> None:
    env = environment(f"sqlite:///{tmp_path / 'k.db'}", "http://127.0.0.1:9", 1) | wrong
    code, out, err = await run("serve", env)
    assert (code, out) == (1, "")
    assert said in err
    assert "Traceback" not in err


async def test_a_place_that_is_taken_is_said_in_a_sentence(tmp_path: Path) -> None:
    async with serving(FakeApi()) as server:
        env = environment(f"sqlite:///{tmp_path / 'k.db'}", server.url, server.port)
        code, _, err = await run("serve", env)
    assert code == 1
    assert f"Nothing can be served at 127.0.0.1:{server.port}" in err
    assert "Traceback" not in err


async def test_a_lost_key_is_noticed_at_the_start(tmp_path: Path) -> None:
    async with serving(FakeApi()) as server:
        env = environment(f"sqlite:///{tmp_path / 'k.db'}", server.url, free_port())
        async with running(env):
            pass
        (tmp_path / "k.key").write_text(new_key())
        code, _, err = await run("serve", env)
    assert code == 1
    assert "sealed with another data key" in err


async def test_an_old_schema_is_not_touched_but_named(sqlite_url: str) -> None:
    env = environment(sqlite_url, "http://127.0.0.1:9", 1, KEPTWORD_DATA_KEY=new_key())
    store = open_store(sqlite_url, Cipher([new_key()]), foreign_keys=False)
    from core.store.schema import downgrade

    await downgrade(store, "0001")
    await store.close()
    code, _, err = await run("serve", env)
    assert code == 1
    assert "run 'keptword migrate'" in err
    code, out, _ = await run("migrate", env)
    assert (code, out.split(":")[0]) == (0, "0002")
    code, out, _ = await run("migrate", env)
    assert (code, out) == (0, "The database was up to date.\n")


async def test_a_server_that_is_away_at_the_start_is_waited_for(tmp_path: Path) -> None:
    async with serving(FakeApi()) as server:
        server.next("getMe", refused(502, "Bad Gateway"))
        env = environment(f"sqlite:///{tmp_path / 'k.db'}", server.url, free_port())
        async with running(env):
            assert [call.method for call in server.calls].count("getMe") == 2
