"""From what was typed to plain words: lower case, digits, one spelling of each common word, clauses set apart.

Everything else in this folder reads the plain form, so that each rule is written once.
"""

import re
import unicodedata
from dataclasses import dataclass

from core.replies.numbers import in_digits
from core.replies.short_forms import ALONE, CONTRACTED, SHORT
from core.replies.spelling import mend

LONGEST = 4_000
"""Characters that are read; Telegram sends no longer message than 4,096."""

_SIGNS = {
    **dict.fromkeys("✅✔☑", " done "),
    **dict.fromkeys("❌✖❎", " no "),
    **dict.fromkeys("👍👌", " thumbsup "),
    "🙏": " thanks ",
    **dict.fromkeys("😂🤣", " haha . "),
    **dict.fromkeys("’‘`´ʼ", "'"),
    **dict.fromkeys("“”„«»", '"'),
    **dict.fromkeys("–‒−‑", "-"),
    "—": " - ",
    "½": " 1/2",
    "¼": ".25",
    "¾": ".75",
    "…": " . ",
    "⁄": "/",
    "×": "x",
}
_SIGN_TABLE = str.maketrans(_SIGNS)

_TAG = re.compile(r"</?[a-z][^<>]{0,40}>")
_ADDRESS = re.compile(r"\b(?:https?://|www\.)\S{1,500}")
_ISO_DATE = re.compile(r"\b(\d{4})-(\d{2})-(\d{2})\b")

_SATURDAY = re.compile(
    r"\bsat\b(?= ?(?:n|and|&|\+|or|,|/) ?sun\b)|(?<!\bi )(?<!\bwe )(?<!he )(?<!just )(?<!have )(?<!they )(?<!been )(?<!only )(?<!\bam )(?<!was )(?<!were )\bsat\b"
    r"(?! (?:in|on|down|here|there|around|about|up|through|by|still|watching|reading|behind|beside|next to)\b)(?! (?:at|with) [a-z]{3})"
)
_SUNDAY = re.compile(
    r"(?<!\bthe )(?<!\bin )(?<!hot )(?<!\bof )(?<!\bno )(?<!midday )(?<!evening )(?<!much )\bsun\b(?! (?:is|"
    r"was|cream|finally|at last|hat|over|burn|lounger|came|shone|set)\b)"
)
_WEDNESDAY = re.compile(r"(?<!newly )(?<!got )(?<!get )(?<!getting )(?<!\bbe )\bwed\b")

