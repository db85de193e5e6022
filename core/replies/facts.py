"""The facts in one stretch of text: sleep, then effort, then what is left of the numbers, each reader taking its words away."""

import datetime as dt
import re
from dataclasses import dataclass, replace
from zoneinfo import ZoneInfo

from core.replies.clauses import Clause, own_text
from core.replies.clock import time_of_day, times_of_day
from core.replies.days import DAY, Week, adds_days, day_to_move_to, read_week, wanted_days, what_it_comes_to
from core.replies.effort import Exertion, read_effort
from core.replies.intents import is_question, reads_as_question
from core.replies.meaning import Asked, Meaning, Said
from core.replies.minutes import falls_short_of_plan, minutes_each, minutes_stand_alone, read_minutes
from core.replies.outcome import Signs, read_signs
from core.replies.second_opinion import SILENCE, Sound
from core.replies.sleep import SHORTEST_NIGHT_H, Night, read_sleep
from core.replies.trips import about_trip


@dataclass(frozen=True, slots=True)
class Context:
    asked: Asked
    now: dt.datetime
    zone: str
    has_trip: bool = False
    sound: Sound = SILENCE
    """What the whole message sounds like, where it does not correct itself."""

    @property
    def today(self) -> dt.date:
        return self.now.astimezone(ZoneInfo(self.zone)).date()


def with_facts(care: Meaning, clauses: list[Clause], context: Context) -> Meaning:
    """Sleep, then effort, then what is left of the numbers, each reader taking its words away from the next."""
    asked = context.asked
    told = [clause for clause in clauses if not (reads_as_question(clause) and _is_plain_question(clause))]
    if context.has_trip:
        told = _without_trip(told, context)
    night = read_sleep(own_text(told), asked=asked is Asked.SLEEP)
    if asked is not Asked.SLEEP and night.hours and night.hours < SHORTEST_NIGHT_H:
        night = replace(night, hours=None)
    exertion = read_effort(night.rest, asked=asked is Asked.EFFORT)
    signs = read_signs(_left(told, night), asked=asked is Asked.SESSION)
    minutes, doubt = read_minutes(exertion, signs, asked) if asked is not Asked.DAYS else (None, False)
    if minutes is not None and falls_short_of_plan(exertion.rest, minutes):
        signs = replace(signs, short=max(signs.short, 0))
    outcome = _outcome(signs, exertion, told, care, asked, has_minutes=minutes is not None)
    is_told = asked is Asked.SESSION or (asked is Asked.NOTHING and context.sound.is_certain)
    if is_told and not (exertion.doubtful or care.question or care.unwell):
        outcome = _as_it_sounds(outcome, signs, context.sound, has_minutes=minutes is not None)
    if outcome is None and minutes is not None and asked is not Asked.EFFORT and not signs.contradicted:
        stand_alone = asked is Asked.SESSION and minutes_stand_alone(night.rest)
        named = _TRAINING_NAMED.search(own_text(told)) and not _NOT_YET_TOLD.search(own_text(told))
        outcome = Said.DONE if stand_alone or named else None
        doubt = doubt or (outcome is None and asked is Asked.SESSION)
    if outcome in {Said.MISSED, Said.LATER}:
        doubt = False  # '12 hours on the winch' are why, and no minutes
    if outcome is Said.MISSED and exertion.effort == 0:
        exertion = replace(exertion, effort=None)
    week = _week_told(told, exertion.rest, outcome, context)
    if outcome is None and signs.yes and signs.done == 0 and week.is_told:
        outcome = Said.DONE  # 'yes, and Monday and Thursday next week': the days are no plan for today's
    if asked is Asked.DAYS and (
        outcome is Said.LATER
        or not re.search(r"\b(?:today|session|yesterday|done|trained)\b", own_text(told))
    ):
        outcome = None
    each = minutes_each(night.rest) if week.is_told else None
    read = replace(
        care,
        outcome=outcome,
        minutes=minutes if outcome in {Said.DONE, Said.SHORT} or _is_the_answer(exertion, asked) else each,
        effort=exertion.effort,
        sleep_h=night.hours,
        sleep_quality=night.quality,
        days=week.days,
        promise=week.promise,
        unknown=night.doubtful or exertion.doubtful or week.doubtful or doubt,
    )
    return _with_move(read, exertion.rest, context)


def _as_it_sounds(outcome: Said | None, signs: Signs, sound: Sound, *, has_minutes: bool) -> Said | None:
    """What the whole message sounds like, where no rule knows its words, or where that is certain."""
    against = signs.is_contradictory or (signs.contradicted and sound.outcome is Said.DONE)
    against = against or (has_minutes and sound.outcome in {Said.MISSED, Said.LATER})
    if against or sound.outcome is None:
        return outcome
    return sound.outcome if sound.outweighs or (outcome is None and sound.is_sure) else outcome


