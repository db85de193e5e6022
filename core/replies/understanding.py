"""What one message means: every reader asked in turn, corrections obeyed, and doubt kept as doubt.

A wrong record is worse than a question: where readers disagree or see a number they cannot place, nothing is recorded of it
and the message is marked unknown, which brings it to the coach and to the client as a question.
"""

import datetime as dt
import re
from dataclasses import fields, replace

from core.replies.clauses import Clause, clauses_of, own_text
from core.replies.days import DAY
from core.replies.facts import Context, with_facts
from core.replies.ills import is_low, is_unwell
from core.replies.intents import is_courtesy, is_for_coach, is_question, names_coach, pause_days, wants_stop
from core.replies.leg_dates import OPEN
from core.replies.meaning import Asked, CalledOff, Meaning, Said, TripSaid, Urgency
from core.replies.minutes import minutes_stand_alone
from core.replies.ordinals import with_ordinals
from core.replies.outcome import read_signs
from core.replies.pain import read_pain
from core.replies.red_flags import dismisses_a_sign, read_red_flags, without_harmless
from core.replies.second_opinion import SILENCE, is_unlikely, likely_flag, sounds_alarming, sounds_like
from core.replies.spelling import mend_dates
from core.replies.trips import DATES_TO_COME, read_trip
from core.replies.wording import Words, plain_words
from core.terms import Place

_CORRECTS = re.compile(
    r" ?(?:[,.] )*\b(?:(?:no ?,? )?(?:hang on|hold on)(?= [,.]| (?:yes|no|\d|monday|tuesday|wednesday|thursday|friday|saturday|sunday))|(?:no ?,? )?(?:i )?tell a lie|no(?: ,)? wait|wait(?: ,)? no|(?<=[,.] )wait(?= [,.])|^wait(?= ,)|scrap that|"
    r"scratch that|sorry(?: ,)? (?:i )?(?:mean|meant)|i (?:mean|meant)|correction|edit|"
    r"(?:(?<!^)no ,? )?(?<!not )(?<!can )(?<!could )(?<!will )(?<!would )(?<!might )(?<!to )(?<!i )make (?:that|it)(?= (?:\d|an?\b|half|monday|tuesday|wednesday|thursday|friday|"
    r"saturday|sunday|tomorrow|the))(?! \d (?:sessions?|times|days|workouts?)\b)|(?<=[,.] )(?:write|put|log|record|note)(?: down| it (?:down )?as)?(?= \d)|(?<![a-z] )actually(?: (?:no|make it|more like|it was|that was))?|"
    r"no actually|actually no|or rather|on second thoughts?|oops|my mistake|typo|strike that|"
    r"forget that|ignore that|well ,? ?no(?= ,? ?\d)|sorry ,? ?no(?= ,? ?(?:\d|monday|tuesday|wednesday|thursday|friday|saturday|sunday|tomorrow))|(?<=[,.] )no(?= ,? ?only (?:monday|tuesday|wednesday|thursday|friday|saturday|sunday))|sorry(?= ,? ?(?:\d|monday|tuesday|wednesday|thursday|friday|saturday|"
    r"sunday|tomorrow))|(?<=\d )no(?= \d)|(?<=[,.] )no(?= [,.] \d)|(?<=[,.] )(?:no ,? ?)(?:be honest|honestly|to be honest|if i am honest|lets say|more like|call it|make it)(?= ,? ?\d)|(?<=[,.] )no(?= ,? ?(?:the |this |next |on )?(?:\d|monday|tuesday|wednesday|thursday|"
    r"friday|saturday|sunday|tomorrow)))\b(?: ,| \.)* ?"
)
_CORRECTS_A_TRIP = re.compile(rf"{_CORRECTS.pattern}| ?, sorry ,? ?")


_WIPES = re.compile(r"\b(?:scrap|scratch|strike|forget|ignore) that\b")
_NAMES_A_DAY = re.compile(rf"\b{DAY}\b")
_CARE = ("pain", "urgent", "unwell", "tell_coach", "question", "stop", "pause")


_OF_A_SESSION = ("outcome", "minutes", "effort", "move_to", "time")


def understand(text: str, *, asked: Asked, now: dt.datetime, zone: str) -> Meaning:
    """What a client's words mean, given what was asked last; ``now`` is aware, ``zone`` an IANA name.

    Total and deterministic: any text has a meaning, if only that it was not understood.
    """
    words = plain_words(text)
    context = Context(asked, now, zone)
    parts = _CORRECTS.split(words.plain)
    trip = _trip(words, context) if not wants_stop([words.plain]) else None
    whole = sounds_like(words.plain, asked) if len(parts) == 1 else SILENCE
    context = replace(context, has_trip=trip is not None, sound=whole)
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
    if isinstance(trip, CalledOff):
        meaning = replace(meaning, trip=trip)  # 'fell through, so scratch that'
    return _finished(_with_second_opinion(meaning, words, asked), words)


