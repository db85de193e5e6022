"""Every branch of the 2015 screening algorithm, and the nine signs."""

import itertools

import pytest

from core.wellbeing.screening import QUESTIONS, Kind, Screening, Verdict, screen

SIGNS = [question.key for question in QUESTIONS if question.kind is Kind.SIGN]
DISEASES = [question.key for question in QUESTIONS if question.kind is Kind.DISEASE]


def test_there_are_nine_signs_and_three_kinds_of_disease() -> None:
    """ACSM's Guidelines for Exercise Testing and Prescription, table of major signs or symptoms; Riebe et al. 2015."""
    assert len(SIGNS) == 9
    assert len(DISEASES) == 3


@pytest.mark.parametrize(
    ("active", "disease", "signs", "vigorous", "verdict"),
    [
        # Riebe et al. 2015, Med Sci Sports Exerc 47(11):2473-2479 (figure; GETP 10th ed., chapter 2): does not exercise regularly
        (False, False, False, False, Verdict.START_EASY),
        (False, False, False, True, Verdict.START_EASY),
        (False, True, False, False, Verdict.DOCTOR_FIRST),
        (False, True, False, True, Verdict.DOCTOR_FIRST),
        (False, False, True, True, Verdict.DOCTOR_FIRST),
        (False, True, True, False, Verdict.DOCTOR_FIRST),
        # exercises regularly
        (True, False, False, False, Verdict.CONTINUE),
        (True, False, False, True, Verdict.CONTINUE),
        (True, True, False, False, Verdict.CONTINUE),
        (True, True, False, True, Verdict.MODERATE_ONLY),
        (True, False, True, False, Verdict.STOP_AND_DOCTOR),
        (True, False, True, True, Verdict.STOP_AND_DOCTOR),
        (True, True, True, True, Verdict.STOP_AND_DOCTOR),
    ],
)
def test_each_branch(*, active: bool, disease: bool, signs: bool, vigorous: bool, verdict: Verdict) -> None:
    for sign, illness in itertools.product(SIGNS, DISEASES):
        yes_to = frozenset(key for key, said in ((sign, signs), (illness, disease)) if said)
        assert screen(Screening(active=active, yes_to=yes_to, wants_vigorous=vigorous)) is verdict


def test_a_doctors_word_of_the_last_twelve_months_opens_vigorous_effort_and_a_start_but_not_against_signs() -> (
    None
):
    """Riebe et al. 2015: clearance in the last twelve months before vigorous effort; once cleared, start light to moderate."""
    ill = frozenset({"heart"})
    assert screen(Screening(active=True, yes_to=ill, cleared=True)) is Verdict.CONTINUE
    assert screen(Screening(active=False, yes_to=ill, cleared=True)) is Verdict.START_EASY
    assert screen(Screening(active=True, yes_to=ill | {"faint"}, cleared=True)) is Verdict.STOP_AND_DOCTOR
    assert screen(Screening(active=False, yes_to=frozenset({"faint"}), cleared=True)) is Verdict.DOCTOR_FIRST
