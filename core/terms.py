"""The words of the trade that every part of the house shares, each spelled as people write it."""

import enum


class Room(enum.StrEnum):
    """What there is to train with where the client is, from least to most."""

    NONE = "none"
    BANDS = "bands"
    DUMBBELLS = "dumbbells"
    HOTEL_GYM = "hotel gym"
    FULL_GYM = "full gym"


class Level(enum.StrEnum):
    BEGINNER = "beginner"
    INTERMEDIATE = "intermediate"
    ADVANCED = "advanced"


class Pattern(enum.StrEnum):
    """The five movement patterns (common practice)."""

    SQUAT = "squat"
    HINGE = "hinge"
    PUSH = "push"
    PULL = "pull"
    ROTATION = "rotation"


class Block(enum.StrEnum):
    """A training block: weeks with one emphasis."""

    RETURN = "return"
    HYPERTROPHY = "hypertrophy"
    STRENGTH = "strength"
    POWER = "power"
    POWER_ENDURANCE = "power endurance"
    TAPER = "taper"
    REST = "rest"


class Place(enum.StrEnum):
    """A place of the body that can hurt. The first nine are those that exercises are chosen by."""

    NECK = "neck"
    SHOULDER = "shoulder"
    ELBOW = "elbow"
    WRIST = "wrist"
    UPPER_BACK = "upper back"
    LOWER_BACK = "lower back"
    HIP = "hip"
    KNEE = "knee"
    ANKLE = "ankle"
    BACK = "back"
    FOOT = "foot"
    CALF = "calf"
    HAMSTRING = "hamstring"
    THIGH = "thigh"
    GROIN = "groin"
    CHEST = "chest"
    HEAD = "head"
    OTHER = "other"


class Outcome(enum.StrEnum):
    """How an ask ended. An extra is a session beyond the promise."""

    DONE = "done"
    SHORT = "short"
    MISSED = "missed"
    UNANSWERED = "unanswered"
    EXCUSED = "excused"
    EXTRA = "extra"


class Weekday(enum.IntEnum):
    """ISO weekdays."""

    MONDAY = 1
    TUESDAY = 2
    WEDNESDAY = 3
    THURSDAY = 4
    FRIDAY = 5
    SATURDAY = 6
    SUNDAY = 7

    @property
    def english(self) -> str:
        return self.name.capitalize()
