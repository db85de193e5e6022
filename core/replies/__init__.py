"""What a client's words mean: outcomes, numbers, days, trips, pain and red flags, read by rules alone."""

from core.replies.meaning import Asked, Meaning
from core.replies.understanding import understand

__all__ = ["Asked", "Meaning", "understand"]
