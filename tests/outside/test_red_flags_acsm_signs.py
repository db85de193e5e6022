"""Each major sign or symptom of ACSM's list stops training, in plain and in everyday words, and its harmless twin does not.

Source of the list: ACSM's Guidelines for Exercise Testing and Prescription, table of major signs or symptoms suggestive of
cardiovascular, metabolic or renal disease (8th edition, table 2.2, and the same list later); dark urine after hard exercise, stroke,
head injury and thoughts of suicide are common knowledge, from memory. The sentences are ours.
"""

import datetime as dt

import pytest

from core.replies import Asked, understand

NOW = dt.datetime(2026, 11, 25, 12, tzinfo=dt.UTC)

SIGNS = [
    (
        "pain in chest, neck, jaw, arms",
        "done, chest was tight on the last set, fine now",
        "chest day done, pecs sore",
    ),
    (
        "pain in chest, neck, jaw, arms",
        "my left arm aches and so does my jaw",
        "arms are heavy after the pull ups",
    ),
    (
        "breathless at rest or at mild effort",
        "out of breath just sitting here",
        "out of breath on the sprints, loved it",
    ),
    (
        "breathless at rest or at mild effort",
        "couldnt catch my breath after one flight of stairs",
        "the view took my breath away",
    ),
    ("dizziness or fainting", "nearly fainted after the squats", "faint hope of a gym on this ship"),
    ("dizziness or fainting", "got dizy twice today", "wasn't dizzy at all"),
    (
        "breathless lying flat or waking breathless",
        "woke in the night short of breath",
        "woke in the night, seasick crew next door",
    ),
    ("ankle swelling", "both my ankles are swollen", "my ankles are fine"),
    ("palpitations", "heart is racing for no reason", "heart rate was 150 on the intervals"),
    ("palpitations", "palpatations last night", "learning my lines by heart"),
    ("claudication", "calf cramps every time i walk, stops when i stand still", "calves sore from the run"),
    ("known heart murmur", "doctor says i have a heart murmur", "murmur of the crowd"),
    (
        "unusual fatigue at usual activity",
        "exhausted from one flight of stairs, never had that",
        "exhausted after the get-out but done",
    ),
    ("dark urine after hard exercise", "urine looks like cola since the leg session", "drank too much cola"),
    ("stroke", "one side of my face is drooping", "face hurts from laughing"),
    ("head injury", "hit my head on the rig and keep being sick", "hit the gym"),
    ("thoughts of suicide", "I don't want to be here anymore", "suicide runs done"),
]


def urgent(text: str) -> object:
    return understand(text, asked=Asked.SESSION, now=NOW, zone="Europe/London").to_json().get("urgent")


@pytest.mark.parametrize(("sign", "said", "harmless"), SIGNS, ids=[said for _, said, _ in SIGNS])
def test_a_sign_of_ones_own_is_an_alarm_and_its_twin_is_nothing(sign: str, said: str, harmless: str) -> None:
    assert urgent(said) is True, sign
    assert urgent(harmless) is None, sign


@pytest.mark.parametrize(
    "text",
    [
        "my wife fainted this morning",
        "our sound guy has chest pain",
        "no chest pain, no dizziness",
        "never had palpitations",
        "I play a man who has a heart attack",
    ],
)
def test_others_ills_denials_and_roles_are_nobodys(text: str) -> None:
    assert urgent(text) is None


@pytest.mark.parametrize(
    "text", ["thought my heart would stop on that hill", "passed out on the sofa after the show"]
)
def test_what_may_as_well_be_a_figure_of_speech_is_asked_about(text: str) -> None:
    assert urgent(text) == "ask"
