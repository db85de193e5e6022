"""A number that was given is never given again, also on SQLite: there a new row would take that of the last one deleted."""

import re

import sqlalchemy as sa
from alembic import op

revision = "0004"
down_revision = "0003"
branch_labels = None
depends_on = None

NUMBERED = (
    "inbox",
    "outbox",
    "coach",
    "client",
    "invitation",
    "screening",
    "trip",
    "promise",
    "ask",
    "unasked",
    "night",
    "red_flag",
    "remark",
    "remote_session",
    "own_exercise",
    "own_session",
    "media_note",
    "lift_result",
    "year_plan",
)


def upgrade() -> None:
    if op.get_bind().dialect.name == "sqlite":  # PostgreSQL never does
        for table in NUMBERED:
            make_anew(table, counting(table, declaration(table)))


def downgrade() -> None:
    if op.get_bind().dialect.name == "sqlite":
        for table in NUMBERED:
            make_anew(table, not_counting(table, declaration(table)))


def declaration(table: str) -> str:
    found = op.get_bind().execute(
        sa.text("SELECT sql FROM sqlite_master WHERE type = 'table' AND name = :name"), {"name": table}
    )
    return str(found.scalar_one())


def counting(table: str, sql: str) -> str:
    sql = replaced(sql, r"\bid INTEGER NOT NULL,", "id INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT,")
    return replaced(sql, rf",\s*CONSTRAINT pk_{table} PRIMARY KEY \(id\)", "")


def not_counting(table: str, sql: str) -> str:
    sql = replaced(sql, r"\bid INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT,", "id INTEGER NOT NULL,")
    return replaced(sql, r"\s*\)\s*\Z", f", \n\tCONSTRAINT pk_{table} PRIMARY KEY (id)\n)")


def replaced(sql: str, what: str, by: str) -> str:
    changed, times = re.subn(what, by, sql)
    if times != 1:
        raise ValueError(f"{what} stands {times} times in {sql}")
    return changed


def make_anew(table: str, sql: str) -> None:
    """The same rows and indexes in a table that is declared otherwise; SQLite cannot change it in place."""
    indexes = op.get_bind().execute(
        sa.text(
            "SELECT sql FROM sqlite_master WHERE type = 'index' AND tbl_name = :name AND sql IS NOT NULL"
        ),
        {"name": table},
    )
    made = [str(each) for each in indexes.scalars()]
    op.execute(replaced(sql, rf'\ACREATE TABLE "?{table}"?', f"CREATE TABLE {table}_anew"))
    op.execute(f"INSERT INTO {table}_anew SELECT * FROM {table}")  # noqa: S608 - names of ours
    op.execute(f"DROP TABLE {table}")
    op.execute(f"ALTER TABLE {table}_anew RENAME TO {table}")
    for each in made:
        op.execute(each)
