"""Hours and quality of the night's sleep, from durations, bare numbers and from-to times."""

import re
from dataclasses import dataclass

from core.replies.meaning import SleepQuality
from core.replies.sleep_hours import EVERY_FEW_HOURS, hours_told
from core.replies.sleep_quality import quality_told

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
    r" , | and (?=(?:yes |no |already )?(?:i )?(?:slept|did|trained|effort|rpe|the session|my|knee|back)\b)"
)


def read_sleep(text: str, *, asked: bool) -> Night:
    """The night in the client's own words; ``asked`` when sleep was asked for, so that a bare number is hours."""
    kept: list[str] = []
    about: list[str] = []
    text = EVERY_FEW_HOURS.sub("every hour", text)
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
    hours, doubtful = hours_told(night, asked=asked)
    return Night(hours, quality_told(night, hours), doubtful or unclear, " , ".join(kept))


def _is_about_sleep(clause: str, *, asked: bool) -> bool:
    if _NOT_THIS_NIGHT.search(clause):
        return False
    if _ABOUT_SLEEP.search(clause):
        return True
    return (
        asked
        and not _ABOUT_TRAINING.search(clause)
        and not _OF_ELSE.match(clause)
        and not _MOVES_IT.search(clause)
        and not re.search(r"\bmin\b(?<!\d\d\d min)", clause)
    )


_MOVES_IT = re.compile(
    r"\b(?:mov|shift|push|swap)\w* (?:it|that|this)? ?(?:to|until)\b|\bwill (?:train|do it)\b|\bmake it [1-7]\b"
)
