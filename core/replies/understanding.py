"""What one message means: every reader asked in turn, corrections obeyed, and doubt kept as doubt.

A wrong record is worse than a question: where readers disagree or see a number they cannot place, nothing is recorded of it
and the message is marked unknown, which brings it to the coach and to the client as a question.
"""

import datetime as dt
import re
from dataclasses import dataclass, fields, replace
from zoneinfo import ZoneInfo

from core.replies.clauses import Clause, clauses_of, own_text
from core.replies.clock import time_of_day, times_of_day
from core.replies.coverage import minutes_stand_alone
from core.replies.days import Week, day_to_move_to, read_week, wanted_days
from core.replies.durations import lengths
from core.replies.effort import Exertion, read_effort
from core.replies.ills import is_low, is_unwell
from core.replies.intents import is_courtesy, is_for_coach, is_question, names_coach, pause_days, wants_stop
from core.replies.meaning import Asked, Meaning, Said, TripSaid, Urgency
from core.replies.outcome import Signs, read_signs
from core.replies.pain import read_pain
from core.replies.red_flags import dismisses_a_sign, read_red_flags
from core.replies.second_opinion import is_unlikely, sounds_alarming
from core.replies.sleep import Night, read_sleep
from core.replies.spelling import mend_dates
from core.replies.trips import about_trip, read_trip
from core.replies.wording import Words, plain_words
from core.terms import Place

LONGEST_SESSION_MIN = 300
"""More minutes than this are asked back rather than recorded (our choice)."""

_CORRECTS = re.compile(
    r" ?(?:[,.] )*\b(?:no(?: ,)? wait|wait(?: ,)? no|(?<=[,.] )wait(?= [,.])|^wait(?= ,)|scrap that|"
    r"scratch that|sorry(?: ,)? (?:i )?(?:mean|meant)|i (?:mean|meant)|correction|edit|"
    r"(?:no ,? )?make (?:that|it)(?= (?:\d|an?\b|half|monday|tuesday|wednesday|thursday|friday|"
    r"saturday|sunday|tomorrow|the))|(?<![a-z] )actually(?: (?:no|make it|more like|it was|that was))?|"
    r"no actually|actually no|or rather|on second thoughts?|oops|my mistake|typo|strike that|"
    r"forget that|ignore that|sorry(?= ,? ?(?:\d|monday|tuesday|wednesday|thursday|friday|saturday|"
    r"sunday|tomorrow))|(?<=\d )no(?= \d)|(?<=[,.] )no(?= ,? ?(?:\d|monday|tuesday|wednesday|thursday|"
    r"friday|saturday|sunday|tomorrow)))\b(?: ,| \.)* ?"
)
_CORRECTS_A_TRIP = re.compile(rf"{_CORRECTS.pattern}| ?, sorry ,? ?")
_WIPES = re.compile(r"\b(?:scrap|scratch|strike|forget|ignore) that\b")
_CARE = ("pain", "urgent", "unwell", "tell_coach", "question", "stop", "pause")
_OF_A_SESSION = ("outcome", "minutes", "effort", "move_to", "time")


@dataclass(frozen=True, slots=True)
class _Context:
    asked: Asked
    now: dt.datetime
    zone: str
    has_trip: bool = False

    @property
    def today(self) -> dt.date:
        return self.now.astimezone(ZoneInfo(self.zone)).date()


def understand(text: str, *, asked: Asked, now: dt.datetime, zone: str) -> Meaning:
    """What a client's words mean, given what was asked last; ``now`` is aware, ``zone`` an IANA name.

    Total and deterministic: any text has a meaning, if only that it was not understood.
    """
    words = plain_words(text)
    context = _Context(asked, now, zone)
    parts = _CORRECTS.split(words.plain)
    trip = _trip(words, context) if not wants_stop([words.plain]) else None
    context = replace(context, has_trip=trip is not None)
    meaning = replace(_read(words, parts[0], context), trip=trip)
    for correction, part in zip(_CORRECTS.finditer(words.plain), parts[1:], strict=True):
        meaning = _corrected(meaning, part, words, context, wiped=bool(_WIPES.search(correction.group())))
    if (
        asked is Asked.SESSION
        and meaning.outcome is None
        and meaning.minutes
        and minutes_stand_alone(words.plain)
    ):
        meaning = replace(meaning, outcome=Said.DONE)
    return _finished(_with_second_opinion(meaning, words, asked), words)


