"""What became of a session: done, short, missed or later.

Each clause is searched for signs, the more particular first, and what is found is masked, so that 'not done yet' is no 'done'.
What was only intended ('was going to skip') counts for nothing. Then the signs of the whole message are weighed.
"""

import re
from dataclasses import dataclass

from core.replies.clauses import Clause
from core.replies.meaning import Said
from core.replies.no_outcome import (
    CARRIED,
    CONFUSED,
    DID_NOT,
    INTENDED,
    ITS_OBJECT,
    NEVER_SKIPS,
    NO_LIMIT,
    NO_WORD_ON_IT,
    NOT_DONE,
    NOT_TOLD,
    OF_TRAINING,
    REQUESTED,
    SARCASTIC,
    TAKES_BACK,
    TO_DO_IT,
    TODAY_TO_COME,
)
from core.replies.outcome_words import (
    DONE,
    ENDED_DOING,
    LATER,
    LIMITED,
    MISSED,
    NO,
    NOT_SKIPPED,
    OTHER_SPORT,
    PART_LEFT_OUT,
    PART_OF_IT,
    PROPOSES,
    RAN_OUT,
    RESUMED,
    SHORT,
    SPEAKS_OF_IT,
    STARTED,
    THE_SPORT,
    UNDONE,
    WENT_FOR,
    WHEN,
    WILL_MISS,
    YES,
)


@dataclass(frozen=True, slots=True)
class Signs:
    """What points to each outcome, as the number of the last clause that does; -1 for none."""

    done: int = -1
    short: int = -1
    missed: int = -1
    later: int = -1
    hinted: int = -1
    undone: int = -1
    yes: bool = False
    tempted: bool = False
    limited: bool = False
    intended: bool = False
    started: bool = False
    sport: bool = False
    contradicted: bool = False

    def outcome(self, *, has_minutes: bool, has_sport_instead: bool = True) -> Said | None:
        """The signs weighed: a plan to do it outlives a miss, a part done is short, else the last word counts."""
        if self.is_contradictory and self.short < 0:
            return None
        if self.short >= 0 or (self.limited and has_minutes) or self._only_begun:
            return Said.SHORT
        if self.yes and self.done == 0 and max(self.later, self.hinted) > 0:
            return None
        if self._is_done:
            return Said.DONE
        if self.later >= 0:
            return Said.LATER
        if self.missed >= 0 or (self.sport and has_sport_instead):
            return Said.MISSED
        return self._from_hints(has_minutes=has_minutes)

    @property
    def is_contradictory(self) -> bool:
        """Done, and taken back, or missed in the same breath."""
        return self.done >= 0 and (self.contradicted or self.done == self.missed)

    @property
    def _only_begun(self) -> bool:
        return self.started and max(self.done, self.missed, self.later, self.hinted) < 0

    @property
    def _is_done(self) -> bool:
        """Done, and neither 'not yet' nor a miss or a plan after it says otherwise."""
        if self.done < 0 or self.undone > self.done:
            return False
        return self.missed < 0 or self.done > max(self.missed, self.later)

    def _from_hints(self, *, has_minutes: bool) -> Said | None:
        if self.hinted >= 0:
            return Said.LATER
        return Said.MISSED if self.intended and not has_minutes else None


def read_signs(clauses: list[Clause], *, asked: bool) -> Signs:
    """The signs in the client's own clauses; ``asked`` when the session was asked about: then 'yes' is an answer."""
    last = {"done": -1, "short": -1, "missed": -1, "later": -1, "hinted": -1, "undone": -1}
    flags = {
        "limited": False,
        "intended": False,
        "started": False,
        "sport": False,
        "yes": False,
        "tempted": False,
        "contradicted": False,
    }
    weak = -1  # 'I haven't skipped it' may be said of what is still to come
    for number, clause in enumerate(clauses):
        before = clauses[number - 1] if number else None
        if clause.own and clause.real:
            if last["done"] >= 0 and _is_taken_back(number, clauses):
                flags["contradicted"] = True
                continue
            if before and not before.own and DID_NOT.search(clause.text):
                last |= _unlike_the_others(before.text, number)
                continue
            if flags["tempted"] and DID_NOT.search(clause.text):
                last["done"] = number
                continue
            found, noted = _signs_of(clause, asked=asked, first=number == 0)
            if RESUMED.search(clause.text):
                last["short"], found = -1, {"done"}
            last |= dict.fromkeys(found, number)
            weak = number if NOT_SKIPPED.search(clause.text) else weak
            flags |= dict.fromkeys(noted, True)
    if last["done"] >= 0 and last["done"] == weak and max(last["later"], last["hinted"]) > weak:
        last["done"] = -1
    if (
        asked
        and not flags["yes"]
        and max(last.values()) < 0
        and not any(one.asks or one.text.startswith("if ") for one in clauses)
    ):
        last |= _bare_answer(clauses)
    return Signs(**last, **flags)  # type: ignore[arg-type]