_DAY = r"(?:mon|tues?|wed|thu(?:rs?)?|fri|sat|sun)(?:days?|nesdays?|urdays?)?"
_DAY_RANGE = re.compile(rf"\b({_DAY}) ?- ?({_DAY})\b")
_MONTH = r"(?:jan|feb|mar|apr|may|june?|july?|aug|sept?|oct|nov|dec)[a-z]{0,6}"
_RANGE_MARK = "\x1f"
_NUMBER_RANGE = re.compile(
    rf"(?<=\d) ?- ?(?=\d|[tc]\d)|(?<=\dh) ?- ?(?=\d)|(?<=\d(?:st|nd|rd|th)) ?- ?(?=\d)|"
    rf"(?<=\d) ?- ?(?={_MONTH} \d)"
)
_MONTH_RANGE = re.compile(rf"\b({_MONTH}) ?- ?(?=\d|{_MONTH})")
_HYPHEN = re.compile(r"(?<=[^\W_])-(?=[^\W_])")
_LOOSE_DASH = re.compile(r" -+ |--+")
_MINUS = re.compile(r"(?:(?<=^)|(?<=\s))-(?=\d)")
_JOINED_UNIT = re.compile(
    r"(?<![a-z\d])(\d{1,4}(?:\.\d{1,2})?)(?:(m|k|ish)\b| ?(minutes|minute|mins|min|hours|hour|hrs|hr|h|"
    r"kg|km|miles|reps|sets|x)\b)(?!\d)"
)
_UNIT_NAMES = {
    "m": "min",
    "h": "hour",
    "ish": "",
    "hr": "hour",
    "hrs": "hour",
    "hours": "hour",
    "k": "km",
} | dict.fromkeys(("minutes", "minute", "mins"), "min")
_HOURS_MINUTES = re.compile(
    r"(?<![\d.:])(\d{1,2}) ?(?:h|hr|hrs|hour|hours) ?(?:and )?(\d{2}(?: ?(?:m|min|mins|minutes?))?|"
    r"\d(?: ?(?:m|min|mins|minutes?)))\b(?! ?[/.:]| ?-? ?(?:hour|h)\b)"
)
_TWELVE_HOURS = re.compile(r"(?<![\d.:])(\d{1,2})(?:[:.h](\d{2}))? ?([ap])m\b")
_WHOLE_HOUR = re.compile(r"(?<![\d.:])(1[3-9]|2[0-4]) ?h\b")
_PAST = re.compile(
    r"\b(half|quarter|20|10|5|25) (past) (\d{1,2})\b(?![:.]\d)|\b(quarter) (to|after|"
    r"before) (\d{1,2})\b(?![:.]\d)"
)
_HALF = re.compile(r"\bhalf (\d{1,2})\b(?! ?(?:hour|min|of))")
_NAMED_HOURS = {"midnight": "t00:00", "noon": "t12:00", "midday": "t12:00"}
_NAMED_HOUR = re.compile(r"\b(midnight|noon|midday)\b")
_CLOCK_TO_HOUR = re.compile(r"\b(t\d\d:\d\d) \x1f (\d{1,2}) hour\b")
_FOUR_DIGITS_ALONE = re.compile(
    r"\b(at|by|around|about|from|until|till?|to|before|after|since) ([01]\d|2[0-3])([0-5]\d)\b"
    r"(?! ?(?:kg|km|m|steps|kcal|calories|people|miles|seats|pounds|euros?)\b)(?<!(?:by|to|il|om|ce|re|er|nd|ut) 20[2-4]\d)"
)
"""'Will do it at 1830'; 2027 is a year, unless somebody comes at it."""
_PART_OF_DAY = re.compile(
    r"\b(?<![\d.:/-])(?<!half )(?<!past )(?<!to )(?<!at )(?<!by )(?<!around )(?<!until )(1[0-2]|[1-9])(?:[:.](\d\d))? (?:o ?'?clock )?in the (morning|afternoon|evening)\b"
)
"""'7 in the evening'."""
_WK, _N = re.compile(r"\bwk\b"), re.compile(r"(?<=[a-z]) n (?=[a-z])")
_BIS = re.compile(r"(?<=\d) bis (?=\d)")
_SPOKEN_CLOCK = re.compile(
    r"\b(at|by|until|till?|from|around|before|after|since) (1[0-2]|[1-9]) (15|30|45)\b(?! ?(?:min|hour|h\b|sec|reps|sets|kg|km|%|m\b))"
)
"""'The alarm got me at five thirty'."""
_FOUR_DIGITS = re.compile(r"\b([01]\d|2[0-3])([0-5]\d) ?(?:to|-|until|till?) ?([01]\d|2[0-3])([0-5]\d)\b")
_DATE_DOT = re.compile(
    r"\b(\d{1,2})\.(\d{1,2})\.(?!\d)( (?!(?:to|until|till?|and|or|in|at|on|for|with|back)\b)(?=[a-z]))?"
)
"""'12.12. to 14.12.' is two dates; 'I'd say 7.5. Tired' ends a sentence."""
_LETTER_SLASH = re.compile(r"(?<=[a-z])/(?=[a-z])")
_LABEL = re.compile(r"\b(rpe|effort|sleep|slept)[ :=]*(?=\d)")
_STOPS = re.compile(r"\s*([;!?,\n]|(?<!\d):|:(?!\d)|\.+(?!\d)|(?<!\d)\.+)\s*")
_VOCATIVE = re.compile(
    r"\b((?:yes|no|not yet|done|sorry|morning|hi|hey|ok|not today|yes did it|did it) )"
    r"(?:, )?(?:mate|coach|man|bro|bruv|boss|dude|buddy|pal|love|sir|chief)(?= [,.?]|$)"
)
"""'No mate' is a no; the mate is nobody else."""
_ADDRESSED = re.compile(
    r"^(?:hi |hey |hello |ok |so )?(?:brother|bro|mate|boss|man|sir|friend|pal|buddy|dude|chief) (?=(?:there is|i|my|it is|this|that|what|how|when|can|today|yesterday|"
    r"no|yes|not|sorry|only|just|still|done|session|slept)\b)"
)
"""'Brother there is burning in chest' is said to him, not of him."""
_PICTURE = re.compile(
    r"(?<=\S) *[\u2600-\u27bf\U0001f300-\U0001faff][\ufe0f\u200d\U0001f3fb-\U0001f3ff]* +(?=\w)"
)
"""An emoji in the midst of words ends a sentence."""
_NOT_WORDS = re.compile(r"[^\w.,;:?!/%'&+<>()\n -]")
_LEFT_OVER = re.compile(r"[^\w.,?/%:<> +-]")


@dataclass(frozen=True)
class Words:
    """One message in plain words.

    ``typed`` keeps capitals, for names; ``unmended`` is plain but for its spelling, for places; ``plain`` is what rules read.
    """

    typed: str
    unmended: str
    plain: str