def _with_second_opinion(meaning: Meaning, words: Words, asked: Asked) -> Meaning:
    """An unlikely outcome is asked back, with all that hangs on it; what sounds alarming is asked about."""
    if meaning.outcome and is_unlikely(meaning.outcome, words.plain, asked):
        meaning = replace(_without(meaning, _OF_A_SESSION), effort=meaning.effort, unknown=True)
    if meaning.urgent is None and sounds_alarming(words.plain) and not dismisses_a_sign(clauses_of(words)):
        meaning = replace(meaning, urgent=Urgency.ASK)
    return meaning


def _corrected(before: Meaning, part: str, words: Words, context: _Context, *, wiped: bool) -> Meaning:
    """The last word wins; what hurts or alarms is never unsaid."""
    if not part.strip(" ,.?"):
        return replace(_only(before, _CARE), unknown=True) if wiped else before
    after = _read(words, part, replace(context, asked=_topic(before, context.asked)))
    kept = _only(before, _CARE) if wiped else before
    if len(before.days) > 1 and len(after.days) == 1 and not wiped:
        # which of the days it takes the place of, nobody can say
        return replace(_without(before, ("days",)), unknown=True)
    if after.outcome in {Said.MISSED, Said.LATER}:
        kept = _without(kept, _OF_A_SESSION)
    if after.outcome in {Said.DONE, Said.SHORT}:
        kept = _without(kept, ("outcome", "move_to", "time"))
    said = {
        field.name: getattr(after, field.name)
        for field in fields(after)
        if _is_said(getattr(after, field.name))
    }
    if (
        after.outcome is Said.DONE
        and before.outcome is Said.SHORT
        and after.minutes is not None
        and not wiped
    ):
        said["outcome"] = Said.SHORT
    unknown = after.unknown and not (said.keys() - {"unknown", "tell_coach"})
    return replace(kept, **said | {"unknown": unknown})


def _topic(before: Meaning, asked: Asked) -> Asked:
    """What a bare number in a correction corrects."""
    topics = (
        (before.sleep_h, Asked.SLEEP),
        (before.effort, Asked.EFFORT),
        (before.days or before.promise, Asked.DAYS),
    )
    said = [topic for value, topic in topics if value is not None and value != ()]
    if before.outcome or before.minutes:
        return Asked.SESSION
    return said[0] if len(said) == 1 else asked


def _read(words: Words, plain: str, context: _Context) -> Meaning:
    """One stretch of text without a correction in it."""
    clauses = clauses_of(replace(words, plain=plain))
    own = [clause.text for clause in clauses if clause.own]
    pain = read_pain(own)
    care = Meaning(
        pain=pain,
        urgent=read_red_flags(clauses, plain),
        unwell=is_unwell(own),
        stop=wants_stop(own),
        pause=pause_days(plain, context.today) if wants_stop(own) else None,
        question=is_question(clauses),
        tell_coach=is_low([clause.text for clause in clauses]),
    )
    if care.stop:
        return replace(care, question=False)
    if context.asked not in {Asked.SESSION, Asked.SLEEP} and is_courtesy(plain):
        return care
    read = _with_facts(care, clauses, context)
    if names_coach(own) or (read == care and is_for_coach(own)):
        return replace(read, tell_coach=True)
    return read


