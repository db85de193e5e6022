"""The built wheel, in an environment of its own: migrations and data files are inside, and the command runs from any folder."""

import asyncio
import os
import sys
import sysconfig
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]


async def _run(*command: str | Path, cwd: Path, env: dict[str, str] | None = None) -> str:
    process = await asyncio.create_subprocess_exec(
        *map(str, command),
        cwd=cwd,
        env=env,
        stdout=asyncio.subprocess.PIPE,
        stderr=asyncio.subprocess.STDOUT,
    )
    told, _ = await process.communicate()
    assert process.returncode == 0, told.decode()
    return told.decode()


@pytest.fixture
async def keptword(tmp_path: Path) -> Path:
    """The command, installed from a fresh wheel; only what Keptword depends on is lent to it, not this folder."""
    built = tmp_path / "dist"
    await _run(
        sys.executable, "-m", "build", "--wheel", "--no-isolation", "--outdir", built, ROOT, cwd=tmp_path
    )
    wheel = next(built.glob("keptword-*.whl"))
    await _run(sys.executable, "-m", "venv", "--without-pip", tmp_path / "venv", cwd=tmp_path)
    site = next((tmp_path / "venv" / "lib").glob("python*")) / "site-packages"
    await _run(
        sys.executable,
        "-m",
        "pip",
        "install",
        "--quiet",
        "--no-deps",
        "--no-index",
        "--target",
        site,
        wheel,
        cwd=tmp_path,
    )
    (site / "lent.pth").write_text(sysconfig.get_paths()["purelib"])
    return tmp_path / "venv" / "bin" / "python"


@pytest.mark.timeout(300)
async def test_the_wheel_carries_all_that_it_needs(keptword: Path, tmp_path: Path) -> None:
    env = {"PATH": os.defpath, "KEPTWORD_DATABASE_URL": f"sqlite:///{tmp_path / 'data' / 'keptword.db'}"}
    where = await _run(keptword, "-c", "import core, bot; print(core.__file__)", cwd=tmp_path, env=env)
    assert str(tmp_path) in where
    told = await _run(keptword, "-m", "bot", "migrate", cwd=tmp_path, env=env)
    assert "0001" in told
    session = await _run(
        keptword,
        "-m",
        "bot",
        "build-session",
        "--block",
        "strength",
        "--minutes",
        "30",
        "--room",
        "dumbbells",
        cwd=tmp_path,
        env=env,
    )
    assert "Warm-up" in session
    read = await _run(keptword, "-m", "bot", "understand", "done, slept 6.5", cwd=tmp_path, env=env)
    assert "6.5" in read
