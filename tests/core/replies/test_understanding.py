"""What single messages mean, rule by rule."""

import datetime as dt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.replies import Asked, Meaning, understand

NOW = dt.datetime(2026, 11, 25, 12, tzinfo=dt.UTC)


def means(text: str, asked: str = "session") -> dict[str, object]:
    return understand(text, asked=Asked(asked), now=NOW, zone="Europe/London").to_json()


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("done", {"outcome": "done"}),
        ("30 min done", {"outcome": "done", "minutes": 30}),
        ("only 15 minutes", {"outcome": "short", "minutes": 15}),
        ("didn't skip it after all", {"outcome": "done"}),
        ("not done yet", {"outcome": "later"}),
        ("can we do Thursday instead", {"outcome": "later", "move_to": "Thursday"}),
        ("went for a swim instead", {"outcome": "missed"}),
        ("in bed with a cold", {"outcome": "missed", "unwell": True, "tell_coach": True}),
        ("missed it, no wait, did 20 min", {"outcome": "done", "minutes": 20}),
        ("my son is ill so I couldn't", {"outcome": "missed"}),
        ("just did 15 minutes", {"outcome": "short", "minutes": 15}),
        ("just done, 30 min", {"outcome": "done", "minutes": 30}),
        ("did 3 sets out of 4", {"outcome": "short"}),
        ("did 20 min before the alarm kicked us out", {"outcome": "short", "minutes": 20}),
        ("the others skipped, I didn't", {"outcome": "done"}),
        ("didn't quite finish, lost the room at the end", {"outcome": "short"}),
        ("took an hour and ten but finished", {"outcome": "done", "minutes": 70}),
        ("I got in at 3 and missed it", {"outcome": "missed"}),
        ("everyone has a cold except me, trained", {"outcome": "done"}),
        ("will do it at 7", {"outcome": "later", "time": "07:00"}),
        ("half seven tomorrow", {"outcome": "later", "move_to": "tomorrow", "time": "07:30"}),
        # times and lengths as they are written elsewhere
        ("will do it at 1830", {"outcome": "later", "time": "18:30"}),
        ("not yet, this arvo", {"outcome": "later", "move_to": "today"}),
        ("yes, 3/4 hour", {"outcome": "done", "minutes": 45}),
        ("done, 40 Minuten", {"outcome": "done", "minutes": 40}),
        ("did the full hour", {"outcome": "done", "minutes": 60}),
        ("hour and a quarter, all sets", {"outcome": "done", "minutes": 75}),
        ("done 45, then straight to the bus", {"outcome": "done", "minutes": 45}),
        ("done. Forty minutes between the shows", {"outcome": "done", "minutes": 40}),
        # hours that are why, and no minutes
        ("nope, 12 hrs on the winch", {"outcome": "missed"}),
        ("planned 30 did 40", {"outcome": "done", "minutes": 40}),
        # part of it, all of it
        ("had to bail halfway, they needed the van", {"outcome": "short"}),
        ("did all of it, skipped nothing", {"outcome": "done"}),
        ("trained. Callum didn't, he's got flu", {"outcome": "done"}),
        ("no, and no more messages for two weeks please", {"outcome": "missed", "stop": True, "pause": 14}),
        ("full of cold", {"outcome": "missed", "unwell": True, "tell_coach": True}),
        ("yuuup", {"outcome": "done"}),
        ("lol no", {"outcome": "missed"}),
    ],
)
def test_a_session_in_words(text: str, said: dict[str, object]) -> None:
    assert means(text) == said


@pytest.mark.parametrize(
    ("text", "hours"),
    [
        ("six and a half", 6.5),
        ("6,5", 6.5),
        ("5-6", 5.5),
        ("6h30", 6.5),
        ("23:00-6:15", 7.25),
        ("half past eleven till seven", 7.5),
        ("midnight to 0430", 4.5),
        ("6 and quarter", 6.25),
        ("Nine. NINE. I feel about twelve years old", 9),
        ("4 hrs then 2 more on the bus, so six all in", 6),
    ],
)
def test_hours_of_sleep(text: str, hours: float) -> None:
    assert means(text, "sleep") == {"sleep_h": hours}


@pytest.mark.parametrize(
    ("text", "asked"), [("-2", "sleep"), ("30 hours", "sleep"), ("effort 12", "effort"), ("15", "effort")]
)
def test_numbers_that_cannot_be_are_asked_back(text: str, asked: str) -> None:
    assert means(text, asked) == {"unknown": True, "tell_coach": True}


ASKED_BACK = {"unknown": True, "tell_coach": True}