def _with_facts(care: Meaning, clauses: list[Clause], context: _Context) -> Meaning:
    """Sleep, then effort, then what is left of the numbers, each reader taking its words away from the next."""
    asked = context.asked
    told = [clause for clause in clauses if not (clause.asks and _is_plain_question(clause))]
    if context.has_trip:
        told = _without_trip(told, context)
    night = read_sleep(own_text(told), asked=asked is Asked.SLEEP)
    exertion = read_effort(night.rest, asked=asked is Asked.EFFORT)
    signs = read_signs(_left(told, night), asked=asked is Asked.SESSION)
    minutes, doubt = _minutes(exertion, signs, asked) if asked is not Asked.DAYS else (None, False)
    instead = asked is Asked.SESSION or "instead" in own_text(told)
    outcome = signs.outcome(has_minutes=minutes is not None, has_sport_instead=instead)
    if outcome is Said.LATER and asked is Asked.EFFORT and exertion.effort is not None:
        outcome = None
    if (
        outcome is Said.LATER
        and asked in {Asked.SLEEP, Asked.NOTHING}
        and not _TRAINING_MEANT.search(own_text(told))
    ):
        outcome = None
    if outcome and asked in {Asked.SLEEP, Asked.NOTHING} and not _is_about_training(own_text(told)):
        outcome = None
    if (
        (outcome is None or (outcome is Said.LATER and signs.later < 0))
        and care.unwell
        and asked in {Asked.SESSION, Asked.EFFORT}
    ):
        outcome = Said.MISSED
    if outcome is None and minutes is not None and asked is not Asked.EFFORT:
        stand_alone = asked is Asked.SESSION and minutes_stand_alone(night.rest)
        outcome = Said.DONE if stand_alone or _TRAINING_NAMED.search(own_text(told)) else None
        doubt = doubt or (outcome is None and asked is Asked.SESSION)
    week = _week(exertion.rest, outcome, context)
    if asked is Asked.DAYS and (
        outcome is Said.LATER
        or not re.search(r"\b(?:today|session|yesterday|done|trained)\b", own_text(told))
    ):
        outcome = None
    read = replace(
        care,
        outcome=outcome,
        minutes=minutes if outcome in {Said.DONE, Said.SHORT} or asked is Asked.EFFORT else None,
        effort=exertion.effort,
        sleep_h=night.hours,
        sleep_quality=night.quality,
        days=week.days,
        promise=week.promise,
        unknown=night.doubtful or exertion.doubtful or week.doubtful or doubt,
    )
    return _with_move(read, exertion.rest, context)


_TRAINING_TOLD = re.compile(
    r"\b(?:sessions?|train\w*|work(?:ed)? ?outs?|gym|exercis\w+|lift\w*|squat\w*|deadlift\w*|bench\w*|"
    r"press|push ups?|pull ups?|lunges|rows?|sets?|reps?|rounds?|kg|lbs|pb|min|hour|effort|rpe|extra|"
    r"bands|dumbbells?|kettlebells?|circuit|strength|today|yesterday|monday|tuesday|wednesday|thursday|"
    r"friday|saturday|sunday|tomorrow|it|one|mine|half|half way|weights?|skipped|missed)\b"
)


_ANSWERS = re.compile(
    r"(?:(?:yes|yay|ok|and|all|well|well and truly|now|finally|just) )*(?:done|finished|did it|completed|nailed it|smashed it|"
    r"did the (?:whole|full|entire) (?:thing|lot))(?= ,|$)"
)
"""What would be an answer to 'did you train?', whatever was asked."""


def _is_about_training(text: str) -> bool:
    """Where nobody asked, a session must be named, unless the message is as short as an answer."""
    return len(text.split()) <= 3 or bool(_TRAINING_TOLD.search(text) or _ANSWERS.match(text))


_TRAINING_NAMED = re.compile(
    r"\b(?:sessions?|(?:i|we|to|did|do) train|trained|training|work(?:ed)? ?outs?|gym|exercis\w+|lift\w*|squat\w*|effort|rpe|extra|"
    r"bands|dumbbells?|kettlebells?|sets|reps|rounds?|/10)\b"
)
_TRAINING_MEANT = re.compile(
    r"\b(?:sessions?|train\w*|work ?outs?|gym|(?:do|doing|did|done|make|squeeze|fit|get) (?:it|mine|"
    r"one|that|this|the|my|an? extra)|move|moving|switch|swap|postpone|re ?schedule|shift|push|instead|"
    r"not (?:\w+ )?yet)\b"
)