def plain_words(text: str) -> Words:
    """Never fails: what cannot be read simply has no words."""
    typed = text[:LONGEST].translate(_SIGN_TABLE)
    lowered = unicodedata.normalize("NFKC", typed).casefold()
    lowered = _NOT_WORDS.sub(" ", _PICTURE.sub(" . ", _ADDRESS.sub(" ", _TAG.sub(" ", lowered))))
    lowered = ALONE.get(lowered.strip(" .!"), lowered)
    unmended = _ADDRESSED.sub("", _VOCATIVE.sub(r"\1", _in_short(_apart(lowered))))
    return Words(
        typed=typed, unmended=unmended, plain=in_digits(" ".join(mend(word) for word in unmended.split()))
    )


def _apart(text: str) -> str:
    """Words, numbers, units and stops with one space between them."""
    for pattern, plain in CONTRACTED:
        text = pattern.sub(plain, text)
    text = in_digits(_ISO_DATE.sub(r"\1_\2_\3", _MINUS.sub(" minus ", text)))
    text = _N.sub(" and ", _WK.sub("week", text))
    text = _BIS.sub(" to ", text)
    text = _PART_OF_DAY.sub(
        lambda one: f"{one[1]}:{one[2] or '00'}{'am' if one[3] == 'morning' else 'pm'} ", text
    )
    text = _SPOKEN_CLOCK.sub(r"\1 \2:\3", text)
    text = _FOUR_DIGITS_ALONE.sub(r"\1 \2:\3", _FOUR_DIGITS.sub(r"\1:\2 - \3:\4", text))
    text = " ".join(
        _clock_words(
            _DATE_DOT.sub(
                lambda one: f"{one[1]}.{one[2]}{' . ' if one[3] else ''}", text.replace("\n", " . ")
            )
        ).split()
    )
    text = _HOURS_MINUTES.sub(_hours_minutes, _LABEL.sub(r"\1 ", text))
    text = _JOINED_UNIT.sub(lambda found: f"{found[1]} {_unit(found[2] or found[3])} ", text)
    text = _DAY_RANGE.sub(_day_range, _NUMBER_RANGE.sub(f" {_RANGE_MARK} ", text))
    text = _MONTH_RANGE.sub(rf"\1 {_RANGE_MARK} ", text)
    text = _CLOCK_TO_HOUR.sub(rf"\1 {_RANGE_MARK} c\2:00", text)
    text = _LETTER_SLASH.sub(" , ", _HYPHEN.sub(" ", _LOOSE_DASH.sub(" , ", text))).replace(_RANGE_MARK, "-")
    text = _STOPS.sub(_one_stop, text.replace("&", " and ").replace("+", " + "))
    return _LEFT_OVER.sub(" ", _days_of_three_letters(text))


def _in_short(text: str) -> str:
    return " ".join(SHORT.get(word, word) for word in text.split())


def _days_of_three_letters(text: str) -> str:
    return _WEDNESDAY.sub("wednesday", _SUNDAY.sub("sunday", _SATURDAY.sub("saturday", text)))


def _day_range(found: re.Match[str]) -> str:
    long = {"sat": "saturday", "sun": "sunday", "wed": "wednesday"}
    return " to ".join(long.get(day, day) for day in found.groups())


def _clock_words(text: str) -> str:
    """Times of day as one word each: t22:30 is sure, c10:30 may be morning or evening."""
    text = _NAMED_HOUR.sub(lambda found: _NAMED_HOURS[found[1]], text)
    text = _TWELVE_HOURS.sub(_twelve_hours, text)
    text = _WHOLE_HOUR.sub(lambda found: f"t{int(found[1]) % 24:02}:00", text)
    return _HALF.sub(
        lambda found: f"c{found[1]}:30" if int(found[1]) <= 12 else found[0], _PAST.sub(_past, text)
    )


def _twelve_hours(found: re.Match[str]) -> str:
    hour, minute = int(found[1]), int(found[2] or 0)
    if not (1 <= hour <= 12 and minute < 60):
        return found[0]
    return f" t{hour % 12 + (12 if found[3] == 'p' else 0):02}:{minute:02} "


def _past(found: re.Match[str]) -> str:
    part, side, hour = found[1] or found[4], found[2] or found[5], int(found[3] or found[6])
    if not 1 <= hour <= 12:
        return found[0]
    if side in {"to", "before"}:
        return f"c{(hour - 2) % 12 + 1}:45"
    minutes = {"half": 30, "quarter": 15}.get(part) or int(part)
    return f"c{hour}:{minutes:02}"


def _hours_minutes(found: re.Match[str]) -> str:
    hour, minute = int(found[1]), int(re.sub(r"\D", "", found[2]))
    if minute >= 60:
        return found[0]
    return f"t{hour % 24:02}:{minute:02}" if hour > 12 else f"{hour}h{minute:02}"


def _unit(name: str) -> str:
    return _UNIT_NAMES.get(name, name)


def _one_stop(found: re.Match[str]) -> str:
    mark = found[1]
    return {"?": " ? ", ",": " , ", ";": " , ", ":": " , "}.get(mark, " . ")