def _outcome(
    signs: Signs, exertion: Exertion, told: list[Clause], care: Meaning, asked: Asked, *, has_minutes: bool
) -> Said | None:
    """What became of the session by its signs, given what was asked; illness alone is an answer too."""
    instead = asked is Asked.SESSION or "instead" in own_text(told)
    outcome = signs.outcome(has_minutes=has_minutes, has_sport_instead=instead)
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
    is_open = (outcome is None or (outcome is Said.LATER and signs.later < 0)) and exertion.effort is None
    ill = is_open and care.unwell and not care.question and asked in {Asked.SESSION, Asked.EFFORT}
    return Said.MISSED if ill else outcome


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
_NOT_YET_TOLD = re.compile(
    r"\b(?:can|could|will|would|should|may|might|next|want|plan|need|per|each|if|tomorrow|going to)\b"
)
_TRAINING_MEANT = re.compile(
    r"\b(?:sessions?|train\w*|work ?outs?|gym|(?:do|doing|did|done|make|squeeze|fit|get) (?:it|mine|"
    r"one|that|this|the|my|an? extra)|move|moving|switch|swap|postpone|re ?schedule|shift|push|instead|"
    r"not (?:\w+ )?yet)\b"
)


def _without_trip(clauses: list[Clause], context: Context) -> list[Clause]:
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
    kept = set(night.rest.replace(" ?", "").split(" , ")) - {""}
    left = list[Clause]()
    for clause in clauses:
        parts = [
            part for part in kept if f" {part} " in f" {clause.text} "
        ]  # of '7 and trained already' the second half
        if not clause.own or not clause.real or clause.text in kept:
            left.append(clause)
        elif parts:
            left.append(replace(clause, text=max(parts, key=len)))
    return left


def _is_the_answer(exertion: Exertion, asked: Asked) -> bool:
    """Whether minutes answer how hard it was: '4, with 3 minutes of rest' tells of others."""
    return asked is Asked.EFFORT and (exertion.effort is None or minutes_stand_alone(exertion.rest))


def _week_told(told: list[Clause], text: str, outcome: Said | None, context: Context) -> Week:
    """The days and the number of the coming week: the days as a 'so' sums them up, if one does."""
    reasons = {clause.text for clause in told if clause.reasons and context.asked is Asked.DAYS}
    for reason in sorted(reasons, key=len, reverse=True):
        text = text.replace(re.split(rf" and (?={DAY})", reason)[0], " ")
    week = _week(text, outcome, context)
    concluded = _week(_conclusion(told, text), outcome, context)
    return replace(concluded, promise=concluded.promise or week.promise) if concluded.days else week


def _week(text: str, outcome: Said | None, context: Context) -> Week:
    """Days and number of sessions, where days were asked for, or the coming week is named."""
    asked = context.asked is Asked.DAYS
    if not asked and outcome in {Said.DONE, Said.SHORT, Said.MISSED}:
        text = _from_next_week_on(text)
    coming = r"next|per|(?<!for )a|coming" if outcome else r"this|next|per|(?<!for )a|coming"
    if not asked and not re.search(rf"\b(?:{coming}) week\b", text):
        return Week()
    if (
        not asked
        and re.search(r"\b(?:move|push|instead|let it go|leave|skip|off|away|in|leave it)\b", text)
        and not re.search(r"\b\d\b", text)
    ):
        return Week()
    return read_week(text.replace(" ?", ""), context.today, asked=asked)


def _conclusion(told: list[Clause], text: str) -> str:
    """'We drive Monday, so Wednesday and Friday': what a 'so' leads up to, where it names a day."""
    so = [
        clause.text
        for clause in told
        if clause.own and clause.concludes and wanted_days(clause.text, dt.date.min)
    ]
    at = text.rfind(so[-1]) if so else -1
    return text[at:] if at >= 0 and not adds_days(text[at:]) else text


def _from_next_week_on(text: str) -> str:
    """What is said of the coming week, beside the word on the session that was asked about."""
    clauses = text.split(" , ")
    named = (n for n, clause in enumerate(clauses) if re.search(r"\b(?:next|coming) week\b", clause))
    return " , ".join(clauses[next(named, len(clauses)) :])


_ONE_OF_TWO = re.compile(
    rf"\b(?:{DAY}|tonight|today|tomorrow|this evening)\b(?: \S+){{0,3}} or (?:\S+ ){{0,3}}(?:{DAY}|tonight|today|tomorrow|this evening)\b"
)
"""'Tonight or tomorrow': which, is to be asked."""
_NOT_THIS_WEEK = re.compile(
    r"\bnext (?:week(?! ?end)|month|monday|tuesday|wednesday|thursday|friday|saturday|sunday)\b|"
    r"\bin (?:2|a) weeks?\b"
)


def _with_move(read: Meaning, text: str, context: Context) -> Meaning:
    """The day and time of a session that is still to come."""
    if read.days or read.promise:
        keep = read.outcome if read.outcome is not Said.LATER else None
        times = times_of_day(what_it_comes_to(text)) if read.days else []
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
    if _ONE_OF_TWO.search(text):
        return replace(read, unknown=True)
    day = day_to_move_to(text, context.today)
    undecided = day is None and bool(re.search(r"\bor\b", text)) and len(wanted_days(text, context.today)) > 1
    return replace(read, move_to=day, time=time_of_day(text), unknown=read.unknown or undecided)
