"""The second opinion: when it doubts, when it fills in, and that its weights are what the training makes of the sentences."""

import datetime as dt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.replies import Asked, understand
from core.replies.meaning import Said
from core.replies.second_opinion import is_unlikely, likely_flag, likely_outcomes
from tests.core.replies import training

NOW = dt.datetime(2026, 11, 25, 12, tzinfo=dt.UTC)
MOST = 350_000
"""Bytes that all weights together may take."""


def test_the_weights_are_those_of_the_sentences() -> None:
    stale = "the sentences have changed: run python -m tests.core.replies.training"
    for name, made in training.all_weights().items():
        kept = dict(map(parted, (training.DATA / name).read_text(encoding="utf-8").splitlines()))
        again = dict(map(parted, made.splitlines()))
        # other machines may round the last digit otherwise, and so leave a trait out that weighs just enough here
        for trait in kept.keys() & again.keys():
            pairs = zip(kept[trait], again[trait], strict=True)
            assert all(abs(one - other) <= 1 for one, other in pairs), f"{trait!r} in {name}: {stale}"
        for trait in kept.keys() ^ again.keys():
            row = kept.get(trait) or again[trait]
            assert max(map(abs, row)) <= training.LEAST + 1, f"{trait!r} in {name}: {stale}"


def parted(line: str) -> tuple[str, list[int]]:
    trait, _, numbers = line.partition("\t")
    return trait, list(map(int, numbers.split()))


def test_the_weights_are_small() -> None:
    assert sum((training.DATA / name).stat().st_size for name in training.all_weights()) < MOST


@pytest.mark.parametrize(
    ("asked", "text", "outcome"),
    [
        ("nothing", "missed the last tram", Said.MISSED),
        ("nothing", "moving to a new cabin tomorrow", Said.LATER),
    ],
)
def test_an_unlikely_outcome_is_asked_back(asked: str, text: str, outcome: Said) -> None:
    assert is_unlikely(outcome, text, Asked(asked))
    assert understand(text, asked=Asked(asked), now=NOW, zone="Europe/London").to_json() == {
        "unknown": True,
        "tell_coach": True,
    }


def test_words_that_sound_alarming_are_asked_about_though_no_rule_knows_them() -> None:
    assert understand("gasping after two steps", asked=Asked.NOTHING, now=NOW, zone="Europe/London").urgent


def test_what_is_denied_or_anothers_stays_so() -> None:
    for text in ("never had palpitations", "my wife fainted this morning"):
        assert not understand(text, asked=Asked.NOTHING, now=NOW, zone="Europe/London").urgent


def test_a_likely_outcome_is_recorded() -> None:
    assert not is_unlikely(Said.DONE, "all done", Asked.SESSION)
    assert understand("all done", asked=Asked.SESSION, now=NOW, zone="Europe/London").outcome is Said.DONE


@pytest.mark.parametrize(
    ("text", "outcome"),
    [
        ("the weights surrendered before I did", Said.DONE),
        ("the get in ate it", Said.MISSED),
    ],
)
def test_an_answer_that_no_rule_knows_is_told_by_its_sound(text: str, outcome: Said) -> None:
    assert understand(text, asked=Asked.SESSION, now=NOW, zone="Europe/London").outcome is outcome
    assert understand(text, asked=Asked.SLEEP, now=NOW, zone="Europe/London").outcome is None


def test_a_sound_does_not_outweigh_a_denial_or_a_question() -> None:
    for text in ("not finished", "did it and missed it", "is it ok to train twice on Saturday?"):
        assert understand(text, asked=Asked.SESSION, now=NOW, zone="Europe/London").outcome is None


@given(st.text(max_size=200), st.sampled_from(Asked))
def test_shares_of_any_text_add_up_to_one(text: str, asked: Asked) -> None:
    shares = likely_outcomes(text, asked)
    assert sum(shares) == pytest.approx(1)
    assert all(0 <= share <= 1 for share in (*shares, likely_flag(text)))