@pytest.mark.parametrize(
    ("asked", "text", "said"),
    [
        ("session", "done, not done", ASKED_BACK),
        ("session", "did it and missed it", ASKED_BACK),
        ("session", "did it. lol no", ASKED_BACK),
        ("session", "smashed it, in my dreams", ASKED_BACK),
        ("session", "carried cases for 3 hours, that's my session", ASKED_BACK),
        ("sleep", "7 out of 10", ASKED_BACK),
        ("sleep", "awake from 4", ASKED_BACK),
        ("sleep", "two hours in the van, three in a bed", ASKED_BACK),
        ("session", "is it today? thought it was tomorrow", {"question": True, "tell_coach": True}),
        ("session", "Monday's yes, Wednesday's no", ASKED_BACK),
        ("session", "either tonight or tomorrow", {"outcome": "later"} | ASKED_BACK),
        ("session", "did it all bar the carries", ASKED_BACK),
        ("days", "Thursday, Friday, no wait, Saturday not Friday", ASKED_BACK),
        ("days", "30 Nov and 2 Dec", ASKED_BACK),
        ("session", "done 20 min, 40 min", {"outcome": "done"} | ASKED_BACK),
        ("session", "effort 6, effort 9", ASKED_BACK),
        ("sleep", "slept 6 hours and 8 hours", ASKED_BACK),
        ("sleep", "5 hrs on the coach + 2 in the hotel", ASKED_BACK),
        ("days", "Tuesday, Thursday, no wait, Friday", ASKED_BACK),
        ("days", "Mon + Thu, if the tide allows", ASKED_BACK),
    ],
)
def test_words_that_contradict_each_other_are_asked_back(
    asked: str, text: str, said: dict[str, object]
) -> None:
    assert means(text, asked) == said


@pytest.mark.parametrize(
    ("asked", "text", "said"),
    [
        ("session", "is it ok to train twice on Saturday?", {"question": True, "tell_coach": True}),
        ("session", "can I do it on Saturday?", {"outcome": "later", "move_to": "Saturday"}),
        ("session", "the ferry took 90 minutes", ASKED_BACK),
        ("session", "45 min, a good one", {"outcome": "done", "minutes": 45}),
        ("session", "we open tonight", ASKED_BACK),
        ("session", "tonight after eight", {"outcome": "later", "move_to": "today"}),
        ("nothing", "we open tonight", ASKED_BACK),
        ("nothing", "we did two shows today", ASKED_BACK),
        ("nothing", "extra one today, 40 min", {"outcome": "done", "minutes": 40}),
        ("effort", "did another one, 20 minutes", {"outcome": "done", "minutes": 20}),
        ("sleep", "all done, felt good", {"outcome": "done"}),
        ("sleep", "did the whole thing", {"outcome": "done"}),
        ("nothing", "done, knackered but happy", {"outcome": "done"}),
        ("session", "boarding now. no", {"outcome": "missed"}),
        ("session", "no comment", ASKED_BACK),
        ("days", "3 but no weekend", {"promise": 3}),
        ("effort", "5 for me, 10 for Jonas", {"effort": 5}),
        (
            "nothing",
            "session done, tell coach the rows are too heavy",
            {"outcome": "done", "tell_coach": True},
        ),
    ],
)
def test_what_a_session_is_not(asked: str, text: str, said: dict[str, object]) -> None:
    assert means(text, asked) == said


def test_a_dictated_message_is_cut_where_it_comes_to_something_new() -> None:
    said = means(
        "hi I am at the stage door so this is dictated yes trained this morning fifty minutes effort eight slept six hours"
        " and the left knee hurts again on the stairs"
    )
    assert said == {
        "outcome": "done",
        "minutes": 50,
        "effort": 8,
        "sleep_h": 6,
        "pain": ["knee"],
        "tell_coach": True,
    }


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        ("sleep", {"sleep_h": 6}),
        ("effort", {"effort": 6}),
        ("days", {"promise": 6}),
        ("nothing", {"unknown": True, "tell_coach": True}),
    ],
)
def test_what_was_asked_decides_what_a_bare_number_means(asked: str, said: dict[str, object]) -> None:
    assert means("6", asked) == said


@pytest.mark.parametrize(
    "text",
    [
        "don't really want to be alive at the moment, trained though",
        "no chest pain today, had it yesterday on the row though",
        "next thing I knew I was on the gym floor",
        "pressure in the chest that spread to my jaw",
    ],
)
def test_a_red_flag_told_sideways(text: str) -> None:
    assert means(text)["urgent"] in {True, "ask"}


@pytest.mark.parametrize(
    "text",
    [
        "no chest pain, done",
        "my chest muscles are sore, done",
        "the winch had a seizure, done",
        "passed out leaflets all day, done",
    ],
)
def test_no_red_flag(text: str) -> None:
    assert "urgent" not in means(text)


