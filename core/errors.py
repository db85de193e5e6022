"""What can go wrong, as people are told of it.

::

    Fault             something a person can put right; every line says what is wrong and what to do
    └── Refused       input that is refused whole, with every bad place named
"""

from collections.abc import Sequence


class Fault(Exception):  # noqa: N818 - reads as what it is
    """It did not work, for a reason that a person can put right: one line a reason."""

    def __init__(self, *lines: str) -> None:
        super().__init__("\n".join(lines))
        self.lines: Sequence[str] = lines


class Refused(Fault):
    """Input that was refused whole, nothing of it used; one line for every bad place."""
