"""Sealing what is sensitive: AES-128-CBC with HMAC-SHA-256, as the Fernet specification has it."""

from collections.abc import Sequence

from cryptography.fernet import Fernet, InvalidToken, MultiFernet

from core.errors import Fault


class LostKey(Fault):
    """What is stored was sealed with a key that we no longer have."""


LOST = (
    "The database holds text that was sealed with another data key than the one in use. "
    "Put the old key back: behind the new one in KEPTWORD_DATA_KEY, separated by a comma, or into the key file "
    "beside the database. Without it that text cannot be read by anybody."
)


class Cipher:
    """Seals with the newest key and opens with any of them.

    :param keys: url-safe base64 of 32 bytes each (as `new_key` makes them), newest first.
    """

    def __init__(self, keys: Sequence[str]) -> None:
        if not keys:
            raise Fault("There is no data key: without one nothing sensitive can be stored.")
        self._fernet = MultiFernet([_fernet(place, key) for place, key in enumerate(keys, start=1)])

    def seal(self, words: str) -> str:
        return self._fernet.encrypt(words.encode()).decode("ascii")

    def open(self, sealed: str) -> str:
        """The words again; `LostKey` where none of the keys fits."""
        try:
            return self._fernet.decrypt(sealed.encode("ascii")).decode()
        except (InvalidToken, UnicodeEncodeError) as error:
            raise LostKey(LOST) from error


def new_key() -> str:
    return Fernet.generate_key().decode("ascii")


def _fernet(place: int, key: str) -> Fernet:
    try:
        return Fernet(key)
    except ValueError as error:
        raise Fault(
            f"Data key number {place} is not a key: it must be 32 bytes in url-safe base64, 44 characters ending in '='. "
            "Copy it again, whole; 'keptword doctor --new-key' prints a fresh one."
        ) from error
