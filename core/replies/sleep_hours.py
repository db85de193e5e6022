"""How long a night was: from lengths, bare numbers, and the times between which somebody slept."""

import re

from core.replies.clock import TIME, minutes_of
from core.replies.durations import lengths

LONGEST_NIGHT_H = 16.0
"""More than this is asked back rather than recorded (our choice)."""
_SPAN = re.compile(
    rf"(?<![\d.:/])(?P<cue>from |between )?(?P<a>{TIME}) (?P<how>-|to|until|and) (?:about |"
    rf"around )?(?P<b>{TIME})(?![\d:/]|\.\d)(?! (?:hour|min)\b)"
)
_BED_TO_UP = re.compile(
    rf"\b(?:bed|asleep|down|off|lights out|sleep|slept|crashed|dropped off|"
    rf"head down|out(?: cold)?(?= (?:by|at)))\b[^?]{{0,25}}?(?<![\d.:/])(?P<a>{TIME})(?![\d:/])[^?]{{0,30}}?\b(?:up|woken?|awake|"
    rf"alarm|until|rise|rose|out of bed|wake)\b[^?\d]{{0,20}}?(?P<b>[tc]?{TIME})(?![\d:/])"
)
_EITHER = re.compile(r"(?<![\d.:/])(\d{1,2}(?:\.\d+)?) (?:-|to|or|and) (\d{1,2}(?:\.\d+)?)(?![\d:/.])")
_HOURS_COLON = re.compile(r"(?<![\dtc.:/])(\d{1,2}):([0-5]\d)(?![\d:])")
_BARE = re.compile(
    r"(?<![\w.:/-])(\d{1,2}(?:\.\d{1,2})?)(?![\d:/%.\w])(?! ?(?:min|km|kg|reps|sets|x|times?|am|pm)\b)"
    r"(?= ?(?:$|[,.?;/+-]|(?:hour|hours|a|an|btw|like|uninterrupted|according|\w+ hour|and|but|or|to|then|so|because|though|if|as|ish|maybe|perhaps|probably|or so|tops|max|most|best|at|in|on|with|without|from|for|before|after|total|altogether|solid|"
    r"straight|good|decent|great|bad|broken|rough|ok|fine|again|last|tonight|thanks|thank|please|not|no|yes|i|we|my|the|that|this|it|is|was|it was|today|sleep|slept|asleep|hard|lovely|proper|"
    r"interrupted|unbroken|odd|something|point|coach|haha|lol|sorry|woke|up|due|thx|felt|feel|feeling|still|just|only|which|when|while|despite|thankfully|luckily|sadly|actually|honestly|give|plus|minus|less|more|need|cos|since|"
    r"until|till|by|per|all|over|around|about|roughly|night|nights|now|too|later|though|finally|instead|yesterday|nothing|easily|apparently|between|on and off|of (?:sleep|those|them|it|broken|good|decent|proper|rough|bad|solid))\b))"
)
_COUNTED_OFF = re.compile(
    r"\b(?:bunk|room|cabin|row|station|gate|deck|floor|act|platform|number|berth|bus|route|seat|level|zone|hall|studio|scene|cue|take|track|age|aged|chapter|episode|part) $"
)
_NEGATIVE = re.compile(r"\bminus \d")
_PREFERRED = re.compile(
    r"\b(?:slept|got|managed|actual(?:ly)?|only|just|sleep of|more like|maybe)(?: (?:about|around|only|"
    r"for|maybe|perhaps|a|slept|got|like|(?:from|of|out of) (?:that|those|it|them)))* $"
)
NONE_AT_ALL = re.compile(
    r"\b(?:did not|could not|have not) (?:get any )?(?:sleep|slept)(?: at all| a wink| one bit)\b|"
    r"\bno sleep(?: at all)?$|\b0 sleep\b|\b(?:not|did not sleep) a wink\b"
)
_SUMMED = re.compile(
    r"\bawake (?:for )?(?:about )?(?:an?|half an|\d+(?:\.\d+)?) (?:hour|min)|\bnaps?\b|\bback (?:in|to bed|down|to sleep)\b.*\b[tc]?\d|\bnap\b|\banother \d|\d \+ |(?<![\d.])\d ?x ?\d|(?<![\d.])\d times (?:of )?\d|\+ (?:an? )?\d|^\d and \d hour$|\d hour (?:in|on) (?:the |a |my )?\w+\b.*\b\d+ (?:hour )?(?:in|on) (?:the|a|my)\b|\d (?:out of|of) (?:10|5|100)\b|\b(?:watch|shift|duty|call|rehearsal|show) (?:was )?(?:from )?\d\d? (?:to|-|until) \d|\bplus \d|"
    r"\d hour\b.*\band \d+(?:\.\d+)? (?:hour )?(?:at|in|on|more)\b"
)
_TOTAL = re.compile(
    r"(?<![\d.:/])(\d{1,2}(?:\.\d+)?)(?: hour)? (?:all in|in total|altogether|total|all told|overall)\b|"
    r"\b(?:total|all told|(?:al)?together|in total|all in)(?: of| was| it was| about| maybe|,)* (\d{1,2}(?:\.\d+)?)(?: hour)?(?= ?(?:$|,))"
)
"""'4 hours, then 2 more on the bus, so 6 all in'."""
EVERY_FEW_HOURS = re.compile(r"\bevery (?:\d+|couple of|few|other) (?:hour|min)\b")
_TWO_NIGHTS = re.compile(r"\d hour (?:and|or) (?:about |maybe |then )?\d+(?:\.\d+)? hour\b")
_ASLEEP = re.compile(
    r"(?<![\d.:])(\d{1,2}(?:\.\d+)?) (?:hour )?(?:of )?(?:(?:them|those|that|it|which) )?(?:asleep|sleep)\b"
)
_FURTHER = re.compile(
    r"(?<![\w.:/-])([1-9]|1[0-2])(?:\.5)?(?![\d:/%.\w])(?! (?:min|times?|nights?|of|people|km|kg|reps|sets|days?|am|pm|to|-|or|out|pillows?|cups?|coffees?|beers?|mates?|shows?|weeks?|months?|o'clock|in the|,? ?so)\b)"
)
_LAY_AWAKE = re.compile(
    r"\b(?:awake|up|watch|shift|duty|rehears\w+|on deck) (?:from |between |was |is )?[tc]?\d"
)
"""'Lay awake from 3 to 5', 'on shift midnight to noon'."""
_OPEN_ENDED = re.compile(
    r"\b(?:less|more|fewer|under|over) than \d|\bnot even (?:an? |\d)|\b(?:\d quarters?|half|a third) of (?:what|the usual|my usual|normal)\b"
)


