"""What is the coach's own, results of lifts, the laid-out year."""

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"
branch_labels = None
depends_on = None

ROW_ID = sa.BigInteger().with_variant(sa.Integer(), "sqlite")
INSTANT = sa.DateTime(timezone=True)
SEALED = sa.Text()


def upgrade() -> None:
    make_own_exercise()
    make_own_session()
    make_media_note()
    make_lift_result()
    make_year_plan()


def downgrade() -> None:
    op.drop_table("year_plan")
    op.drop_table("lift_result")
    op.drop_table("media_note")
    op.drop_table("own_session")
    op.drop_table("own_exercise")


def of(table: str, owner: str) -> sa.ForeignKeyConstraint:
    return sa.ForeignKeyConstraint(
        [f"{owner}_id"], [f"{owner}.id"], name=f"fk_{table}_{owner}_id_{owner}", ondelete="CASCADE"
    )


def make_own_exercise() -> None:
    op.create_table(
        "own_exercise",
        sa.Column("id", ROW_ID, autoincrement=True, nullable=False),
        sa.Column("coach_id", sa.BigInteger(), nullable=False),
        sa.Column("name", SEALED, nullable=False),
        sa.Column("pattern", sa.String(32), nullable=False),
        sa.Column("room", sa.String(32), nullable=False),
        sa.Column("load", sa.String(16), nullable=False),
        sa.Column("cues", SEALED, nullable=False),
        sa.Column("made_at", INSTANT, nullable=False),
        of("own_exercise", "coach"),
        sa.PrimaryKeyConstraint("id", name="pk_own_exercise"),
    )
    op.create_index("ix_own_exercise_coach_id", "own_exercise", ["coach_id"])


def make_own_session() -> None:
    op.create_table(
        "own_session",
        sa.Column("id", ROW_ID, autoincrement=True, nullable=False),
        sa.Column("coach_id", sa.BigInteger(), nullable=False),
        sa.Column("client_id", sa.BigInteger()),
        sa.Column("title", SEALED, nullable=False),
        sa.Column("words", SEALED, nullable=False),
        sa.Column("room", sa.String(32), nullable=False),
        sa.Column("minutes", sa.Integer(), nullable=False),
        sa.Column("made_at", INSTANT, nullable=False),
        sa.CheckConstraint("minutes > 0", name=op.f("ck_own_session_minutes_positive")),
        of("own_session", "client"),
        of("own_session", "coach"),
        sa.PrimaryKeyConstraint("id", name="pk_own_session"),
    )
    op.create_index("ix_own_session_client_id", "own_session", ["client_id"])
    op.create_index("ix_own_session_coach_id", "own_session", ["coach_id"])


def make_media_note() -> None:
    op.create_table(
        "media_note",
        sa.Column("id", ROW_ID, autoincrement=True, nullable=False),
        sa.Column("coach_id", sa.BigInteger(), nullable=False),
        sa.Column("exercise", sa.String(80), nullable=False),
        sa.Column("media", sa.String(16), nullable=False),
        sa.Column("chat_id", sa.BigInteger(), nullable=False),
        sa.Column("message_id", sa.BigInteger(), nullable=False),
        sa.Column("made_at", INSTANT, nullable=False),
        of("media_note", "coach"),
        sa.PrimaryKeyConstraint("id", name="pk_media_note"),
        sa.UniqueConstraint("coach_id", "exercise", name="uq_media_note_coach_id_exercise"),
    )


def make_lift_result() -> None:
    op.create_table(
        "lift_result",
        sa.Column("id", ROW_ID, autoincrement=True, nullable=False),
        sa.Column("client_id", sa.BigInteger(), nullable=False),
        sa.Column("session_id", sa.BigInteger()),
        sa.Column("exercise", sa.String(80), nullable=False),
        sa.Column("day", sa.Date(), nullable=False),
        sa.Column("done", SEALED, nullable=False),
        sa.Column("said_at", INSTANT, nullable=False),
        of("lift_result", "client"),
        sa.PrimaryKeyConstraint("id", name="pk_lift_result"),
    )
    op.create_index("ix_lift_result_client_id", "lift_result", ["client_id"])
    op.create_index("ix_lift_result_session_id", "lift_result", ["session_id"])


def make_year_plan() -> None:
    op.create_table(
        "year_plan",
        sa.Column("id", ROW_ID, autoincrement=True, nullable=False),
        sa.Column("client_id", sa.BigInteger(), nullable=False),
        sa.Column("start", sa.Date(), nullable=False),
        sa.Column("weeks", sa.Integer(), nullable=False),
        sa.Column("events", SEALED, nullable=False),
        sa.Column("blocks", SEALED, nullable=False),
        sa.Column("accepted_at", INSTANT, nullable=False),
        of("year_plan", "client"),
        sa.PrimaryKeyConstraint("id", name="pk_year_plan"),
        sa.UniqueConstraint("client_id", name="uq_year_plan_client_id"),
    )
