"""Where there is no Chromium."""

import shutil

import pytest

from tests.browser.conftest import chromium


def test_the_browser_tests_are_left_out_aloud(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(shutil, "which", lambda _: None)
    monkeypatch.delenv("CI", raising=False)
    with pytest.raises(pytest.skip.Exception, match="apt-get install chromium"):
        chromium()


def test_a_build_without_them_fails(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(shutil, "which", lambda _: None)
    monkeypatch.setenv("CI", "true")
    with pytest.raises(pytest.fail.Exception, match="LEFT OUT"):
        chromium()
