"""Minutes of training, and whether minutes that stand in a message without a verb of training are minutes trained.

'45 min, effort 7' is an answer to 'did you train?'; 'the ferry took 90 minutes' is not. Beside minutes that count, a clause may
only hold words that cannot change what they are minutes of: those in ``data/beside_minutes.txt``.
"""

import re

from core.replies.durations import DURATION, lengths
from core.replies.effort import Exertion
from core.replies.meaning import Asked
from core.replies.outcome import Signs
from core.replies.word_lists import words_of

LONGEST_SESSION_MIN = 300
"""More minutes than this are asked back rather than recorded (our choice)."""
_NOT_TRAINED = re.compile(
    r"\b(?:in|within|another|give me|free|spare|available|late|delayed|delay|every|next|have|has|"
    r"flight|drive|travel|for the last|since|floor|dizzy|outside|bench|show|rehearsal|break|rest|wait|waited|after|nap) (?:about |"
    r"around |a |only |the |just |got |another )*$"
)
_NOT_TRAINED_AFTER = re.compile(
    r"^ ?(?:ago|call|notice|of haze|rest|between sets|after(?= ?(?:,|$))|late|delay|delayed|flight|drive|away|free|longer|walk|swim|to go|earlier|left|break|"
    r"from now|early|of rest|to spare|over|on top|more|extra|quicker|faster|commute|nap|run(?:ning)? instead|"
    r"instead|until|window|spare|now|tomorrow|later|plank)\b"
)


def read_minutes(exertion: Exertion, signs: Signs, asked: Asked) -> tuple[int | None, bool]:
    """Minutes trained, and whether some number was meant that must be asked back."""
    if exertion.minutes is not None:
        return exertion.minutes, False
    text = exertion.rest
    planned = _PLANNED.search(text)
    if planned and asked is Asked.SESSION:
        return _against_the_plan(text, planned)
    part = re.search(
        r"\b(\d{1,2}) (?:min )?(?:out of|of|instead of) (?:the )?(?:planned )?\d{2}\b(?: min)?", text
    )
    if part and re.search(r"\d min\b", text[: part.start()] + text[part.end() :]):
        part = None  # '14 out of 50 in maths , I only managed 20 min'
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


_PLANNED = re.compile(
    r"\b(?:planned|plan was|plan said|supposed to be|meant to be|meant to do|should have been|target was|target|down for)(?: (?:for|to do|about|was|a))* (\d{2,3})\b(?: min)?|"
    r"\b(\d{2,3})(?: min)? (?:planned|was the plan|were planned|on the plan|was planned)\b"
)


def _against_the_plan(text: str, planned: re.Match[str]) -> tuple[int | None, bool]:
    """'Planned 45, did 30': what was done, where one other number stands beside the plan's."""
    left = text[: planned.start()] + " " + text[planned.end() :]
    others = {int(one) for one in re.findall(r"(?<![\d.:/])([1-9]\d{1,2})(?![\d.:/])", left)}
    return (others.pop(), False) if len(others) == 1 else (None, bool(others))


_EACH = re.compile(
    r"(?<![\d.:/])(\d{2,3}) min (?:each|a session|per session|a time|a pop|apiece|every time|a go)\b"
)


def minutes_each(text: str) -> int | None:
    """'Two sessions, 30 minutes each': how long those to come are to be."""
    found = set(_EACH.findall(text))
    return int(found.pop()) if len(found) == 1 else None


def falls_short_of_plan(text: str, minutes: int) -> bool:
    planned = _PLANNED.search(text)
    return bool(planned) and minutes < int(planned[1] or planned[2])  # type: ignore[index]


def _is_trained(text: str, start: int, end: int, signs: Signs) -> bool:
    before, after = text[:start], text[end:]
    told = max(signs.done, signs.short) >= 0 or _TOLD.search(before)
    if re.match(r" ?between\b", after) and not told:
        return False
    if _NOT_TRAINED_AFTER.search(after) or _is_asked_for(before.rsplit(" , ", 1)[-1], after):
        return False
    clause = before.rsplit(" , ", 1)[-1]
    if _OF_ELSE.search(clause) and not _OF_TRAINING.search(clause):
        return False
    lead = _NOT_TRAINED.search(before)
    if not lead:
        return True
    return (
        lead.group().startswith(("in ", "after "))
        and (signs.done >= 0 or signs.short >= 0)
        and not before.rstrip().endswith("back in")
    )