def _trip(words: Words, context: _Context) -> TripSaid | None:
    """The trip that the words tell of, read from names as they were spelled."""
    text = " ".join(map(mend_dates, words.unmended.split()))
    if context.asked is Asked.DAYS:
        text = re.split(r"\bso\b", text)[0]
    own = [_own_and_not_trained(part, words) for part in _CORRECTS_A_TRIP.split(text)]
    return read_trip(
        own, words.typed, context.today, busy=context.asked is not Asked.NOTHING, zone=context.zone
    )


def _own_and_not_trained(part: str, words: Words) -> str:
    clauses = [_of_all_if_off(clause) for clause in clauses_of(replace(words, plain=part))]
    return own_text([clause for clause in clauses if not _is_trained_there(clause)])


def _of_all_if_off(clause: Clause) -> Clause:
    """'Lisbon got called off' has no person for its subject, though it reads like one."""
    return (
        replace(clause, own=True)
        if re.search(r"\b(?:cancell?ed|called off|postponed|scrapped)\b", clause.text)
        else clause
    )


def _is_trained_there(clause: Clause) -> bool:
    signs = read_signs([clause], asked=False)
    return max(signs.done, signs.short) >= 0 and not re.search(
        r"\b(?:fly|flying|off to|going to|heading)\b", clause.text
    )


def _without_trip(clauses: list[Clause], context: _Context) -> list[Clause]:
    """The clauses that do not speak of the trip."""
    return [
        clause
        for clause in clauses
        if not about_trip(clause.text, context.today, after_so=context.asked is Asked.DAYS)
    ]


def _is_plain_question(clause: Clause) -> bool:
    return is_question([clause])


def _left(clauses: list[Clause], night: Night) -> list[Clause]:
    """The clauses that the sleep reader has not taken."""
    kept = set(night.rest.replace(" ?", "").split(" , "))
    return [clause for clause in clauses if not clause.own or not clause.real or clause.text in kept]


_NOT_TRAINED = re.compile(
    r"\b(?:in|within|another|give me|free|spare|available|late|delayed|delay|every|next|have|has|"
    r"flight|drive|travel|for the last|show|rehearsal|break|rest|wait|waited|after|nap) (?:about |"
    r"around |a |only |the |just |got |another )*$"
)
_NOT_TRAINED_AFTER = re.compile(
    r"^ ?(?:ago|late|delay|delayed|flight|drive|away|free|longer|walk|swim|to go|earlier|left|break|"
    r"from now|early|of rest|between|to spare|over|quicker|faster|commute|nap|run(?:ning)? instead|"
    r"instead|until|window|spare|now|tomorrow|later|plank)\b"
)


def _minutes(exertion: Exertion, signs: Signs, asked: Asked) -> tuple[int | None, bool]:
    """Minutes trained, and whether some number was meant that must be asked back."""
    if exertion.minutes is not None:
        return exertion.minutes, False
    text = exertion.rest
    part = re.search(r"\b(\d{1,2}) (?:min )?(?:out of|of|instead of) (?:the )?(?:planned )?\d{2}\b", text)
    if part and asked is Asked.SESSION and signs.short >= 0:
        return int(part[1]), False
    trained = {round(one.minutes) for one in lengths(text) if _is_trained(text, one.start, one.end, signs)}
    if not trained and asked is Asked.SESSION:
        trained = _bare_minutes(text)
    trained = {value for value in trained if value > 0}
    if len(trained) == 1:
        value = trained.pop()
        return (value, False) if value <= LONGEST_SESSION_MIN else (None, True)
    return None, len(trained) > 1


def _is_trained(text: str, start: int, end: int, signs: Signs) -> bool:
    before, after = text[:start], text[end:]
    if _NOT_TRAINED_AFTER.search(after):
        return False
    lead = _NOT_TRAINED.search(before)
    if not lead:
        return True
    return (
        lead.group().startswith(("in ", "after "))
        and (signs.done >= 0 or signs.short >= 0)
        and not before.rstrip().endswith("back in")
    )


