"""Messages in which words that name a sign are harmless as a whole: sound sleep, a lesson, something long over."""

import re

_SWOONS = re.compile(
    r"\b(?:unconscious|pass(?:ed|ing)? (?:right |straight )?out|black(?:ed|ing)? out|(?:got |was |were |been )?knocked out(?: cold)?|out cold|"
    r"in a coma|comatose|dead to the world|conked out|like (?:the dead|a corpse))\b"
)
"""What is said of a heavy sleeper."""
_SLEEPS = re.compile(
    r"\b(?:slept|sleep|sleeping|asleep|kip|snor\w*|pillow|snooz\w*|(?:until|till|before|through|missed) (?:the |my )?alarm|lights (?:were|went) off|"
    r"lights out|(?:[5-9]|1\d)(?:\.\d+)? (?:\w+ )?hour|(?:all|whole|full) night|[5-9] straight|(?:woke up|awake|up) (?:at )?[tc]?\d\d?:?\d*|from \d\d? (?:to|until) \d\d?|well rested|like a (?:baby|log|rock|stone))\b"
)
_NO_SLEEP = re.compile(
    r"\b(?:gym|floor|stairs?|shower|toilet|bathroom|sets?|squat\w*|deadlift\w*|bench|hit|banged|fell|fall|dizz\w*|came (?:to|round|around)|seconds?|min|minute|moment|"
    r"rack|barbell|rower|platform|treadmill|sled|pool|car|road|street|airport|gate|office|standing|stood|stand|got up|getting up|up too|chest|breath\w*|ambulance|found me|around me|over me|remember|vomit\w*|sick|pills?|tablets?|drunk|overdos\w*|heat|"
    r"training|session|workout|run|running|rehearsal|on stage|could not sleep|can not sleep|before (?:i|my) (?:fell|head)|no idea how|again)\b"
)


_UNCONSCIOUS = re.compile(r"\b(?:unconscious|black(?:ed|ing)? out|knocked out)\b")
_RESTED = re.compile(
    r"\b(?:(?:until|till|through|before) (?:the |my )?(?:alarm|lights)|like|basically|practically|best|lovely|bliss|great|good|fresh\w*|rested|solid|straight|deep|pillow|"
    r"(?:[5-9]|1\d)(?:\.\d+)? (?:\w+ )?hour|from \d\d? (?:to|until) \d\d?)\b"
)
"""What has to be said as well, where the words for it are as strong as 'unconscious'."""


def sleeps_soundly(plain: str) -> bool:
    """Whether a swoon is but sleep: sleep is spoken of, and nothing that one swoons at or falls on.

    >>> sleeps_soundly("slept like i was unconscious"), sleeps_soundly("passed out in the shower , slept after")
    (True, False)
    """
    if not _SLEEPS.search(plain) or _NO_SLEEP.search(plain):
        return False
    return bool(_RESTED.search(plain)) or not _UNCONSCIOUS.search(plain)


_LESSON = re.compile(
    r"^(?:(?:i|we|our|the|a|an|my|did|had|have|took|taught|was|were|on|at|in|today|yesterday|this|morning|all|day|spent|afternoon|doing|just|back|from|finished|passed|attended|"
    r"been|annual|yearly|boring|half|two|another|coach|hi|hey|and|so|also|big|got|through|sat|no|session|because|sorry|offshore|,|\.) )*(?:first aid|rescue|cpr|safety|medical|survival|sea survival|lifeguard|resuscitation) (?:\w+ )?(?:course|training|class|refresher|lecture|talk|workshop|"
    r"lesson|drill|exam|certificate|quiz|video|poster)\b"
)
_MINE = re.compile(
    r"\b(?:i|me|my|mine|myself|since|now|still|again|whole time|after|during|though|fainted|collapsed|passed|blacked|felt|went|break|dizzy|nearly|almost)\b"
)
"""What makes it the client's own, or a thing of now."""


def is_a_lesson(plain: str) -> bool:
    """Whether signs are only what a course taught: after the course is named, the client says nothing of themselves."""
    course = _LESSON.match(plain)
    return bool(course) and not _MINE.search(plain[course.end() :])  # type: ignore[union-attr]


