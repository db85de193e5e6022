"""Lists of plain words, kept as data so that they can be read and mended without reading a rule."""

from functools import cache
from importlib.resources import files


@cache
def words_of(name: str) -> frozenset[str]:
    """The words of a file in ``data``."""
    return frozenset((files("core.replies") / "data" / name).read_text(encoding="utf-8").split())
