"""Red flags: words that stop training and send for medical care, and words that may.

Nothing is diagnosed: a match only means stop and ask.

A sign of one's own counts even when it has passed. What is denied, or another person's, or a manner of speaking, does not;
what may as well be a manner of speaking is asked about.
"""

import re
from collections.abc import Iterable
from dataclasses import replace

from core.replies.clauses import OTHERS, Clause
from core.replies.figures_of_speech import DOUBTFUL, FIGURES, PLAIN_CAUSE, STORY
from core.replies.flag_signs import GRAVE, SIGNS, SPREAD
from core.replies.harmless import harmless_words, is_a_lesson, is_long_over
from core.replies.meaning import Urgency
from core.replies.second_opinion import likely_flag, weighed
from core.replies.sign import Sign
from core.replies.things import is_a_thing

_DENIED = re.compile(
    r"\b(?:no|not|never|without|zero|nor|neither|free of|free from|nothing like|none of|hardly any|any|"
    r"ruled out|cleared (?:of|for)|0)(?: (?:a|an|any|the|my|real|actual|feel|feeling|felt|had|have|"
    r"having|get|got|getting|been|more|sign|signs|hint|of|at|all|bit|really|even|that|ever|"
    r"experienced?|once|remotely|so|too|very|kind|sort|single|other|notice|noticed|chest|pain|pains|"
    r"dizz\w*|breath\w*|palpit\w*|short\w*|swell\w*|faint\w*|tight\w*|or|nor|and|pressure|headache|"
    r"problems?|symptoms?|issues?|discomfort|numbness|nausea|heart|racing|light|headed|"
    r"lightheaded\w*))* ?$"
)
_PASSED = re.compile(
    r"\b(?:again since|(?:fainted|dizzy|happened|blacked out|passed out|collapsed) again|since then|"
    r"any ?more|no longer|no more|any longer)\b"
)
_JUST_NOW = re.compile(r"\b(?:now|today|this time|tonight|at the moment|right now|this morning)\b")
_HAD_IT = re.compile(
    r"\b(?:had (?:it|some|a bit|one)|did (?:have|get|feel) (?:it|some)|got it (?:yesterday|earlier|last)|it (?:happened|came)|before it (?:passed|"
    r"went|stopped)|had to (?:sit|lie|stop))\b|\b(?:was|were) (?:yesterday|earlier|on set|on the|after the|last (?:night|week))\b"
)
"""'No chest pain today, had it yesterday': what is denied for now was there before."""
_DENIED_AFTER = re.compile(r"^(?:no|nope|none|not|nothing|never|not at all|negative|nah)\b")


_SUBJECT = re.compile(
    rf"\b(?:(?:my|our|a|the|his|her|their|one of the|another|some|every) (?:\w+ )?(?P<noun>{OTHERS})|"
    rf"(?P<bare>(?!(?:them|him)\b)(?:{OTHERS}))|(?P<me>(?<!of )(?:i|me|my|mine|myself|we)))\b"
)
_TELLS = frozenset(
    {
        "doctor",
        "doc",
        "physio",
        "nurse",
        "paramedic",
        "medic",
        "surgeon",
        "consultant",
        "cardiologist",
        "specialist",
        "gp",
        "you",
    }
)


def read_red_flags(
    clauses: list[Clause], plain: str, *, share: float, after_effort: bool = False
) -> Urgency | None:
    """The gravest flag in a message: an alarm, a question, or None.

    ``clauses`` say whose words are whose; ``after_effort`` where the words answer how hard a session was; ``share`` is how like a
    red flag the whole message sounds, by which each sign is weighed, the grave ones the least. What stands in the midst of much
    else is weighed by its own clause too: good news must not drown it.
    """
    if is_a_lesson(plain):
        return None
    for harmless in harmless_words(plain):
        clauses = [replace(clause, text=harmless.sub(" ; ", clause.text)) for clause in clauses]
    seen = [
        (sign, level, max(share, likely_flag(clauses[number].text) if len(clauses) >= _DROWNS else 0))
        for number in range(len(clauses))
        for sign, level in _flags_in(number, clauses, after_effort)
    ]
    seen += [(sign, level, share) for sign, level in _across(clauses)]
    found = {weighed(level, like, grave=sign in GRAVE) for sign, level, like in seen} - {None}
    if Urgency.ALARM in found:
        return Urgency.ASK if _may_be_nothing(plain) else Urgency.ALARM
    also_mine = _ALSO_MINE.search(plain) and dismisses_a_sign(clauses)
    return Urgency.ASK if found or also_mine else None


_DROWNS = 3
"""From so many clauses on, the whole of a message may sound harmless whatever stands in one of them."""
_ALSO_MINE = re.compile(r"\b(?:so did i|so have i|i did too|and me too|and so am i|same (?:here|for me))\b")
"""'Jonas passed out, and so did I'."""


def without_figures(text: str) -> str:
    """The text with figures of speech blotted out."""
    return FIGURES.sub(" ; ", PLAIN_CAUSE.sub(" ; ", text))


def without_harmless(plain: str) -> str:
    """The message with all blotted out that names a sign and means none."""
    if is_a_lesson(plain) or is_long_over(plain):
        return ""
    for harmless in harmless_words(plain):
        plain = harmless.sub(" ", plain)
    return _IS_FINE.sub(" ", PLAIN_CAUSE.sub(" ", plain))