def _with_second_opinion(meaning: Meaning, words: Words, asked: Asked) -> Meaning:
    """An unlikely outcome is asked back, with all that hangs on it; what sounds alarming is asked about."""
    ill = meaning.unwell and meaning.outcome is Said.MISSED
    if meaning.outcome and not ill and is_unlikely(meaning.outcome, words.plain, asked):
        meaning = replace(_without(meaning, _OF_A_SESSION), effort=meaning.effort, unknown=True)
    if (
        meaning.urgent is None
        and sounds_alarming(without_harmless(words.plain))
        and not dismisses_a_sign(clauses_of(words))
    ):
        meaning = replace(meaning, urgent=Urgency.ASK)
    return meaning


def _corrected(before: Meaning, part: str, words: Words, context: Context, *, wiped: bool) -> Meaning:
    """The last word wins; what hurts or alarms is never unsaid."""
    if not part.strip(" ,.?"):
        return replace(_only(before, _CARE), unknown=True) if wiped else before
    after = _read(words, part, replace(context, asked=_topic(before, context.asked)))
    kept = _only(before, _CARE) if wiped else before
    if len(before.days) > 1 and len(after.days) == 1 and not wiped:
        # which of the days it takes the place of, nobody can say
        return replace(_without(before, ("days",)), unknown=True)
    if before.days and not after.days and _NAMES_A_DAY.search(part) and not wiped:
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


def _read(words: Words, plain: str, context: Context) -> Meaning:
    """One stretch of text without a correction in it."""
    clauses = clauses_of(replace(words, plain=plain))
    own = [clause.text for clause in clauses if clause.own]
    pain = read_pain(own)
    care = Meaning(
        pain=pain,
        urgent=read_red_flags(
            clauses, plain, after_effort=context.asked is Asked.EFFORT, share=likely_flag(words.plain)
        ),
        unwell=is_unwell(own),
        stop=wants_stop(own),
        pause=pause_days(plain, context.today) if wants_stop(own) else None,
        question=is_question(clauses),
        tell_coach=is_low([clause.text for clause in clauses]),
    )
    if care.stop:
        return replace(care, question=False, outcome=_short_answer(clauses, context))
    if context.asked not in {Asked.SESSION, Asked.SLEEP} and is_courtesy(plain):
        return care
    read = with_facts(care, clauses, context)
    if names_coach(own) or (read == care and is_for_coach(own)):
        return replace(read, tell_coach=True)
    return read


def _short_answer(clauses: list[Clause], context: Context) -> Said | None:
    """'No, and stop messaging me': the answer still counts."""
    answer = re.match(r"(?:missed it|did not|no|yes|done)(?= and\b|$)", clauses[0].text)
    return _SHORT_ANSWERS[answer.group()] if answer and context.asked is Asked.SESSION else None


_SHORT_ANSWERS = {
    "no": Said.MISSED,
    "yes": Said.DONE,
    "done": Said.DONE,
    "missed it": Said.MISSED,
    "did not": Said.MISSED,
}


def _trip(words: Words, context: Context) -> TripSaid | None:
    """The trip that the words tell of, read from names as they were spelled."""
    text = with_ordinals(_THE_ONE_IN.sub(" , ", " ".join(map(mend_dates, words.unmended.split()))))
    if context.asked is Asked.DAYS:
        text = _AS_AN_ANSWER.sub("", re.split(r"\bso\b", text)[0])
    own = [_own_and_not_trained(part, words) for part in _CORRECTS_A_TRIP.split(text)]
    return read_trip(
        own, words.typed, context.today, busy=context.asked is not Asked.NOTHING, zone=context.zone
    )


_THE_ONE_IN = re.compile(r" , the one (?:in|of|from) (?:the )?")
"""'Cordoba, the one in Spain'."""
_AS_AN_ANSWER = re.compile(rf"^(?:(?:{DAY}|and|on|or|,|the|please|for me|thanks|works?|is|fine|ok) ?)+\. ")
"""'Thu, Fri and Sat. I fly on Monday': the first are the days that were asked for."""


def _own_and_not_trained(part: str, words: Words) -> str:
    clauses = [
        _of_all_if_off(clause) for clause in clauses_of(replace(words, plain=part)) if not _asks_you(clause)
    ]
    return own_text([clause for clause in clauses if not _is_trained_there(clause)])


def _asks_you(clause: Clause) -> bool:
    """'Coach, are you in Dubai next week?' is no trip of the client's."""
    return clause.asks and bool(
        re.match(r"(?:coach |and |so )*(?:are|will|do|did|have|were) you\b", clause.text)
    )


def _of_all_if_off(clause: Clause) -> Clause:
    """'Lisbon got called off' has no person for its subject, though it reads like one."""
    return (
        replace(clause, own=True)
        if OPEN.search(clause.text)
        or DATES_TO_COME.search(clause.text)
        or re.search(
            r"\b(?:cancell?ed|called off|(?:fell|fallen) (?:through|over)|not happening|going ahead|off(?= ?(?:$|,|now))|postponed|scrapped|pulled|canned|axed|nixed|added|adding)\b|"
            r"\b(?:put|putting|send|sending|sent|fly|flying|mov\w+|book\w*|needs?|wants?|ship\w*) us\b",
            clause.text,
        )
        else clause
    )


def _is_trained_there(clause: Clause) -> bool:
    if OPEN.search(clause.text):
        return False
    signs = read_signs([clause], asked=False)
    return max(signs.done, signs.short) >= 0 and not re.search(
        r"\b(?:fly|flying|off to|going to|heading)\b", clause.text
    )


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
