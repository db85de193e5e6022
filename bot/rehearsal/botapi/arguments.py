"""What a call brings along, whether as JSON, as a form, in parts with files, or in the address."""

import json
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from starlette.datastructures import UploadFile
from starlette.requests import Request

from bot.rehearsal.botapi.errors import ApiError, bad_request

LARGEST_UPLOAD = 50 * 1024 * 1024


@dataclass(frozen=True, slots=True)
class Upload:
    name: str
    mime: str
    content: bytes


class Arguments:
    """Values by name. In a form everything is text, and what is not plain text is JSON."""

    def __init__(self, values: Mapping[str, Any], uploads: Mapping[str, Upload] | None = None) -> None:
        self._values = values
        self._uploads = uploads or {}

    def __contains__(self, name: str) -> bool:
        return name in self._values or name in self._uploads

    def text(self, name: str, default: str = "") -> str:
        value = self._values.get(name, default)
        return value if isinstance(value, str) else json.dumps(value)

    def whole(self, name: str, default: int | None = None) -> int | None:
        value = self._values.get(name)
        if value in (None, ""):
            return default
        try:
            return int(str(value))
        except ValueError:
            raise bad_request(f"invalid {name} specified") from None

    def number(self, name: str) -> float | None:
        try:
            return float(self._values[name])
        except (KeyError, ValueError, TypeError):
            return None

    def flag(self, name: str) -> bool:
        return str(self._values.get(name, "")).lower() in ("true", "1", "yes")

    def structure(self, name: str) -> Any:  # noqa: ANN401 - JSON of the caller's
        """A list or an object, or None."""
        value = self._values.get(name)
        if not isinstance(value, str):
            return value
        if not value:
            return None
        try:
            return json.loads(value)
        except json.JSONDecodeError:
            raise bad_request(f"can't parse {name.replace('_', ' ')} JSON object") from None

    def chat(self, name: str = "chat_id") -> int:
        value = str(self._values.get(name, ""))
        if not value:
            raise bad_request(f"{name} is empty")
        try:
            return int(value)
        except ValueError:
            raise bad_request("chat not found") from None

    def upload(self, name: str) -> Upload | str:
        """A file that came along (also as ``attach://part``), or the identifier of one."""
        if name in self._uploads:
            return self._uploads[name]
        value = self.text(name)
        part = value.removeprefix("attach://")
        return self._uploads[part] if part != value and part in self._uploads else value


async def read_arguments(request: Request) -> Arguments:
    """Read a call; raises 400 where it cannot be read, 413 where a file is too large."""
    kind = request.headers.get("content-type", "").partition(";")[0].strip().lower()
    given: dict[str, Any] = dict(request.query_params)
    if kind == "application/json":
        return Arguments(given | await _json(request))
    if kind not in ("application/x-www-form-urlencoded", "multipart/form-data"):
        return Arguments(given)
    uploads: dict[str, Upload] = {}
    async with request.form() as form:
        for name, value in form.items():
            if isinstance(value, UploadFile):
                uploads[name] = await _upload(value)
            else:
                given[name] = value
    return Arguments(given, uploads)


async def _json(request: Request) -> dict[str, Any]:
    try:
        body = json.loads(await request.body() or b"{}")
    except ValueError:
        body = None
    if not isinstance(body, dict):
        raise bad_request("can't parse JSON object")
    return {name: value for name, value in body.items() if value is not None}


async def _upload(part: UploadFile) -> Upload:
    content = await part.read()
    if len(content) > LARGEST_UPLOAD:
        raise ApiError(413, "Request Entity Too Large")
    return Upload(part.filename or "file", part.content_type or "application/octet-stream", content)