_IS_FINE = re.compile(
    r"\b(?:my |the |both )*(?:ankles?|chest|heart|head|back|knees?|legs?|arms?|calf|calves|neck|shoulders?|breathing|pulse|feet|foot|hips?|"
    r"hands?|wrists?|elbows?) (?:is|are|feels?|felt|was|were) (?:all |perfectly |totally |completely )?(?:fine|ok|good|great|normal|well|perfect)"
    r"(?= ?(?:$|[,.]|and\b|today\b))"
)
"""'My ankles are fine' sounds like the sign that it denies."""


def dismisses_a_sign(clauses: list[Clause]) -> bool:
    """Whether a sign is named, and is denied or somebody else's."""
    for number, clause in enumerate(clauses):
        text = without_figures(clause.text)
        for sign in SIGNS:
            found = sign.words.search(text)
            if found and (
                _is_denied(number, clauses, text, found)
                or not (_FOR_ME.match(text, found.end()) or _is_own(clause, text, found.start()))
            ):
                return True
    return False


_IF_IT_COMES = re.compile(r"\b(?:if|when|in case) i (?:ever )?(?:get|feel|have|start|notice|should)\b")
"""'Do I stop if I get chest pain?' tells of none."""


def _may_be_nothing(plain: str) -> bool:
    """Whether a sign is to be asked about rather than believed: a story, a joke, or long ago."""
    if STORY.search(plain) and not re.search(r"\b(?:i|my|me)\b", plain):
        return True
    if "?" in plain and _IF_IT_COMES.search(plain):
        return True
    return bool(DOUBTFUL.search(plain)) and not _IS_GRAVE.search(plain)


_FOR_ME = re.compile(r"(?: out| over| up)? for me\b")
"""'They would have to bring the defib out for me'."""
_IS_ONES_OWN = re.compile(r"\b(?:without me|my ?self|my (?:own )?life|i (?:am|was|were) (?:gone|dead|not))\b")


_IS_GRAVE = re.compile(
    r"\b(?:chest|kill|suicid\w*|urine|pee|seizure|fainted in|unconscious|murmur|happened)\b"
)


def _flags_in(
    number: int, clauses: list[Clause], after_effort: bool = False
) -> Iterable[tuple[Sign, Urgency]]:
    clause = clauses[number]
    text = without_figures(clause.text)
    for sign in SIGNS:
        found = sign.words.search(text)
        if (
            found
            and (
                re.search(r"\b(?:my|me)\b", found.group())
                or _FOR_ME.match(text, found.end())
                or _IS_ONES_OWN.search(found.group())
                or _is_own(clause, text, found.start())
            )
            and not _is_denied(number, clauses, text, found)
        ):
            level = _level(sign, f"{text} session" if after_effort else text)
            if level:
                yield sign, level


def _across(clauses: list[Clause]) -> list[tuple[Sign, Urgency]]:
    """Signs whose words stand in neighbouring clauses of the client's own."""
    own = [clause for clause in clauses if clause.own]
    if not any(sign.words.search(" ".join(clause.text for clause in own)) for sign in SPREAD):
        return []
    text = without_figures(" ".join(clause.text for clause in own if not dismisses_a_sign([clause])))
    if _DENIAL_ANYWHERE.search(text):
        return []
    return [
        (sign, level)
        for sign in SIGNS
        if sign in SPREAD and sign.words.search(text)
        for level in [_level(sign, text)]
        if level
    ]


_DENIAL_ANYWHERE = re.compile(r"\b(?:no|not|never|without)\b")


def _level(sign: Sign, text: str) -> Urgency | None:
    if sign.nothing_if and sign.nothing_if.search(text):
        return None
    return Urgency.ASK if sign.ask_if and sign.ask_if.search(text) else sign.level


_FINDS = re.compile(
    r"(?: (?:at|on|in|from|during) (?:\w+ ){1,3}?)?(?: medical| doctor| doc| nurse| medic| physio)? (?:have |has |had )?(?:found|diagnosed|detected|discovered|heard|told me|says? i|said i|thinks? i)\b"
)
"""What others find in the client is the client's."""


def _is_own(clause: Clause, text: str, start: int) -> bool:
    """Whether the last person named before the sign is the client; where nobody is named, whose the clause is."""
    last = None
    for last in _SUBJECT.finditer(text, 0, start):  # noqa: B007 - the last one is wanted
        pass
    if last is None:
        return clause.own and not is_a_thing(text[:start])
    if is_a_thing(text[:start]):
        return False
    other = last["noun"] or last["bare"]
    if _FINDS.match(text, last.end()):
        return True
    return other is None or other in _TELLS


def _is_denied(number: int, clauses: list[Clause], text: str, found: re.Match[str]) -> bool:
    if _PASSED.search(text):
        return False
    if _JUST_NOW.search(text) and any(_HAD_IT.search(one.text) for one in clauses[number:] if one.own):
        return False
    following = clauses[number + 1].text if number + 1 < len(clauses) else ""
    if (clauses[number].asks or text.startswith("asked ")) and _DENIED_AFTER.search(following):
        return True
    return bool(_DENIED.search(text[: found.start()]))