def hours_told(text: str, *, asked: bool) -> tuple[float | None, bool]:
    """(hours, whether hours were meant that must be asked back)."""
    if (NONE_AT_ALL.search(text) and not any(lengths(text))) or (
        asked and re.fullmatch(r"\W*(?:none|0|nothing|0 hour|nil)\W*", text)
    ):
        return 0.0, False
    total = _TOTAL.search(text)
    if total:
        return _plausible(float(total[1] or total[2]))
    if _NEGATIVE.search(text) or _SUMMED.search(text) or _OPEN_ENDED.search(text):
        return None, True
    for reader in (_from_bed_to_up, _from_to, _said_length, _colon_hours):
        hours = reader(text)
        if hours is not None:
            if reader is _from_to and _LAY_AWAKE.search(text):
                return None, True
            return (None, True) if reader is _said_length and _tells_more(text) else _plausible(hours)
    return (
        _bare(text)
        if asked or re.search(r"\bslept\b|\bsleep \d|\d sleep\b|\basleep\b", text)
        else (None, False)
    )


def _tells_more(text: str) -> bool:
    """Whether another number stands beside a length, that may as well be hours: '8 hours in bed but slept perhaps 5'."""
    if len(list(lengths(text))) != 1 or _PREFERRED.search(text[: next(iter(lengths(text))).start]):
        return False
    if any(_PREFERRED.search(text[: bare.start()]) for bare in _BARE.finditer(text)):
        return False
    one = next(iter(lengths(text)))
    left = f"{text[: one.start]} ; {text[one.end :]}"
    left = re.sub(
        r"\b(?:at|by|until|since|from|to|woke(?: me)?(?: up)?|up|around|before|after|past|alarm|til|till|deck|cabin|room|bunk|gate|act|round|number|day|week|cue|bus|not|than) (?:about |around |at )?[tc]?\d{1,2}(?:[:.]\d+)?",
        " ",
        left,
    )
    return bool(_FURTHER.search(left)) and not _ASLEEP.search(text)