def test_pain_and_alarm_survive_a_correction() -> None:
    said = means("done, chest pain on the last set, scrap that, not done")
    assert said["urgent"] is True
    assert said["pain"] == ["chest"]


@given(st.text(max_size=300), st.sampled_from(Asked))
def test_any_text_has_a_meaning_and_always_the_same(text: str, asked: Asked) -> None:
    first = understand(text, asked=asked, now=NOW, zone="Asia/Tokyo")
    assert isinstance(first, Meaning)
    assert first.to_json()
    assert first == understand(text, asked=asked, now=NOW, zone="Asia/Tokyo")


@pytest.mark.parametrize("text", ["", " ", "🎭" * 500, "<b>", "\u202eenod", "1" * 4000, "at 7 " * 800])
def test_odd_texts_mean_nothing_and_hurt_nothing(text: str) -> None:
    assert "outcome" not in means(text, "nothing")


@pytest.mark.parametrize("asked", list(Asked))
@pytest.mark.parametrize(
    "words", ["shoulder is sore in a bad way", "my shoulder is sore, but not in a good way"]
)
def test_soreness_of_the_wrong_kind_is_pain_whatever_was_asked(asked: Asked, words: str) -> None:
    now = dt.datetime(2026, 11, 25, 12, tzinfo=dt.UTC)
    means = understand(words, asked=asked, now=now, zone="Europe/London").to_json()
    assert means == {"pain": ["shoulder"], "tell_coach": True}


@pytest.mark.parametrize(
    ("asked", "text", "said"),
    [
        # a reason, an exception, a day taken back
        ("days", "Fri Sat Sun because Mon-Thu is rehearsal", ["Friday", "Saturday", "Sunday"]),
        ("days", "weekdays except Wednesday", ["Monday", "Tuesday", "Thursday", "Friday"]),
        ("days", "Monday and Wednesday, no, scrap Wednesday", ["Monday"]),
        ("days", "Mon Tue and Fri, on Wednesday we unload the scenery", ["Monday", "Tuesday", "Friday"]),
    ],
)
def test_days_that_are_only_named_are_not_promised(asked: str, text: str, said: list[str]) -> None:
    assert means(text, asked) == {"days": said}


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("knee pain is back", {"pain": ["knee"], "tell_coach": True}),
        ("back spasm this morning", {"pain": ["back"], "tell_coach": True}),
        ("Jonas' knee hurts so he can't come", {"unknown": True, "tell_coach": True}),
        ("don't text me during the show", {"unknown": True, "tell_coach": True}),
        ("please don't ask lol", {"unknown": True, "tell_coach": True}),
        ("the flu is going round", {"unknown": True, "tell_coach": True}),
        ("is RPE 8 too high for a deload", {"question": True, "tell_coach": True}),
    ],
)
def test_words_that_look_like_a_fact_and_are_none(text: str, said: dict[str, object]) -> None:
    assert means(text, "nothing") == said


@pytest.mark.parametrize(
    ("text", "effort"),
    [
        ("between a 7 and an 8", 7.5),
        ("five. no, be honest, six", 6),
        ("9.. no call it 8", 8),
        ("ten out of ten, would not recommend", 10),
        ("7 outta 10", 7),
        ("heavy legs, a 9 if I'm honest", 9),
    ],
)
def test_effort_in_words(text: str, effort: float) -> None:
    assert means(text, "effort") == {"effort": effort}


@pytest.mark.parametrize(
    ("text", "days"),
    [
        ("Monday thru Wednesday", ["Monday", "Tuesday", "Wednesday"]),
        ("anything but Tuesday and Friday", ["Monday", "Wednesday", "Thursday", "Saturday", "Sunday"]),
        ("all but the weekend", ["Monday", "Tuesday", "Wednesday", "Thursday", "Friday"]),
        ("not Monday not Tuesday not Wednesday, rest is fine", ["Thursday", "Friday", "Saturday", "Sunday"]),
        ("lunes y jueves", ["Monday", "Thursday"]),
    ],
)
def test_days_told_by_those_that_are_left_out(text: str, days: list[str]) -> None:
    assert means(text, "days") == {"days": days}


@pytest.mark.parametrize(
    "text", ["much obliged", "muchas gracias", "Vielen Dank, that was very kind", "salamat po"]
)
def test_thanks_in_other_tongues(text: str) -> None:
    assert means(text, "nothing") == {"thanks": True}


