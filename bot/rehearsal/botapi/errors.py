"""Refusals in the shape that the Bot API gives them."""

from typing import Any


class ApiError(Exception):
    """A call that is answered with ``ok: false``."""

    def __init__(self, code: int, description: str, *, retry_after: int | None = None) -> None:
        super().__init__(description)
        self.code = code
        self.description = description
        self.retry_after = retry_after

    def body(self) -> dict[str, Any]:
        answer: dict[str, Any] = {"ok": False, "error_code": self.code, "description": self.description}
        if self.retry_after is not None:
            answer["parameters"] = {"retry_after": self.retry_after}
        return answer


def bad_request(why: str) -> ApiError:
    return ApiError(400, f"Bad Request: {why}")


def forbidden(why: str) -> ApiError:
    return ApiError(403, f"Forbidden: {why}")


def conflict(why: str) -> ApiError:
    return ApiError(409, f"Conflict: {why}")


def too_many_requests(retry_after: int) -> ApiError:
    """Flood control; ``retry_after`` in whole seconds."""
    return ApiError(429, f"Too Many Requests: retry after {retry_after}", retry_after=retry_after)
