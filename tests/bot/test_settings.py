import pytest

from bot.settings import Settings, read_settings
from core.errors import Fault

TOKEN = "7000000001:AAF-kPw0invented0invented"  # noqa: S105 - of no real bot


@pytest.fixture(autouse=True)
def _a_bare_environment(monkeypatch: pytest.MonkeyPatch) -> None:
    for name in Settings.model_fields:
        monkeypatch.delenv(f"KEPTWORD_{name.upper()}", raising=False)


def test_without_an_environment_there_are_defaults(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", "/home/ines/.data")
    settings = read_settings()
    assert settings.database.endswith("/keptword/keptword.db")
    assert settings.database.startswith("sqlite:////")
    assert (settings.listen_host, settings.listen_port, settings.is_private) == ("127.0.0.1", 8800, True)
    assert settings.bot_api_url == "https://api.telegram.org"


def test_a_missing_token_is_named_with_an_example() -> None:
    with pytest.raises(Fault, match=r"KEPTWORD_BOT_TOKEN is missing\. .*@BotFather.*7000000001:"):
        read_settings().token()


@pytest.mark.parametrize(
    ("name", "value", "said"),
    [
        ("BOT_TOKEN", "hunter2", "is not a bot's token. It is what @BotFather"),
        ("BOT_API_URL", "api.telegram.org", "is not a web address. For example https://"),
        ("WEBHOOK_URL", "http://bot.example.org/x", "must begin with https://"),
        ("WEBHOOK_URL", "https://bot.example.org/", "needs a path of its own"),
        ("WEBHOOK_SECRET", "not ünicode", "is not a secret that Telegram takes"),
        ("LISTEN", "8800", "is not HOST:PORT. For example 127.0.0.1:8800"),
        ("LISTEN", "127.0.0.1:99999", "is not HOST:PORT"),
    ],
)
def test_a_malformed_value_is_named_with_an_example_and_never_repeated(
    monkeypatch: pytest.MonkeyPatch, name: str, value: str, said: str
) -> None:
    monkeypatch.setenv(f"KEPTWORD_{name}", value)
    with pytest.raises(Fault) as fault:
        read_settings()
    (line,) = fault.value.lines
    assert line.startswith(f"KEPTWORD_{name} ")
    assert said in line
    assert "hunter2" not in line


def test_everything_that_is_wrong_is_named_at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("KEPTWORD_BOT_TOKEN", "x")
    monkeypatch.setenv("KEPTWORD_LISTEN", "x")
    with pytest.raises(Fault) as fault:
        read_settings()
    assert len(fault.value.lines) == 2


@pytest.mark.parametrize(
    ("given", "missing"), [("WEBHOOK_URL", "WEBHOOK_SECRET"), ("WEBHOOK_SECRET", "WEBHOOK_URL")]
)
def test_half_a_webhook_is_refused(monkeypatch: pytest.MonkeyPatch, given: str, missing: str) -> None:
    monkeypatch.setenv(
        f"KEPTWORD_{given}", {"WEBHOOK_URL": "https://bot.example.org/t/4mO"}.get(given, "abc")
    )
    with pytest.raises(Fault, match=f"KEPTWORD_{missing} is missing"):
        read_settings()


def test_an_empty_value_is_a_missing_one(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("KEPTWORD_BOT_TOKEN", "")
    assert read_settings().bot_token is None


def test_printing_the_settings_shows_no_secret(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("KEPTWORD_BOT_TOKEN", TOKEN)
    assert TOKEN not in repr(read_settings())
    assert read_settings().token() == TOKEN


@pytest.mark.parametrize(
    ("listen", "private"),
    [("localhost:1", True), ("[::1]:1", True), ("0.0.0.0:1", False), ("bot.example.org:1", False)],
)
def test_what_others_can_reach_is_told_apart(
    monkeypatch: pytest.MonkeyPatch, listen: str, private: bool
) -> None:
    monkeypatch.setenv("KEPTWORD_LISTEN", listen)
    assert read_settings().is_private is private
