"""Keptword as a process of its own, as people run it."""

import asyncio
import os
import signal
import socket
import sys
from collections.abc import AsyncIterator, Mapping
from contextlib import asynccontextmanager
from pathlib import Path

import httpx

from tests.fake_api import TOKEN

PROJECT = Path(__file__).parents[3]


def free_port() -> int:
    with socket.socket() as opened:
        opened.bind(("127.0.0.1", 0))
        return int(opened.getsockname()[1])


def environment(database_url: str, api_url: str, port: int, **more: str) -> dict[str, str]:
    inherited = {name: value for name, value in os.environ.items() if not name.startswith("KEPTWORD_")}  # noqa: TID251
    return inherited | {
        "KEPTWORD_BOT_TOKEN": TOKEN,
        "KEPTWORD_BOT_API_URL": api_url,
        "KEPTWORD_DATABASE_URL": database_url,
        "KEPTWORD_LISTEN": f"127.0.0.1:{port}",
        **more,
    }


async def start(command: str, env: Mapping[str, str]) -> asyncio.subprocess.Process:
    return await asyncio.create_subprocess_exec(
        sys.executable, "-m", "bot", *command.split(), cwd=PROJECT, env=env,
        stdout=asyncio.subprocess.PIPE, stderr=asyncio.subprocess.PIPE,
    )  # fmt: skip


async def run(command: str, env: Mapping[str, str]) -> tuple[int, str, str]:
    """Exit code, standard output, standard error."""
    process = await start(command, env)
    out, err = await process.communicate()
    return process.returncode or 0, out.decode(), err.decode()


async def until_ready(port: int) -> None:
    async with asyncio.timeout(30), httpx.AsyncClient(trust_env=False) as client:
        while True:
            try:
                if (await client.get(f"http://127.0.0.1:{port}/readyz")).status_code == 200:
                    return
            except httpx.TransportError:
                pass
            await asyncio.sleep(0.05)


@asynccontextmanager
async def running(env: Mapping[str, str]) -> AsyncIterator[asyncio.subprocess.Process]:
    """``keptword serve``, ready. Killed at the end if it is still there."""
    process = await start("serve", env)
    drained = asyncio.create_task(process.stderr.read() if process.stderr else asyncio.sleep(0))
    try:
        await until_ready(int(env["KEPTWORD_LISTEN"].rpartition(":")[2]))
        yield process
    finally:
        if process.returncode is None:
            process.send_signal(signal.SIGKILL)
        await process.wait()
        await drained
