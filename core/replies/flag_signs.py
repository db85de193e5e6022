"""All signs of a red flag."""

from core.replies.signs_of_despair import OF_DESPAIR
from core.replies.signs_of_harm import OF_HARM
from core.replies.signs_of_something_amiss import AMISS
from core.replies.signs_of_the_heart import OF_THE_HEART
from core.replies.signs_told_sideways import TOLD_SIDEWAYS

SIGNS = (*OF_THE_HEART, *OF_HARM, *OF_DESPAIR, *TOLD_SIDEWAYS, *AMISS)
SPREAD = frozenset(sign for sign in SIGNS if sign.spread)
GRAVE = frozenset((*OF_HARM, *OF_DESPAIR))
"""Too grave to be left alone, however the rest of the message sounds."""
