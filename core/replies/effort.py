"""How hard a session was, on the CR-10 scale."""

import re
from dataclasses import dataclass

_N = r"(?:\d{1,3}(?:\.\d)?)"
_RANGE = rf"(?P<n>{_N})(?: (?:-|to|or|and|maybe) (?:an? )?(?P<m>{_N}))?"
_NO_UNIT = (
    r"(?![\d:.]*\d)(?!/(?!10\b))(?! ?(?:dollars?|euros?|pounds?|quid|man|men|people|storey|floors?|metres?|flights?|shows?|min|hour|km|kg|lbs|reps?|sets?|x|rounds?|exercises|times|days?|"
    r"weeks?|miles|%)\b)(?! ?%)(?! (?:this|next|per|a|for next|for the) week\b)"
)
_HOW = (
    r"(?:(?:was|is|of|between|about|around|an?|level|like|maybe|more|say|probably|roughly|at|felt|i|would|it|"
    r"overall|a solid|solid|today) )*"
)
_NAMED = re.compile(
    rf"\b(?:effort|rpe|exertion|intensity|difficulty) {_HOW}(?P<minus>minus )?{_RANGE}(?:/10|"
    rf" out of 10| of 10)?{_NO_UNIT}"
)
_OUT_OF_TEN = re.compile(rf"(?<![\d.:/]){_RANGE}(?: ?/ ?10| out of 10| of 10)\b(?!/)")
_BEFORE = re.compile(rf"(?<![\d.:/]){_RANGE} (?:effort|rpe)\b(?! \d)")
_A_SEVEN = re.compile(
    rf"\b(?:about|around|like|was|were|maybe|say|solid|strong|felt|call (?:it|that|this)|give it|"
    rf"gave it|it|an easy|a hard|a good|arms|legs) an? (?:solid |strong |good |hard |proper |real |big |honest |comfortable |full |"
    rf"easy )?{_RANGE}{_NO_UNIT}|(?:^|, )an? (?P<n2>{_N}){_NO_UNIT}(?= ?(?:$|,|\.|if i am|probably|maybe|easily|at least))|"
    rf"\b(?:overall|all in all|on the whole|in total) (?:, )?(?:(?:i would|call it|say|give it|it was|about|maybe|an?) )*(?P<n6>{_N}){_NO_UNIT}|\bi would (?:say|call it|give(?: it)?) (?:an? )?(?P<n3>{_N}){_NO_UNIT}(?! ?(?:tonight|tomorrow|o'clock|in the))|"
    rf"(?:^|, )(?:an? )?(?:easy|hard|solid|strong|light|tough|comfortable|moderate) (?P<n5>{_N}){_NO_UNIT}(?= ?(?:$|,))|\bbetween an? (?P<n4>{_N}) and an? (?P<m4>{_N}){_NO_UNIT}"
)
_BARE = re.compile(rf"(?<![\w.:/-])(?P<minus>minus )?{_RANGE}{_NO_UNIT}(?!\w)(?!/)")
_OF_OTHERS = re.compile(
    r"(?<![\w.:/-])\d{1,2} (?:for|from|says|said) (?!me\b|the (?!cadet|lads?|others|rest|guys|girls|boys|crew|cast|kids?|mate|captain|skipper|boss|chef|cook)|my (?!mate|roommate|wife|husband|brother|sister|partner|colleague|buddy)|sure\b|effort\b)[a-z]+(?: [a-z]+)?"
)
_OTHER_NUMBER = re.compile(r"\b(?:at|slept|sleep|in|after|by|set|round|room|of|age|day|week|times|on) $")


@dataclass(frozen=True, slots=True)
class Exertion:
    """``effort`` on the scale; ``minutes`` where a bare number must be minutes; ``rest`` is the text without them."""

    effort: float | None = None
    minutes: int | None = None
    doubtful: bool = False
    rest: str = ""


def read_effort(text: str, *, asked: bool) -> Exertion:
    """Effort as named ('effort 7', '7/10', 'about an 8'), and any bare number where it was asked for."""
    for pattern in (_NAMED, _OUT_OF_TEN, _BEFORE, _A_SEVEN):
        found = list(pattern.finditer(text))
        if found:
            return _on_the_scale(found, text)
    if not asked:
        return Exertion(rest=text)
    text = _OF_OTHERS.sub(" ", text)
    bare = [one for one in _BARE.finditer(text) if not _OTHER_NUMBER.search(text[: one.start()])]
    return _bare(bare, text)


def _on_the_scale(found: list[re.Match[str]], text: str) -> Exertion:
    values = {_middle(one) for one in found}
    rest = text
    for one in reversed(found):
        rest = rest[: one.start()] + " " + rest[one.end() :]
    if len(values) > 1 or not 0 <= min(values) <= 10 or "minus" in found[0].group():
        return Exertion(doubtful=True, rest=rest)
    return Exertion(effort=values.pop(), rest=rest)


def _bare(found: list[re.Match[str]], text: str) -> Exertion:
    if not found or "%" in text:
        return Exertion(doubtful="%" in text, rest=text)
    small = [one for one in found if _middle(one) <= 10 and "minus" not in one.group()]
    if small:
        return _on_the_scale(small, text)
    value = _middle(found[-1])
    if value > 20 and len(found) == 1 and value <= 240 and value != 100 and "minus" not in found[0].group():
        return Exertion(minutes=round(value), rest=text[: found[0].start()] + text[found[0].end() :])
    return Exertion(doubtful=True, rest=text)


def _middle(found: re.Match[str]) -> float:
    said = {name: value for name, value in found.groupdict().items() if value and name != "minus"}
    numbers = [float(value) for value in said.values()]
    return sum(numbers) / len(numbers)