def _plausible(hours: float) -> tuple[float | None, bool]:
    return (round(hours, 2), False) if 0 <= hours <= LONGEST_NIGHT_H else (None, True)


def _from_bed_to_up(text: str) -> float | None:
    asleep = re.search(r"\b(?:asleep|dropped off|nodded off)\b", text)
    found = (asleep and _BED_TO_UP.search(text, asleep.start())) or _BED_TO_UP.search(text)
    return _slept_between(found["a"], found["b"]) if found else None


def _from_to(text: str) -> float | None:
    """'23:00 - 6:15' and '11 to 7' are times; '5 - 6' is a range of hours, its middle meant."""
    found = _SPAN.search(text)
    if not found:
        return None
    first, last, how = found["a"], found["b"], found["how"]
    plain = bool(re.fullmatch(r"\d{1,2}(?:\.5)?", first) and re.fullmatch(r"\d{1,2}(?:\.5)?", last))
    if (
        plain
        and (how == "and" or 0 < float(last) - float(first) <= 2)
        and how != "until"
        and found["cue"] != "from "
    ):
        return (float(first) + float(last)) / 2
    if how == "and" and not found["cue"]:
        return None
    return _slept_between(first, last)


def _slept_between(start: str, end: str) -> float | None:
    """Hours from one time to another, the likeliest night: to bed between 19:00 and 06:00 where the clock leaves it open."""
    begun, ended = minutes_of(start), minutes_of(end)
    if not (begun and ended):
        return None
    starts = [begun[0] % 720, begun[0] % 720 + 720] if begun[1] else [begun[0]]
    ends = [ended[0] % 720, ended[0] % 720 + 720] if ended[1] else [ended[0]]
    nights = [((e - s) % 1440, s) for s in starts for e in ends]
    usual = [length for length, s in nights if (s >= 1140 or s < 360) and 60 <= length <= 840]
    return min(usual, default=min(length for length, _ in nights)) / 60


def _said_length(text: str) -> float | None:
    found = list(lengths(text))
    if not found:
        return None
    preferred = [one for one in found if _PREFERRED.search(text[: one.start])]
    chosen = preferred or found
    if len({one.minutes for one in chosen}) > 1 or _TWO_NIGHTS.search(text):
        return -1.0
    in_bed = len(found) == 1 and re.search(r"\bin bed\b", text)
    asleep = _ASLEEP.search(text)
    if in_bed and asleep:
        return float(asleep[1])
    bare = [value for value in _BARE.finditer(text) if _PREFERRED.search(text[: value.start()])]
    return float(bare[-1][1]) if in_bed and bare else chosen[-1].minutes / 60


def _colon_hours(text: str) -> float | None:
    found = _HOURS_COLON.search(text)
    if not found or re.search(r"\b(?:at|until|by|woke|up)\b[^,]{0,10}$", text[: found.start()]):
        return None
    return int(found[1]) + int(found[2]) / 60


def _bare(text: str) -> tuple[float | None, bool]:
    either = _EITHER.search(text)
    if either:
        return _plausible((float(either[1]) + float(either[2])) / 2)
    loose = re.sub(
        r"\b(?:not|at|by|until|since|from|woke up|up at|dropped off|nodded off|went off|drifted off|asleep) (?:about |around )?\d{1,2}(?:\.\d+)?\b",
        "",
        text,
    )
    numbers = {
        float(found[1]) for found in _BARE.finditer(loose) if not _COUNTED_OFF.search(loose[: found.start()])
    }
    if len(numbers) == 1:
        return _plausible(numbers.pop())
    hinted = bool(numbers) or re.search(r"\b[tc]\d|\d/\d|\d{3}", text) is not None
    return None, hinted
