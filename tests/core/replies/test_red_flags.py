"""What sounds like a red flag and is none, beside its twin that is one."""

import datetime as dt

import pytest

from core.replies import Asked, understand
from core.replies.meaning import Urgency
from core.replies.second_opinion import weighed

NOW = dt.datetime(2026, 11, 25, 12, tzinfo=dt.UTC)


def urgent(text: str) -> object:
    return understand(text, asked=Asked.NOTHING, now=NOW, zone="Europe/London").to_json().get("urgent")


@pytest.mark.parametrize(
    ("harmless", "flag"),
    [
        # what a thing suffers
        ("the wifi has been passing out all day", "been passing out all day"),
        ("our van completely collapsed on the motorway", "completely collapsed on the motorway"),
        ("the radio lost consciousness an hour ago", "lost consciousness an hour ago"),
        ("this heat is suffocating", "this tightness is suffocating me"),
        # how sound sleep is spoken of
        ("slept like I was unconscious", "I was unconscious for a minute after the sled"),
        ("blacked out till the alarm, best sleep in weeks", "blacked out in the shower"),
        ("passed out at 10 and slept like a log", "passed out at the rack, slept after"),
        ("slept like the dead", "woke with my left arm dead, slept badly"),
        ("out cold for nine hours", "blacked out last night, did not sleep after"),
        # a stage, a joke, a story
        ("what a heart-stopping show", "my heart keeps stopping and starting"),
        ("practised fainting for the scene", "fainted in the scene dock"),
        ("my heart skipped a beat when they announced the tour", "my heart skips beats when I lie down"),
        ("lost my breath control in the second act", "lost my breath on one flight of stairs"),
        # a course, and what is long over
        (
            "we had a first aid course: chest pain, strokes, seizures",
            "chest pain during the first aid course",
        ),
        ("first aid course: strokes, seizures, the lot", "first aid course today, fainted in the break"),
        ("fainted once at school, never since", "fainted once at school, and again today"),
        # hard work feels like hard work
        ("lungs burning on the last sprint but that's what it's for", "lungs burning while sitting"),
        ("legs shaking after the squats", "shaking all over and my chest is tight"),
    ],
)
def test_a_manner_of_speaking_is_left_alone_and_its_twin_is_not(harmless: str, flag: str) -> None:
    assert urgent(harmless) is None
    assert urgent(flag)


@pytest.mark.parametrize(
    "text",
    [
        "Slept 7. Trained 30. Chest pressure during. Effort 6.",
        "the doctor at the crew medical found a heart murmur",
        "peed brown after yesterday's session",
        "they found me on the floor of the gym",
        "couldn't get my words out this morning",
        "took 20 paracetamol",
        "stiff neck and a fever",
    ],
)
def test_a_sign_told_sideways_is_an_alarm(text: str) -> None:
    assert urgent(text) is True


@pytest.mark.parametrize(
    "text",
    [
        "legs just folded under me on the gangway",
        "ended up in hospital last night",
        "don't remember the last ten minutes of the session",
        "I'm scared of what I might do",
        "do I stop if I get chest pain?",
        "Jonas passed out and so did I",
    ],
)
def test_what_may_be_a_sign_is_asked_about(text: str) -> None:
    assert urgent(text) == "ask"


@pytest.mark.parametrize(
    "text",
    [
        "Big Dave from lighting passed out in the pit",
        "poor Nils fainted at the curtain call",
        "my arm fell asleep under the pillow, normal now",
        "the price of the beer stopped my heart",
        "I get stabbed in the chest every night",
        "my ankles are fine",
    ],
)
def test_what_befell_others_or_nobody_is_left_alone(text: str) -> None:
    assert urgent(text) is None


@pytest.mark.parametrize(
    "text",
    [
        "took a whole strip of sleeping pills on purpose",
        "fever, rash and a stiff neck",
        "my left arm and half my face went numb",
    ],
)
def test_the_gravest_signs_are_never_left_alone(text: str) -> None:
    assert urgent(f"trained today, and {text}") is True
    assert urgent(f"lovely show, great crowd, good food, slept well, trained, all sets done, and {text}")
    assert weighed(Urgency.ALARM, 0.01, grave=True) is Urgency.ASK


def test_what_alarms_is_asked_about_or_left_alone_where_it_sounds_harmless() -> None:
    level = {share: weighed(Urgency.ALARM, share) for share in (0.05, 0.3, 0.9)}
    assert level == {0.05: None, 0.3: Urgency.ASK, 0.9: Urgency.ALARM}
    assert weighed(Urgency.ASK, 0.1) is None
    assert weighed(Urgency.ASK, 0.9) is Urgency.ASK


@pytest.mark.parametrize(
    "sign",
    [
        "chest pain",
        "tightness across my chest",
        "palpitations",
        "I fainted",
        "I blacked out",
        "short of breath lying down",
        "dizzy spells",
        "my vision went black",
    ],
)
@pytest.mark.parametrize(
    "news",
    [
        "all done coach, thanks, hotel gym was nice, dinner with the crew, {} this morning, back on the boat tomorrow",
        "great session today, new pb on squats, all sets done, felt brilliant, just had {} on the last set, see you Friday",
    ],
)
def test_good_news_drowns_no_sign(news: str, sign: str) -> None:
    assert urgent(news.format(sign)) in {True, "ask"}
