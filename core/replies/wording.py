"""From what was typed to plain words: lower case, digits, one spelling of each common word, clauses set apart.

Everything else in this folder reads the plain form, so that each rule is written once.
"""

import re
import unicodedata
from dataclasses import dataclass

from core.replies.numbers import in_digits
from core.replies.spelling import mend

LONGEST = 4_000
"""Characters that are read; Telegram sends no longer message than 4,096."""

_SIGNS = {
    **dict.fromkeys("✅✔☑", " done "),
    **dict.fromkeys("❌✖❎", " no "),
    **dict.fromkeys("👍👌", " thumbsup "),
    "🙏": " thanks ",
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

_CONTRACTED = (
    (re.compile(r"\bcan ?'?t\b|\bcannot\b"), "can not"),
    (re.compile(r"\bwon'?t\b"), "will not"),
    (re.compile(r"\bshan'?t\b"), "will not"),
    (re.compile(r"\bain'?t\b"), "am not"),
    (re.compile(r"\b(did|do|does|have|has|had|was|were|is|are|would|could|should|need)n'?t\b"), r"\1 not"),
    (re.compile(r"\bi ?'m\b|\bim\b"), "i am"),
    # soreness of the wrong kind is pain, and its 'bad' is no word about sleep, its 'way' no way home
    (
        re.compile(
            r"\b(?:sore|stiff),? (?:but |and )?(?:in a (?:bad|weird|worrying) way|not in a good way)\b"
        ),
        "painful",
    ),
    (
        re.compile(
            r"\bill (?=(?:do|try|go|be|get|make|train|have|take|let|fit|move|see|catch|probably|just|send)\b)"
        ),
        "i will ",
    ),
    (re.compile(r"\b(i|you|he|she|it|we|they|that|there)'ll\b"), r"\1 will"),
    (re.compile(r"\b(i|you|we|they)'ve\b"), r"\1 have"),
    (re.compile(r"\bive\b"), "i have"),
    (re.compile(r"\b(i|you|we|they|he|she)'d\b|\bid (?=rather|like|say|prefer)"), r"\1 would"),
    (re.compile(r"\bthought id\b"), "thought i would"),
    (re.compile(r"\b(you|we|they)'re\b"), r"\1 are"),
    (re.compile(r"\blet'?s\b"), "lets"),
    (
        re.compile(
            r"\b(it|what|that|there|here|he|she|who|where|when|how|heart|chest|pain|throat|head|room|(?<=my )back|knee|shoulder|neck|hip|elbow|ankle|wrist|calf|hamstring)'s\b"
        ),
        r"\1 is",
    ),
    (re.compile(r"\b(whats|hows|wheres|whens)\b"), lambda found: found[1][:-1] + " is"),
    (re.compile(r"\bdunno\b"), "do not know"),
    (
        re.compile(
            r"\bbc\b(?= (?:mon|tue|wed|thu|fri|sat|sun|the|show|rehearsal|i|it|my|of|the|we|they|he|she|no|gym|work|there|im|was|is|had)\b)"
        ),
        "because",
    ),
    (re.compile(r"\bidk\b"), "i do not know"),
    (re.compile(r"\b(gonna|gunna)\b"), "going to"),
    (re.compile(r"\bwanna\b"), "want to"),
    (re.compile(r"\bgotta\b"), "have to"),
    (re.compile(r"'s\b"), ""),
    (re.compile(r"(?<=s)'(?= )"), ""),
    (re.compile(r"(?<=\d)'(?!\d)"), " min "),
    (re.compile(r"\bw/o\b"), " without "),
    (re.compile(r"\b(?<=did )me (?=session|training|work ?out|\d|stretches)"), "my "),
    (
        re.compile(
            r"\b(chest|back|knee|neck|shoulder|hip|elbow|wrist|ankle|foot|arm|jaw)(?:'?s)? (?:paint|pane|"
            r"pan|pin|pian)\b"
        ),
        r"\1 pain",
    ),
    (re.compile(r"\bd[iy](?:ss|s|z|zz|sz)(?:y|i|ie|ey)\b"), "dizzy"),
    (re.compile(r"\bw/e\b"), " weekend "),
    (re.compile(r"\bw/c\b"), " week commencing "),
    (re.compile(r"\ba\.m\.?(?!\w)"), "am"),
    (re.compile(r"\bp\.m\.?(?!\w)"), "pm"),
)

_SHORT_FORMS = {
    "tomorrow": "tmrw tmr tmw tmo tomoz tomorow tommorow tommorrow tomorro 2moro 2morrow 2mrw tomo",
    "tonight": "tonite 2nite 2night tnite tn",
    "yesterday": "yest yday ystd",
    "please": "pls plz plse pleas pleez",
    "thanks": "thx tx thnx thanx tnx ty tysm cheers ta thankyou gracias merci danke",
    "because": "cos coz cuz becuase",
    "you": "u ya'll",
    "your": "ur",
    "are": "r",
    "without": "w/o wo",
    "with": "w/",
    "and": "& +",
    "before": "b4",
    "done": "dunzo donezo dne doen fertig erledigt listo hecho",
    "yes": "yep yup yeah yea yess yesss yeh yessir aye affirmative indeed",
    "no": "nope nah noo nooo nop naw negative",
    "ok": "okay okey k kk oki okie",
    "min": "mins minute minutes minuets mintues minuts mns mn",
    "hour": "hours hr hrs hrs. hours. huor huors houres",
    "session": "sesh sessions",
    "message": "msg",
    "appointment": "appt",
    "monday": "mon mondays mons",
    "tuesday": "tue tues tuesdays tu",
    "wednesday": "weds wednesdays wensday wenesday wednsday",
    "thursday": "thu thur thurs thurday thursdays thrusday thirsday",
    "friday": "fri fridays fryday",
    "saturday": "saturdays",
    "sunday": "sundays",
    "weekend": "wkend w/e wknd",
    "training": "trainin workout workouts",
    "going to": "gunna",
    "going": "goin",
    "something": "smth sth",
    "though": "tho",
    "about": "abt",
    "probably": "prob probs prolly",
    "until": "til till untill",
    "effort": "effrt",
    "rpe": "rpe:",
}
_ALONE = {
    **dict.fromkeys(("dome", "dine", "fone", "don", "dun", "dond", "doone", "dpne", "doen"), "done"),
    **dict.fromkeys(("yws", "yse", "yas", "yrs", "tes", "ues", "ja", "si", "oui", "y"), "yes"),
    **dict.fromkeys(("noe", "mo", "bo", "nein", "non", "n"), "no"),
}
"""Slips and short forms that are read only where they are the whole message."""
_SHORT = {short: long for long, forms in _SHORT_FORMS.items() for short in forms.split()}
_SATURDAY = re.compile(
    r"(?<!\bi )(?<!\bwe )(?<!he )(?<!just )(?<!have )(?<!they )(?<!been )(?<!only )(?<!\bam )(?<!was )(?<!were )\bsat\b"
    r"(?! (?:in|on|down|here|there|around|about|up|through|by|still|watching|reading|behind|beside|next to)\b)(?! (?:at|with) [a-z]{3})"
)
_SUNDAY = re.compile(
    r"(?<!\bthe )(?<!\bin )(?<!hot )(?<!\bof )(?<!\bno )(?<!midday )(?<!evening )(?<!much )\bsun\b(?! (?:is|"
    r"was|cream|over|burn|lounger|came|shone|set)\b)"
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
_FOUR_DIGITS = re.compile(r"\b([01]\d|2[0-3])([0-5]\d) ?(?:to|-|until|till?) ?([01]\d|2[0-3])([0-5]\d)\b")
_DATE_DOT = re.compile(r"\b(\d{1,2})\.(\d{1,2})\.(?!\d)")
_LETTER_SLASH = re.compile(r"(?<=[a-z])/(?=[a-z])")
_LABEL = re.compile(r"\b(rpe|effort|sleep|slept)[ :=]*(?=\d)")
_STOPS = re.compile(r"\s*([;!?,\n]|(?<!\d):|:(?!\d)|\.+(?!\d)|(?<!\d)\.+)\s*")
_VOCATIVE = re.compile(
    r"\b((?:yes|no|not yet|done|sorry|morning|hi|hey|ok|not today|yes did it|did it) )"
    r"(?:, )?(?:mate|coach|man|bro|bruv|boss|dude|buddy|pal|love|sir|chief)(?= [,.?]|$)"
)
"""'No mate' is a no; the mate is nobody else."""
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
    lowered = _NOT_WORDS.sub(" ", _ADDRESS.sub(" ", _TAG.sub(" ", lowered)))
    lowered = _ALONE.get(lowered.strip(" .!"), lowered)
    unmended = _VOCATIVE.sub(r"\1", _in_short(_apart(lowered)))
    return Words(
        typed=typed, unmended=unmended, plain=in_digits(" ".join(mend(word) for word in unmended.split()))
    )


def _apart(text: str) -> str:
    """Words, numbers, units and stops with one space between them."""
    for pattern, plain in _CONTRACTED:
        text = pattern.sub(plain, text)
    text = in_digits(_ISO_DATE.sub(r"\1_\2_\3", _MINUS.sub(" minus ", text)))
    text = _FOUR_DIGITS.sub(r"\1:\2 - \3:\4", text)
    text = " ".join(_clock_words(_DATE_DOT.sub(r"\1.\2", text.replace("\n", " . "))).split())
    text = _HOURS_MINUTES.sub(_hours_minutes, _LABEL.sub(r"\1 ", text))
    text = _JOINED_UNIT.sub(lambda found: f"{found[1]} {_unit(found[2] or found[3])} ", text)
    text = _DAY_RANGE.sub(_day_range, _NUMBER_RANGE.sub(f" {_RANGE_MARK} ", text))
    text = _MONTH_RANGE.sub(rf"\1 {_RANGE_MARK} ", text)
    text = _CLOCK_TO_HOUR.sub(rf"\1 {_RANGE_MARK} c\2:00", text)
    text = _LETTER_SLASH.sub(" , ", _HYPHEN.sub(" ", _LOOSE_DASH.sub(" , ", text))).replace(_RANGE_MARK, "-")
    text = _STOPS.sub(_one_stop, text.replace("&", " and ").replace("+", " + "))
    return _LEFT_OVER.sub(" ", _days_of_three_letters(text))


def _in_short(text: str) -> str:
    return " ".join(_SHORT.get(word, word) for word in text.split())


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
