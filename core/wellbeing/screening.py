"""Screening before the first session: who may start, and who should see a doctor first.

The algorithm is that of Riebe et al. 2015 (Med Sci Sports Exerc 47(11):2473-2479; ACSM's Guidelines, 10th edition, chapter 2): it
asks for present activity, for signs and known disease of heart and vessels, metabolism or kidneys, and for the effort wanted.
The words are our own. It decides nothing for good: a coach confirms, and a doctor is asked wherever it says so.
"""

import enum
from dataclasses import dataclass


class Kind(enum.Enum):
    SIGN = enum.auto()
    DISEASE = enum.auto()


@dataclass(frozen=True, slots=True)
class Question:
    """One thing to say yes to. ``key`` is stored; ``text`` is read after 'Have you noticed, or been told of'."""

    key: str
    kind: Kind
    text: str


QUESTIONS = (
    Question(
        "chest",
        Kind.SIGN,
        "pain, pressure or tightness in the chest, neck, jaw or arms, at rest or with effort",
    ),
    Question("breath", Kind.SIGN, "getting out of breath at rest or with little effort"),
    Question("faint", Kind.SIGN, "dizzy spells, or having fainted"),
    Question("lying", Kind.SIGN, "breathlessness when lying flat, or one that wakes you at night"),
    Question("swelling", Kind.SIGN, "swollen ankles"),
    Question("heartbeat", Kind.SIGN, "a heart that races, pounds or stumbles for no reason"),
    Question("legs", Kind.SIGN, "pain in the legs when walking that goes away when you stand still"),
    Question("murmur", Kind.SIGN, "a heart murmur that a doctor has found"),
    Question("fatigue", Kind.SIGN, "unusual tiredness or breathlessness in things you do every day"),
    Question("heart", Kind.DISEASE, "a disease of the heart or of blood vessels, or a stroke"),
    Question("metabolic", Kind.DISEASE, "diabetes, of either type"),
    Question("kidney", Kind.DISEASE, "a disease of the kidneys"),
)
NONE_OF_THESE = "none"
ACTIVE = "In the last three months, have you trained for about half an hour, at least briskly, on three or more days a week?"
_BY_KEY = {question.key: question for question in QUESTIONS}


class Verdict(enum.StrEnum):
    """What follows, from the freest to the strictest."""

    CONTINUE = "continue"
    START_EASY = "start easy"
    MODERATE_ONLY = "moderate only"
    DOCTOR_FIRST = "doctor first"
    STOP_AND_DOCTOR = "stop and doctor"

    @property
    def may_train(self) -> bool:
        """Whether the coach may confirm without a doctor's word."""
        return self not in {Verdict.DOCTOR_FIRST, Verdict.STOP_AND_DOCTOR}


@dataclass(frozen=True, slots=True, kw_only=True)
class Screening:
    """The answers. ``active`` as ``ACTIVE`` asks; ``cleared``: a doctor has agreed to training within the last twelve months."""

    active: bool
    yes_to: frozenset[str] = frozenset()
    wants_vigorous: bool = True
    cleared: bool = False

    def any_of(self, kind: Kind) -> bool:
        return any(_BY_KEY[key].kind is kind for key in self.yes_to)


def screen(answers: Screening) -> Verdict:
    """The verdict of the 2015 algorithm.

    Signs: a doctor first, and who is training stops. Known disease without signs: who is not active sees a doctor first; who is
    active goes on at moderate effort, and beyond it only with a doctor's word from the last twelve months. Neither: who is active
    goes on, who is not starts at light to moderate effort.
    """
    if answers.any_of(Kind.SIGN):
        return Verdict.STOP_AND_DOCTOR if answers.active else Verdict.DOCTOR_FIRST
    if not answers.any_of(Kind.DISEASE):
        return Verdict.CONTINUE if answers.active else Verdict.START_EASY
    if not answers.active:
        return Verdict.START_EASY if answers.cleared else Verdict.DOCTOR_FIRST
    return Verdict.CONTINUE if answers.cleared or not answers.wants_vigorous else Verdict.MODERATE_ONLY


FOR_CLIENT = {
    Verdict.CONTINUE: "Nothing you said stands in the way of training. Your coach confirms, and then we begin.",
    Verdict.START_EASY: (
        "Nothing you said stands in the way of starting. We begin with light to moderate sessions and build up from there; "
        "your coach confirms first."
    ),
    Verdict.MODERATE_ONLY: (
        "You can go on training at a moderate effort. Before anything harder, please ask your doctor; your coach confirms first."
    ),
    Verdict.DOCTOR_FIRST: (
        "Please see a doctor before you start, and tell them that you plan to train. It is a precaution, not a diagnosis. "
        "Your coach hears of it, and we begin once a doctor agrees."
    ),
    Verdict.STOP_AND_DOCTOR: (
        "Please stop training for now and see a doctor. It is a precaution, not a diagnosis. "
        "Your coach hears of it, and we go on once a doctor agrees. If a sign is there right now, call for help at once."
    ),
}
FOR_COACH = {
    Verdict.CONTINUE: "trains regularly, nothing declared that calls for a doctor: may go on.",
    Verdict.START_EASY: "may start at light to moderate effort and build up.",
    Verdict.MODERATE_ONLY: "trains regularly with a known condition: moderate effort only, until a doctor agrees to more.",
    Verdict.DOCTOR_FIRST: "should see a doctor before starting; please confirm only once a doctor has agreed.",
    Verdict.STOP_AND_DOCTOR: "trains, and names a sign that a doctor should see: stop; confirm only once a doctor has agreed.",
}