@pytest.mark.parametrize(
    ("text", "places"),
    [
        ("both knees are paining since the get-in", ["knee"]),
        ("heads up, lower back hurts", ["lower back"]),
        ("a stabbing in my neck when turning the head", ["neck"]),
        ("neck is killing me after that flight", ["neck"]),
        ("my shift was long and my knee hurts", ["knee"]),
        ("the crew was out late and my knee hurts", ["knee"]),
        ("saw the physio who said my knee is strained", ["knee"]),
        ("knee hurts on squats, no pain at all in the shoulder", ["knee"]),
    ],
)
def test_what_hurts_is_not_all_that_is_named(text: str, places: list[str]) -> None:
    assert means(text, "nothing") == {"pain": places, "tell_coach": True}


@pytest.mark.parametrize(
    ("asked", "text"),
    [
        ("session", "slept thru two alarms... so no"),
        ("nothing", "put me down for two next week, Mon and Thu"),
    ],
)
def test_a_number_of_something_else_is_not_recorded(asked: str, text: str) -> None:
    assert not means(text, asked).keys() & {"sleep_h", "time"}


@pytest.mark.parametrize(
    ("asked", "text", "said"),
    [
        ("session", "can't today, can i pass it to Friday?", {"outcome": "later", "move_to": "Friday"}),
        (
            "session",
            "Can we put it to Saturday? Friday we drive all night.",
            {"outcome": "later", "move_to": "Saturday"},
        ),
        ("session", "Not today, load-in. Could it be tomorrow?", {"outcome": "later", "move_to": "tomorrow"}),
        (
            "session",
            "No session, I have strong cough",
            {"outcome": "missed", "unwell": True, "tell_coach": True},
        ),
        (
            "session",
            "My lower back is bad, so no training today",
            {"outcome": "missed", "pain": ["lower back"], "tell_coach": True},
        ),
        ("effort", "only one this week please", {"promise": 1}),
        ("days", "can't make it tomorrow", {"unknown": True, "tell_coach": True}),
        ("days", "at sea from Tuesday until Friday", {"unknown": True, "tell_coach": True}),
        ("nothing", "please stop asking me about sleep", {"unknown": True, "tell_coach": True}),
    ],
)
def test_what_people_ask_for_around_a_session(asked: str, text: str, said: dict[str, object]) -> None:
    assert means(text, asked) == said


@pytest.mark.parametrize(
    ("asked", "text", "said"),
    [
        # whose illness it is
        ("session", "did it, half the deck crew got the lurgy", {"outcome": "done"}),
        ("sleep", "my daughter had a fever and I sat with her, 4 hours", {"sleep_h": 4}),
        ("session", "rang in sick, didn't train", {"outcome": "missed", "unwell": True, "tell_coach": True}),
        ("session", "did it with our bassist who has a bad back", {"outcome": "done"}),
        ("nothing", "my room was freezing and now got a fever", {"unwell": True, "tell_coach": True}),
        ("session", "done, the hamstring that was moaning is quiet now, no pain at all", {"outcome": "done"}),
        # what was left out of it
        ("session", "did everything bar the last round", {"outcome": "short"}),
        ("session", "got through 3/5 sets", {"outcome": "short"}),
        ("session", "bailed in round four", {"outcome": "short"}),
        # denials that look like deeds
        ("session", "a day of queues, zero was done", {"outcome": "missed"}),
        # today's answer, and next week beside it
        ("session", "yes, tue and sat next week", {"outcome": "done", "days": ["Tuesday", "Saturday"]}),
        # days, and what stands against others
        ("days", "we drive Monday, so Wednesday and Friday", {"days": ["Wednesday", "Friday"]}),
        ("days", "Tuesday is fittings, Thursday's a double, which leaves Saturday", {"days": ["Saturday"]}),
        ("days", "sunday, once the kids are out", {"days": ["Sunday"]}),
        ("days", "no idea, the rota comes out Friday", ASKED_BACK),
        # numbers of something else
        ("sleep", "ok. cabin 4 is above the engine", {"sleep_quality": "ok"}),
        ("sleep", "not great, night train with six nuns", {"sleep_quality": "bad"}),
        ("session", "done, then stood in customs for an hour", {"outcome": "done"}),
        # a sentence that ends in a number
        ("effort", "I'd say 7.5. Legs are gone", {"effort": 7.5}),
        ("sleep", "in bed by eleven and up at five thirty", {"sleep_h": 6.5}),
        # what is good is the night, and not the pillow
        ("sleep", "rubbish pillow but a good night, 7", {"sleep_h": 7, "sleep_quality": "good"}),
    ],
)
def test_one_fact_among_what_else_life_brings(asked: str, text: str, said: dict[str, object]) -> None:
    assert means(text, asked) == said