_OF_ELSE = re.compile(
    r"\b(?:stood|standing|stuck|wait\w*|queue\w*|sat|sitting|lay|lying|heart|pulse|face|numb\w*|dizz\w*|rac(?:ed|ing)|kept(?! (?:it|going|at it|on|up))|keeps|alarm|phone|call|meeting|drove|driving|drive|flew|"
    r"airport|customs|security|bus|train to|coach was|ferry|traffic|shift|watch|nap|slept|asleep|bed|shower|bath|cook\w*|late)\b"
)
_OF_TRAINING = re.compile(
    r"\b(?:did|done|trained|train|training|session|work ?out|gym|managed|finished|got through|squeezed|fitted|circuit|sets|rounds|bands|squats|lifted|made it|put in|all)\b"
)
"""'Stood in a car park an hour', 'my heart kept racing for an hour': time that was not trained."""
_ASKS_FOR = re.compile(
    r"\b(?:(?:send|give|find|get|make) (?:me|us)|(?:need|needing|want|wanting|wanna|look for|looking for|fancy|hoping for|do with|would (?:love|like)|"
    r"(?:can|could|may) (?:i|we|you)|is there|are there|(?:do|have) you|(?:got|have) (?:something|anything|one)|something|anything))\b"
)
_TOLD = re.compile(
    r"\b(?:did|done|trained|managed|finished|got through|squeezed|fitted|went|was|were|made it)\b"
)


def _is_asked_for(before: str, after: str) -> bool:
    """'A session of 25 min please', 'I need something for 15 min': minutes that are wished for."""
    if _TOLD.search(before):
        return False
    return bool(
        _ASKS_FOR.search(before) or re.match(r"(?: (?:\w+ ){0,3})please\b", after.split(" , ", maxsplit=1)[0])
    )


_MINUTES_WITHOUT_UNIT = re.compile(
    r"\b(?:only|just|managed|after|at|took me|took|did|for|in|my|had|a quick|a short|a solid|another|"
    r"time for|got|squeezed in|fit in|fitted in|trained|done|finished|(?:call|cut) it(?: to)?|put in|banked)(?: only| just| about| around| a quick|"
    r" a short)? ([1-9]\d)(?= ,|$| (?:instead|of \d|out of|at|before|so|then|on|today|this|yesterday|"
    r"though|after|during|but|in (?:the (?:bank|bag)|before|between)|and (?=then|my|the|i))\b)"
)


def _bare_minutes(text: str) -> set[int]:
    """A number that stands alone between commas, or after 'only' or 'stopped after'."""
    alone = re.findall(
        r"(?:^|, )(?:about |around |maybe )?(\d{2,3})(?: only| in the (?:bank|bag|can))?(?= ,|$| \?)", text
    )
    if not re.match(r"(?:about |around |maybe )?\d{2,3}\b", text):
        alone = [number for number in alone if int(number) % 5 == 0]  # 'Ragnhild , 71 , from the box office'
    limited = re.findall(_MINUTES_WITHOUT_UNIT, text)
    return {int(number) for number in [*alone, *limited] if int(number) > 10}


_CLAUSE = re.compile(r" , | and (?=slept\b|effort\b|my\b)")
_WORD = re.compile(r"(?<![\w:])[a-z]{2,}(?![\w:])")


def minutes_stand_alone(text: str) -> bool:
    """Whether every clause with a length of time in it is free of anything else that could have taken it.

    >>> minutes_stand_alone("a solid 45 min , my knee is ok"), minutes_stand_alone("the ferry took 90 min")
    (True, False)
    """
    timed = [clause for clause in _CLAUSE.split(text) if DURATION.search(clause)]
    return all(map(_is_bare, timed))


def _is_bare(clause: str) -> bool:
    return set(_WORD.findall(DURATION.sub(" ", clause))) <= words_of("beside_minutes.txt")
