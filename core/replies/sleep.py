"""Hours and quality of the night's sleep, from durations, bare numbers and from-to times."""

import re
from dataclasses import dataclass

from core.replies.clock import TIME, minutes_of
from core.replies.durations import lengths
from core.replies.meaning import SleepQuality

LONGEST_NIGHT_H = 16.0
"""More than this is asked back rather than recorded (our choice)."""
SHORTEST_NIGHT_H = 2.0
"""Less than this, told where nobody asked, was a nap (our choice)."""

_ABOUT_SLEEP = re.compile(
    r"\b(?:slept|sleep|asleep|sleeping|kip|shut ?eye|in bed|to bed|bed at|night s? ?rest|zzz|(?:bad|rough|rotten|terrible|awful|horrible|horrid|rubbish|broken|restless|sleepless) night)\b(?! (?:for|at) (?:the|ticket|box|takings))"
)
_ABOUT_TRAINING = re.compile(
    r"\b(?:session|trained|training|effort|rpe|gym|did (?:it|the|my)|squats?|reps|sets|walked|ran|done|"
    r"finished|skipped|missed it)\b"
)
_OF_EFFORT = re.compile(
    r"\d (?:out of|of) 10\b|\d ?/ ?10\b|^\d{1,2} (?:and )?(?:very |really |pretty |quite )?(?:hard|tough|brutal|heavy)$"
)
"""'7 hard' is no length of sleep."""
_OF_ELSE = re.compile(
    r"(?:and |but )?(?:my |the |our )?(?:knees?|back|legs?|shoulders?|neck|hips?|ankles?|elbows?|wrists?|feet|foot|arms?|head|body|show|flight|food|breakfast|coffee|weather|crossing|sea|mattress|pillow|gym|tech|rehearsal) "
    r"(?:is |are |was |were |feels? |felt )?(?:\w+ )?(?:ok|fine|good|great|bad|better|sore|stiff|rough|awful|lovely|calm|amazing|terrible)$"
)
"""'Knee ok', 'show was great': no word about the night."""
_FELT = re.compile(r"(?:and )?(?:it )?(?:felt|feeling|feel|was) (?!rested|refreshed|asleep|awake|sleepy)")
"""'All done, felt good' is said of the session."""
_NOT_THIS_NIGHT = re.compile(
    r"\b(?:slept (?:through|in|past)|overslept|fell asleep(?! (?:at|around|about|by|before midnight))|"
    r"(?:hope|hoping|plan|try|trying|aim|aiming) to sleep|sleep tonight|will sleep|going to sleep|"
    r"want to sleep|need to sleep|could sleep|normally|usually|last week|tomorrow)\b"
)
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
_NONE = re.compile(
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
_VERY = r"(?:very |really |pretty |so |quite |super |rather |fairly |surprisingly |actually |bit |a |an )*"
_BAD = re.compile(
    rf"\bnot (?:an? |the |so |very |that |really |too |particularly |all that |especially )?(?:good|great|well|"
    rf"brilliant|enough|the best|my best|ideal|amazing)\b"
    r"|\bdid not (?:sleep|rest) (?:so |very |that |really |too |particularly )?(?:well|good|great|much|"
    r"enough)\b"
    rf"|\b{_VERY}(?:bad|badly|rough|roughly(?! \d)|terrible|terribly|awful|awfully|poor(?! (?:thing|lad|lass|guy|girl|boy|kid|man|woman|sod|old|chap|mite|devil)s?)|poorly|crap|"
    rf"crappy|shit|shite|shitty|rubbish|horrible|"
    r"horribly|dreadful|rotten|garbage|trash|lousy|restless|restlessly|broken|disturbed|disrupted|interrupted|fitful|patchy|"
    r"pants|grim|ropey|ropy|dire|woeful|naff|gash|minging|shocking|wretched|atrocious|abysmal|iffy|horrendous|miserable|worst)\b|\btoss\w* and turn\w*|\b(?:hardly|barely|"
    r"scarcely) (?:slept|any|a wink|sleep)\b|\b(?:up|awake|woke(?: up)?|waking) every\b|\bkept? (?:on )?waking\b|\bwoke (?:up )?(?:a lot|"
    r"all the time|every|constantly|loads|so many)\b|\binsomnia\b|\bcould not (?:get to |"
    r"fall )?(?:sleep|asleep)\b|\bno sleep\b|\bwoke (?:up )?(?:like |about |maybe )?[3-9] times\b|\bwhat sleep\b|\bsleep\? what\b|\bup (?:half|most of) the night\b|\bawake (?:half|most|"
    r"all)\b|\bdid not sleep (?:at all|a wink)\b|\bnightmares?\b"
)
_OK = re.compile(
    r"\b(?:not (?:too |so |that |half )?(?:bad|badly|terrible|awful)|did not sleep (?:too )?bad(?:ly)?|not (?:too |so )?shabby|not half bad|"
    r"so so|meh|average|alright|all right|fine|ok|okayish|decent|could (?:be|have been) (?:better|"
    r"worse)|acceptable|middling|mediocre|(?<!not )fair|passable|normal|medium|nothing special)\b"
)
_GOOD = re.compile(
    r"\b(?:good|great|well|greatly|fantastic|excellent|amazing|amazingly|brilliant|brilliantly|superb|"
    r"superbly|wonderfully|nicely|fantastically|excellently|perfect|perfectly|deep|deeply|lovely|"
    r"wonderful|soundly|refreshed|solid(?! \d)|solidly|awesome|(?<!at )(?<!not the )best|like (?:a |an )?(?:log|brick|stone|baby(?! ,? ?(?:scream|cr[yi]|wak|woke|up))|rock|stone|king|"
    r"queen|dream|champ)|like the dead|out like a light|proper|glorious|glorious\w+|heavenly|blissful\w*|dreamy|did not wake(?: up)?(?: even)?(?: once| at all)|never woke)\b"
)


@dataclass(frozen=True, slots=True)
class Night:
    """What was said of a night; ``doubtful`` where hours were meant that cannot be trusted; ``rest`` is the text without them."""

    hours: float | None = None
    quality: SleepQuality | None = None
    doubtful: bool = False
    rest: str = ""


_ONLY_A_LENGTH = re.compile(
    r"^(?:about |only |maybe |around |just |solid |a solid )*(?:\d{1,2}(?:\.\d+)? hour|\d{1,2}h\d\d|"
    r"\d{1,2}(?:\.\d+)?)(?: (?:maybe|or so|tops|max|at (?:most|best)|if that|ish|perhaps|probably|i think|total))?$"
)
_A_NUMBER = re.compile(r"(?:about |maybe |a )*\d{1,2}(?:\.\d)?")
_APART = re.compile(
    r" , | and (?=(?:yes |no )?(?:i )?(?:slept|did|trained|effort|rpe|the session|my|knee|back)\b)"
)


def read_sleep(text: str, *, asked: bool) -> Night:
    """The night in the client's own words; ``asked`` when sleep was asked for, so that a bare number is hours."""
    kept: list[str] = []
    about: list[str] = []
    text = _EVERY_FEW_HOURS.sub("every hour", text)
    told_of_sleep = trained = unclear = False
    ever_trained, has_training = False, asked and bool(_ABOUT_TRAINING.search(text))
    for clause in _APART.split(text):
        if asked and ever_trained and not about and _A_NUMBER.fullmatch(clause):
            unclear = True  # 'done , 7': of the night or of the session?
            continue
        if has_training and _OF_EFFORT.search(clause) and not _ABOUT_SLEEP.search(clause):
            told_of_sleep = False
            kept.append(clause)
            continue
        follows = told_of_sleep and bool(_ONLY_A_LENGTH.search(clause))
        told_of_sleep = follows or (
            _is_about_sleep(clause, asked=asked) and not (trained and _FELT.match(clause))
        )
        trained = not told_of_sleep and bool(_ABOUT_TRAINING.search(clause))
        ever_trained = ever_trained or trained
        (about if told_of_sleep else kept).append(clause)
    if not about:
        return Night(doubtful=unclear, rest=" , ".join(kept) if unclear else text)
    night = " , ".join(about)
    hours, doubtful = _hours(night, asked=asked)
    return Night(hours, _quality(night, hours), doubtful or unclear, " , ".join(kept))


def _is_about_sleep(clause: str, *, asked: bool) -> bool:
    if _NOT_THIS_NIGHT.search(clause):
        return False
    if _ABOUT_SLEEP.search(clause):
        return True
    return (
        asked
        and not _ABOUT_TRAINING.search(clause)
        and not _OF_ELSE.match(clause)
        and not re.search(r"\bmin\b(?<!\d\d\d min)", clause)
    )


def _quality(text: str, hours: float | None) -> SleepQuality | None:
    """In words; what is said of the sleep by its name goes before all else."""
    by_name = " , ".join(part for part in text.split(" , ") if re.search(r"\b(?:slept|sleep)\b", part))
    of_the_night = " , ".join(found.group() for found in _NIGHT.finditer(text))
    said = _in_words(of_the_night) or _in_words(by_name) or _in_words(text)
    return SleepQuality.BAD if said is None and hours == 0 and _NONE.search(text) else said


_NIGHT = re.compile(r"\b(?:not (?:a |the |so |very |too )?)?\w+ (?:old )?(?:night s? ?)?(?:night|kip|rest)\b")
"""'Rubbish pillow but a good night'."""


def _in_words(text: str) -> SleepQuality | None:
    if _BAD.search(text):
        spared = re.search(
            r"\bnot (?:too |so |that )?(?:bad|badly|terrible|awful)\b|\bdid not sleep (?:too )?bad", text
        )
        return SleepQuality.OK if spared else SleepQuality.BAD
    if _OK.search(text):
        return SleepQuality.OK
    if _GOOD.search(
        re.sub(
            r"^well , |\ba good (?=\d)|\bgood (?=(?:boys?|girls?|luck|shows?|thing|news|enough|crowd|gig)\b)|\bgood (?=morning)|\b(?:thank|as) well\b",
            "",
            text,
        )
    ):
        return SleepQuality.GOOD
    return None


def _hours(text: str, *, asked: bool) -> tuple[float | None, bool]:
    """(hours, whether hours were meant that must be asked back)."""
    if _NONE.search(text) or (asked and re.fullmatch(r"\W*(?:none|0|nothing|0 hour|nil)\W*", text)):
        return 0.0, False
    total = _TOTAL.search(text)
    if total:
        return _plausible(float(total[1] or total[2]))
    if _NEGATIVE.search(text) or _SUMMED.search(text) or _OPEN_ENDED.search(text):
        return None, True
    for reader in (_from_bed_to_up, _from_to, _said_length, _colon_hours):
        hours = reader(text)
        if hours is not None:
            return (None, True) if reader is _said_length and _tells_more(text) else _plausible(hours)
    return (
        _bare(text)
        if asked or re.search(r"\bslept\b|\bsleep \d|\d sleep\b|\basleep\b", text)
        else (None, False)
    )


_FURTHER = re.compile(
    r"(?<![\w.:/-])([1-9]|1[0-2])(?:\.5)?(?![\d:/%.\w])(?! (?:min|times?|nights?|of|people|km|kg|reps|sets|days?|am|pm|to|-|or|out|pillows?|cups?|coffees?|beers?|mates?|shows?|weeks?|months?|o'clock|in the|,? ?so)\b)"
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
    found = _BED_TO_UP.search(text)
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


_EVERY_FEW_HOURS = re.compile(r"\bevery (?:\d+|couple of|few|other) (?:hour|min)\b")
_TWO_NIGHTS = re.compile(r"\d hour (?:and|or) (?:about |maybe |then )?\d+(?:\.\d+)? hour\b")
_ASLEEP = re.compile(r"(?<![\d.:])(\d{1,2}(?:\.\d+)?) (?:hour )?(?:of )?(?:asleep|sleep)\b")


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


_OPEN_ENDED = re.compile(
    r"\b(?:less|more|fewer|under|over) than \d|\bnot even (?:an? |\d)|\b(?:\d quarters?|half|a third) of (?:what|the usual|my usual|normal)\b"
)


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
