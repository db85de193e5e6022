"""'1 session', '3 sessions': a number and what it counts."""


def how_many(number: int, one: str, many: str | None = None) -> str:
    return f"{number} {one if number == 1 else many or one + 's'}"
