"""Single-use links: 128 random bits to hand over, a hash to keep."""

import base64
import datetime as dt
import hashlib

from core.people.model import INVITATION_HOLDS, Invitation, Role

TOKEN_BYTES = 16


def token_from(random_bytes: bytes) -> str:
    """Spell 16 random bytes in the alphabet of a deep link (A-Z a-z 0-9 _ -, at most 64 signs)."""
    if len(random_bytes) < TOKEN_BYTES:
        msg = f"a token needs {TOKEN_BYTES} random bytes"
        raise ValueError(msg)
    return base64.urlsafe_b64encode(random_bytes[:TOKEN_BYTES]).rstrip(b"=").decode()


def hash_of(token: str) -> str:
    """Hash a token for keeping. It is random and long, so that no salt and no slow hash is needed."""
    return hashlib.sha256(token.encode()).hexdigest()


def invite(role: Role, person_id: int, token: str, *, at: dt.datetime) -> Invitation:
    return Invitation(
        id=0, role=role, person_id=person_id, token_hash=hash_of(token), expires_at=at + INVITATION_HOLDS
    )


def deep_link(bot_name: str, token: str) -> str:
    return f"https://t.me/{bot_name}?start={token}"