def _is_taken_back(number: int, clauses: list[Clause]) -> bool:
    """'Did it. Lol no'; but a no may answer a question of the client's own, or lead on to another number."""
    following = clauses[number + 1].text if number + 1 < len(clauses) else ""
    return (
        bool(TAKES_BACK.search(clauses[number].text))
        and not clauses[number - 1].asks
        and not re.search(r"\d", following)
    )


def _unlike_the_others(text: str, number: int) -> dict[str, int]:
    """'The others skipped, I didn't' is done; 'they trained, I didn't' is missed."""
    return {"done" if MISSED.search(text) and not DONE.search(text) else "missed": number}


def _bare_answer(clauses: list[Clause]) -> dict[str, int]:
    """A yes or no that stands alone among other news: 'boarding now. no'."""
    names = {"no": "missed", "yes": "done"}
    return {
        names[clause.text]: number
        for number, clause in enumerate(clauses)
        if clause.text in names and clause.own and not clause.asks
    }


def _signs_of(clause: Clause, *, asked: bool, first: bool) -> tuple[set[str], set[str]]:
    """(outcomes that a clause points to, what else it says)."""
    text, found, noted = _real_part(
        NO_WORD_ON_IT.sub(" ; ", CONFUSED.sub(" ; ", CARRIED.sub(" ; ", clause.text)))
    )
    if _is_other_sport(text, clause.text):
        noted.add("sport")
        text = text if "session" in text else THE_SPORT.sub(" ; ", text)
    if UNDONE.search(text):
        return {"undone", "later"}, noted
    if WILL_MISS.search(text):
        return {"missed"}, noted
    text = _without_other_objects(text)
    for name, pattern in (
        ("short", SHORT),
        ("done", ENDED_DOING),
        ("later", LATER),
        ("missed", MISSED),
        ("done", DONE),
    ):
        if pattern.search(text):
            found.add(name)
            text = pattern.sub(" ; ", text)
    if RAN_OUT.search(text):
        noted.add("limited")
        found.add("short" if {"done", "short"} & found else "missed")
    if STARTED.search(text):
        noted.add("started")
    if asked and first and not found and YES.search(clause.text):
        noted.add("yes")
    return found | (_answers(clause.text, text, found, first=first) if asked else set()), noted


def _without_other_objects(text: str) -> str:
    """'Missed my flight' and 'finished the book' are no word on a session."""
    return ITS_OBJECT.sub(
        lambda found: found.group() if _is_training(found["object"].split()) else " ; ", text
    )


def _is_training(words: list[str]) -> bool:
    if len(words) == 1:
        return words[0] in {"it", "this", "that", "mine", "one"}
    return bool(OF_TRAINING.search(" ".join(words[1:])))


def _real_part(text: str) -> tuple[str, set[str], set[str]]:
    """The clause without what was only intended or never happens, and the signs that this leaves."""
    found, noted = set(), set()
    if LIMITED.search(NO_LIMIT.sub(" ", text)):
        noted.add("limited")
    if NOT_DONE.search(text) or SARCASTIC.search(text) or TODAY_TO_COME.search(text):
        noted.add("contradicted")
    if PART_OF_IT.search(text):
        found.add("short")
    intended = INTENDED.search(text)
    if intended:
        noted.add("intended" if TO_DO_IT.search(intended.group()) else "tempted")
    text = REQUESTED.sub(" ; ", NOT_TOLD.sub(" ; ", NEVER_SKIPS.sub(" ; ", INTENDED.sub(" ; ", text))))
    if NOT_SKIPPED.search(text):
        found.add("done")
    return PART_LEFT_OUT.sub(" ; ", NOT_SKIPPED.sub(" ; ", text)), found, noted


def _answers(whole: str, left: str, found: set[str], *, first: bool) -> set[str]:
    """What only means something because the session was asked about."""
    if whole == "0" and not found:
        return {"missed"}
    if first and YES.search(whole):
        return {"done"} if "later" not in found else set()
    if first and NO.search(whole) and not found - {"missed"}:
        return {"missed"}
    if CONFUSED.search(whole) or re.fullmatch(r"today (?:about |only |just )?\d{2}(?: min)?", whole):
        return set()
    if REQUESTED.search(whole) or NOT_TOLD.search(whole):
        return set()
    if not found and PROPOSES.search(whole):
        return {"later"}
    return {"hinted"} if not found and WHEN.search(left) and SPEAKS_OF_IT.search(whole) else set()


def _is_other_sport(text: str, whole: str) -> bool:
    return bool(OTHER_SPORT.search(text)) and bool(re.search(r"\binstead\b", whole) or WENT_FOR.search(text))
