"""When two spellings are one name: capitals, blanks, and a letter whose accent some keyboards write apart make no difference."""

import unicodedata


def folded(name: str) -> str:
    """A name as it is compared, never as it is shown."""
    return " ".join(unicodedata.normalize("NFC", name).casefold().split())