_FAINTED = re.compile(
    r"\b(?:faint(?:ed|ing|s)?|pass(?:ed|ing)? out|black(?:ed|ing)? ?out|collapsed?|had a fit)\b"
)
_LONG_AGO = re.compile(
    r"\b(?:as a (?:kid|child|teenager|teen|boy|girl|baby|student)|at (?:primary |high )?school|when i was (?:a (?:kid|child|teenager|teen|boy|girl)|young|little|at school|in school|\d\d?)|"
    r"in my (?:teens|youth|childhood)|(?:\d\d|many|ten|twenty|thirty|fifteen) years ago|decades ago|in (?:19[5-9]\d|200\d|201\d))\b"
)
_NEVER_SINCE = re.compile(
    r"\b(?:never|not|nothing|none|no (?:trouble|problem|problems|issue|issues|more)|fine|ok)(?: \w+){0,2} (?:since|again|after)\b|\bnever again\b|\bgr[eo]wn? out of (?:it|that)\b|"
    r"\bwhole medical history\b|\bonly time(?: ever)?\b|\bthat is (?:all|it) for (?:the|my) (?:form|history|record)\b"
)
_STILL_NOW = re.compile(
    r"\b(?:today|yesterday|now|this (?:morning|week|time)|tonight|last (?:night|week)|lately|recently|currently)\b"
)


_LIMB_ASLEEP = re.compile(
    r"\b(?:arms?|legs?|hands?|foot|feet|fingers|bum)\b(?: \S+){0,3} (?:dead|numb|asleep|to sleep|tingl\w*)\b|\bpins and needles\b"
)
_LAIN_ON = re.compile(
    r"\b(?:from sitting|sat on|slept on|lay on|cross legged|under (?:the|my) pillow|squashed|kneeling|holding the|cold|from the (?:cold|seat|saddle|flight case))\b"
)
_WOKE_UP = re.compile(
    r"\b(?:(?:fine|normal|ok|back|good)(?: again)? (?:now|after|again|since|in)|for a (?:minute|moment|sec|second)|came back)\b"
)


def is_a_limb_asleep(plain: str) -> bool:
    """Whether a limb was lain or sat on, and has come back.

    >>> is_a_limb_asleep("my arm fell asleep under the pillow , normal now"), is_a_limb_asleep("my arm went numb")
    (True, False)
    """
    return bool(_LAIN_ON.search(plain) and _WOKE_UP.search(plain) and not _GRAVE.search(plain))


_GRAVE = re.compile(
    r"\b(?:face|jaw|chest|speech|words|one side|half|weak|saddle area|bladder|headache|dizz\w*)\b"
)


_DENTIST = re.compile(
    r"\b(?:dentist\w*|dental|wisdom tooth|root canal|filling|tooth (?:out|pulled|extract\w*))\b"
)
_NUMB = re.compile(
    r"\b(?:half |one side of |side of |my |the |whole |left |right )*(?:face|mouth|lips?|jaw|cheek|chin|tongue)\b(?: \S+){0,2} (?:numb\w*|droop\w*|frozen|tingl\w*)\b|"
    r"\bnumb (?:face|mouth|lips?|jaw|cheek|tongue)\b"
)
_GRAVE_BESIDE_A_TOOTH = re.compile(
    r"\b(?:arms?|legs?|hands?|chest|vision|eyes?|words|speech|weak\w*|headache|dizz\w*|days? ago|last week)\b"
)
"""A dentist's injection numbs a face for an hour, and nothing else."""


def harmless_words(plain: str) -> list[re.Pattern[str]]:
    """What is to be blotted out of a message before signs are looked for."""
    numbed = [_NUMB] if _DENTIST.search(plain) and not _GRAVE_BESIDE_A_TOOTH.search(plain) else []
    limbs = [_LIMB_ASLEEP] if is_a_limb_asleep(plain) else []
    asleep = [_SWOONS] if sleeps_soundly(plain) else []
    return [*numbed, *limbs, *asleep, *([_FAINTED] if is_long_over(plain) else [])]


def is_long_over(plain: str) -> bool:
    """Whether a faint is of long ago, and the client says that there was none since."""
    return bool(
        _FAINTED.search(plain)
        and _LONG_AGO.search(plain)
        and _NEVER_SINCE.search(plain)
        and not _STILL_NOW.search(plain)
    )
