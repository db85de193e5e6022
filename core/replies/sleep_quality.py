"""How good a night was, by the words for it."""

import re

from core.replies.meaning import SleepQuality
from core.replies.sleep_hours import NONE_AT_ALL

_VERY = r"(?:very |really |pretty |so |quite |super |rather |fairly |surprisingly |actually |bit |a |an )*"
_BAD = re.compile(
    rf"\bnot (?:an? |the |so |very |that |really |too |particularly |all that |especially )?(?:good|great|well|"
    rf"brilliant|enough|the best|my best|ideal|amazing)\b"
    r"|\bdo(?:es)? not sleep (?:so |very |that |too )?(?:well|good)\b|\bdid not (?:sleep|rest) (?:so |very |that |really |too |particularly )?(?:well|good|great|much|"
    r"enough)\b"
    rf"|\b{_VERY}(?:(?<!felt )(?<!feel )bad|badly|rough|roughly(?! \d)|terrible|terribly|awful|awfully|poor(?! (?:thing|lad|lass|guy|girl|boy|kid|man|woman|sod|old|chap|mite|devil)s?)|poorly|crap|"
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
_SO_SO = re.compile(r"(?:so so|ok|fine|alright|all right)(?= ,|$)")
"""'So-so, kept waking up': what is said at once is the answer."""
_NIGHT = re.compile(r"\b(?:not (?:a |the |so |very |too )?)?\w+ (?:old )?(?:night s? ?)?(?:night|kip|rest)\b")
"""'Rubbish pillow but a good night'."""


def quality_told(text: str, hours: float | None) -> SleepQuality | None:
    """In words; what is said of the sleep by its name goes before all else."""
    by_name = " , ".join(part for part in text.split(" , ") if re.search(r"\b(?:slept|sleep)\b", part))
    of_the_night = " , ".join(found.group() for found in _NIGHT.finditer(text))
    if _SO_SO.match(text):
        return SleepQuality.OK
    said = _in_words(of_the_night) or _in_words(by_name) or _in_words(text)
    return SleepQuality.BAD if said is None and hours == 0 and NONE_AT_ALL.search(text) else said


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
