"""The year of one client: what is coming up, the blocks laid out backwards from it, and what the coach accepted."""

import csv
import datetime as dt
import io
from collections.abc import Sequence
from typing import Any

from sqlalchemy.ext.asyncio import AsyncConnection

from core.people.model import Client
from core.programme.kept import KeptYear
from core.programme.year.coming_up import COLUMNS, ComingUp, read_coming_up
from core.programme.year.plan import YearPlan, lay_out_year, monday_after
from core.store import house
from core.store import programme as shelves

USUAL_WEEKS = 26
LENGTHS = (12, 26, 39, 52)


async def first_monday(tx: AsyncConnection, client: Client, at: dt.datetime) -> dt.date:
    """A plan from the chat begins on the Monday after the client's today."""
    life = await house.circumstances(tx, client)
    return monday_after(life.today(at))


def read_rows(text: str, start: dt.date, weeks: int) -> tuple[ComingUp, ...]:
    """Lines of a year file as somebody pastes or types them, with or without the line of column names."""
    lines = [line for line in text.strip().splitlines() if line.strip()]
    head = ",".join(COLUMNS)
    if lines and lines[0].replace(" ", "").casefold() == head:
        return read_coming_up("\n".join(lines).encode(), start, weeks)
    whole = [head, *(_whole(line) for line in lines)]
    return read_coming_up("\n".join(whole).encode(), start, weeks, first_line=1)


def _whole(line: str) -> str:
    """A typed line with the columns that were left out at its end added, empty; semicolons part it as well."""
    if "," not in line and line.count(";") > 1:
        line = line.replace(";", ",")
    cells = next(csv.reader(io.StringIO(line)), [])
    missing = len(COLUMNS) - len(cells)
    return line + "," * missing if missing > 0 else line


def row_of(event: ComingUp) -> dict[str, Any]:
    """Something that is coming up, as it is kept."""
    return {
        "name": event.name,
        "from": event.first.isoformat(),
        "to": event.last.isoformat(),
        "kind": str(event.kind),
        "importance": str(event.importance) if event.importance else "",
        "wants": str(event.wants) if event.wants else "",
    }


def events_from(rows: Sequence[dict[str, Any]], start: dt.date, weeks: int) -> tuple[ComingUp, ...]:
    """What was kept as coming up, without what is over before the plan begins."""
    out = io.StringIO()
    writer = csv.DictWriter(out, COLUMNS, lineterminator="\n")
    writer.writeheader()
    writer.writerows(row for row in rows if dt.date.fromisoformat(row["to"]) >= start)
    return read_coming_up(out.getvalue().encode(), start, weeks)


def laid_out(rows: Sequence[dict[str, Any]], start: dt.date, weeks: int) -> YearPlan:
    return lay_out_year(events_from(rows, start, weeks), start, weeks)


async def accept(
    tx: AsyncConnection, client: Client, plan: YearPlan, rows: Sequence[dict[str, Any]], at: dt.datetime
) -> KeptYear:
    """From now on the client's sessions are built for these blocks."""
    return await shelves.keep_year(
        tx,
        KeptYear(
            id=0,
            client_id=client.id,
            start=plan.start,
            weeks=plan.weeks,
            events=list(rows),
            blocks=plan.to_json()["blocks"],
            accepted_at=at,
        ),
    )