_MINUTES_WITHOUT_UNIT = re.compile(
    r"\b(?:only|just|managed|after|at|took me|took|did|for|in|my|had|a quick|a short|a solid|another|"
    r"time for|got|squeezed in|fit in|fitted in|trained)(?: only| just| about| around| a quick|"
    r" a short)? ([1-9]\d)(?= ,|$| (?:instead|of \d|out of|at|before|so|then|on|today|this|yesterday|"
    r"though|after|during)\b)"
)


def _bare_minutes(text: str) -> set[int]:
    """A number that stands alone between commas, or after 'only' or 'stopped after'."""
    alone = re.findall(r"(?:^|, )(?:about |around |maybe )?(\d{2,3})(?: only)?(?= ,|$| \?)", text)
    limited = re.findall(_MINUTES_WITHOUT_UNIT, text)
    return {int(number) for number in [*alone, *limited] if int(number) > 10}


def _week(text: str, outcome: Said | None, context: _Context) -> Week:
    """Days and number of sessions, where days were asked for, or the coming week is named."""
    asked = context.asked is Asked.DAYS
    coming = (
        r"\b(?:next|per|a|coming) week\b" if outcome is Said.LATER else r"\b(?:this|next|per|a|coming) week\b"
    )
    named = re.search(coming, text) and outcome in {None, Said.LATER}
    if not asked and not named:
        return Week()
    if (
        not asked
        and re.search(r"\b(?:move|push|let it go|leave|skip|off|away|in|leave it)\b", text)
        and not re.search(r"\b\d\b", text)
    ):
        return Week()
    return read_week(text.replace(" ?", ""), context.today, asked=asked)


_NOT_THIS_WEEK = re.compile(
    r"\bnext (?:week(?! ?end)|month|monday|tuesday|wednesday|thursday|friday|saturday|sunday)\b|"
    r"\bin (?:2|a) weeks?\b"
)


def _with_move(read: Meaning, text: str, context: _Context) -> Meaning:
    """The day and time of a session that is still to come."""
    if read.days or read.promise:
        keep = read.outcome if read.outcome in {Said.DONE, Said.SHORT} else None
        times = times_of_day(text) if read.days else []
        return replace(
            read,
            outcome=keep,
            time=times[0] if len(times) == 1 else None,
            unknown=read.unknown or len(times) > 1,
        )
    if read.outcome is not Said.LATER:
        return read
    if _NOT_THIS_WEEK.search(text):
        return replace(read, outcome=None, unknown=True)
    day = day_to_move_to(text, context.today)
    undecided = day is None and bool(re.search(r"\bor\b", text)) and len(wanted_days(text, context.today)) > 1
    return replace(read, move_to=day, time=time_of_day(text), unknown=read.unknown or undecided)


def _finished(meaning: Meaning, words: Words) -> Meaning:
    """Courtesy where there is nothing else, unknown where there is nothing at all, and what the coach should see."""
    if (
        Place.CHEST not in meaning.pain
        and meaning.urgent is Urgency.ALARM
        and re.search(r"\bchest pains?\b", words.plain)
    ):
        meaning = replace(meaning, pain=(*meaning.pain, Place.CHEST))
    if not meaning.to_json():
        courteous = is_courtesy(words.plain)
        meaning = replace(meaning, thanks=courteous, unknown=not courteous)
    if meaning.pain or meaning.urgent or meaning.unwell or meaning.question or meaning.unknown:
        meaning = replace(meaning, tell_coach=True)
    return meaning


def _is_said(value: object) -> bool:
    return value not in (None, False, ())


def _only(meaning: Meaning, names: tuple[str, ...]) -> Meaning:
    return Meaning(**{name: getattr(meaning, name) for name in names})


def _without(meaning: Meaning, names: tuple[str, ...]) -> Meaning:
    return _only(meaning, tuple(field.name for field in fields(meaning) if field.name not in names))
