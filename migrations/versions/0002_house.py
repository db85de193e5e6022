"""People, weeks and words."""

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None

ROW_ID = sa.BigInteger().with_variant(sa.Integer(), "sqlite")
INSTANT = sa.DateTime(timezone=True)
SEALED = sa.Text()


def upgrade() -> None:
    make_coach()
    make_dialogue()
    make_invitation()
    make_stranger()
    make_client()
    make_ask()
    make_night()
    make_promise()
    make_red_flag()
    make_remark()
    make_remote_session()
    make_screening()
    make_trip()
    make_unasked()


def downgrade() -> None:
    op.drop_table("unasked")
    op.drop_table("trip")
    op.drop_table("screening")
    op.drop_table("remote_session")
    op.drop_table("remark")
    op.drop_table("red_flag")
    op.drop_table("promise")
    op.drop_table("night")
    op.drop_table("ask")
    op.drop_table("client")
    op.drop_table("stranger")
    op.drop_table("invitation")
    op.drop_table("dialogue")
    op.drop_table("coach")


def make_coach() -> None:
    op.create_table(
        "coach",
        sa.Column("id", ROW_ID, autoincrement=True, nullable=False),
        sa.Column("name", sa.String(120), nullable=False),
        sa.Column("telegram_id", sa.BigInteger()),
        sa.Column("zone", sa.String(64), nullable=False),
        sa.Column("digest_at", sa.Time(), nullable=False),
        sa.Column("stage", sa.String(32), nullable=False),
        sa.Column("raise_without_me", sa.Boolean(), nullable=False),
        sa.Column("next_due_at", INSTANT),
        sa.Column("last_digest", sa.String(8)),
        sa.Column("last_short_list", sa.String(8)),
        sa.Column("unreachable", sa.Boolean(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_coach"),
        sa.UniqueConstraint("telegram_id", name="uq_coach_telegram_id"),
    )
    op.create_index("ix_coach_next_due_at", "coach", ["next_due_at"])


def make_dialogue() -> None:
    op.create_table(
        "dialogue",
        sa.Column("telegram_id", sa.BigInteger(), autoincrement=False, nullable=False),
        sa.Column("topic", sa.String(32), nullable=False),
        sa.Column("state", SEALED, nullable=False),
        sa.Column("asked", sa.String(16), nullable=False),
        sa.Column("about", sa.BigInteger()),
        sa.Column("at", INSTANT, nullable=False),
        sa.PrimaryKeyConstraint("telegram_id", name="pk_dialogue"),
    )


def make_invitation() -> None:
    op.create_table(
        "invitation",
        sa.Column("id", ROW_ID, autoincrement=True, nullable=False),
        sa.Column("role", sa.String(32), nullable=False),
        sa.Column("person_id", sa.BigInteger(), nullable=False),
        sa.Column("token_hash", sa.String(64), nullable=False),
        sa.Column("expires_at", INSTANT, nullable=False),
        sa.Column("used_at", INSTANT),
        sa.PrimaryKeyConstraint("id", name="pk_invitation"),
        sa.UniqueConstraint("token_hash", name="uq_invitation_token_hash"),
    )
    op.create_index("ix_invitation_person_id", "invitation", ["person_id"])


def make_stranger() -> None:
    op.create_table(
        "stranger",
        sa.Column("telegram_id", sa.BigInteger(), autoincrement=False, nullable=False),
        sa.Column("told_at", INSTANT, nullable=False),
        sa.Column("tries", sa.Integer(), nullable=False),
        sa.PrimaryKeyConstraint("telegram_id", name="pk_stranger"),
    )


def make_client() -> None:
    op.create_table(
        "client",
        sa.Column("id", ROW_ID, autoincrement=True, nullable=False),
        sa.Column("coach_id", sa.BigInteger(), nullable=False),
        sa.Column("name", sa.String(120), nullable=False),
        sa.Column("telegram_id", sa.BigInteger()),
        sa.Column("stage", sa.String(32), nullable=False),
        sa.Column("consented_at", INSTANT),
        sa.Column("consent_version", sa.String(16)),
        sa.Column("place", sa.String(120), nullable=False),
        sa.Column("country", sa.String(2), nullable=False),
        sa.Column("zone", sa.String(64), nullable=False),
        sa.Column("room", sa.String(32), nullable=False),
        sa.Column("level", sa.String(32), nullable=False),
        sa.Column("lately", sa.Integer()),
        sa.Column("minutes", sa.Integer(), nullable=False),
        sa.Column("usual_days", sa.String(16), nullable=False),
        sa.Column("usual_time", sa.Time(), nullable=False),
        sa.Column("goal", SEALED, nullable=False),
        sa.Column("complaints", SEALED, nullable=False),
        sa.Column("sleep_need", sa.Float(), nullable=False),
        sa.Column("sleep_asked", sa.String(32), nullable=False),
        sa.Column("quiet_from", sa.Time(), nullable=False),
        sa.Column("quiet_to", sa.Time(), nullable=False),
        sa.Column("confidence", sa.Float(), nullable=False),
        sa.Column("floor", sa.Integer()),
        sa.Column("daily_limit", sa.Integer(), nullable=False),
        sa.Column("weekly_limit", sa.Integer(), nullable=False),
        sa.Column("first_week", sa.String(8)),
        sa.Column("heard_at", INSTANT),
        sa.Column("silent_since", sa.Date()),
        sa.Column("unwell_since", sa.Date()),
        sa.Column("paused_until", sa.Date()),
        sa.Column("unreachable", sa.Boolean(), nullable=False),
        sa.Column("calendar_hash", sa.String(64)),
        sa.Column("next_due_at", INSTANT),
        sa.CheckConstraint(
            "confidence >= 0.6 AND confidence <= 0.95", name=op.f("ck_client_confidence_range")
        ),
        sa.ForeignKeyConstraint(
            ["coach_id"], ["coach.id"], name="fk_client_coach_id_coach", ondelete="CASCADE"
        ),
        sa.PrimaryKeyConstraint("id", name="pk_client"),
        sa.UniqueConstraint("telegram_id", name="uq_client_telegram_id"),
    )
    op.create_index("ix_client_calendar_hash", "client", ["calendar_hash"])
    op.create_index("ix_client_coach_id", "client", ["coach_id"])
    op.create_index("ix_client_next_due_at", "client", ["next_due_at"])


def make_ask() -> None:
    op.create_table(
        "ask",
        sa.Column("id", ROW_ID, autoincrement=True, nullable=False),
        sa.Column("client_id", sa.BigInteger(), nullable=False),
        sa.Column("week", sa.String(8), nullable=False),
        sa.Column("day", sa.Date(), nullable=False),
        sa.Column("at", sa.Time(), nullable=False),
        sa.Column("minutes", sa.Integer(), nullable=False),
        sa.Column("revision", sa.Integer(), nullable=False),
        sa.Column("extra", sa.Boolean(), nullable=False),
        sa.Column("weekly", sa.Boolean(), nullable=False),
        sa.Column("withdrawn", sa.Boolean(), nullable=False),
        sa.Column("outcome", sa.String(32)),
        sa.Column("answered_at", INSTANT),
        sa.Column("prompted", sa.Integer()),
        sa.Column("prompted_at", INSTANT),
        sa.Column("followed_up_at", INSTANT),
        sa.Column("said_at", INSTANT),
        sa.Column("missed_once", sa.Boolean(), nullable=False),
        sa.Column("took_minutes", sa.Integer()),
        sa.Column("effort", sa.Float()),
        sa.Column("session_id", sa.BigInteger()),
        sa.ForeignKeyConstraint(
            ["client_id"], ["client.id"], name="fk_ask_client_id_client", ondelete="CASCADE"
        ),
        sa.PrimaryKeyConstraint("id", name="pk_ask"),
    )
    op.create_index("ix_ask_client_week", "ask", ["client_id", "week"])


def make_night() -> None:
    op.create_table(
        "night",
        sa.Column("id", ROW_ID, autoincrement=True, nullable=False),
        sa.Column("client_id", sa.BigInteger(), nullable=False),
        sa.Column("day", sa.Date(), nullable=False),
        sa.Column("slept", SEALED, nullable=False),
        sa.Column("said_at", INSTANT, nullable=False),
        sa.ForeignKeyConstraint(
            ["client_id"], ["client.id"], name="fk_night_client_id_client", ondelete="CASCADE"
        ),
        sa.PrimaryKeyConstraint("id", name="pk_night"),
        sa.UniqueConstraint("client_id", "day", name="uq_night_client_id_day"),
    )


def make_promise() -> None:
    op.create_table(
        "promise",
        sa.Column("id", ROW_ID, autoincrement=True, nullable=False),
        sa.Column("client_id", sa.BigInteger(), nullable=False),
        sa.Column("week", sa.String(8), nullable=False),
        sa.Column("recommended", sa.Integer()),
        sa.Column("recommended_minutes", sa.Integer()),
        sa.Column("recommended_if_done", sa.Integer()),
        sa.Column("talk_first", sa.Boolean(), nullable=False),
        sa.Column("well", sa.Boolean(), nullable=False),
        sa.Column("why", SEALED, nullable=False),
        sa.Column("odds", SEALED, nullable=False),
        sa.Column("expected", SEALED, nullable=False),
        sa.Column("engaged", sa.Float()),
        sa.Column("issued_at", INSTANT),
        sa.Column("settle_by", INSTANT),
        sa.Column("settled", sa.Integer()),
        sa.Column("settled_by", sa.String(32)),
        sa.Column("settled_at", INSTANT),
        sa.Column("told_at", INSTANT),
        sa.Column("tellings", sa.Integer(), nullable=False),
        sa.Column("both_cases", sa.Boolean(), nullable=False),
        sa.Column("needs_yes", sa.Boolean(), nullable=False),
        sa.Column("agreed", sa.Integer()),
        sa.Column("agreed_by", sa.String(32)),
        sa.Column("agreed_at", INSTANT),
        sa.Column("minutes", sa.Integer(), nullable=False),
        sa.Column("lowered", sa.Boolean(), nullable=False),
        sa.Column("extra_offered", sa.Boolean(), nullable=False),
        sa.CheckConstraint(
            "agreed IS NULL OR (agreed >= 0 AND agreed <= 7)", name=op.f("ck_promise_agreed_range")
        ),
        sa.CheckConstraint(
            "settled IS NULL OR (settled >= 0 AND settled <= 7)", name=op.f("ck_promise_settled_range")
        ),
        sa.ForeignKeyConstraint(
            ["client_id"], ["client.id"], name="fk_promise_client_id_client", ondelete="CASCADE"
        ),
        sa.PrimaryKeyConstraint("id", name="pk_promise"),
        sa.UniqueConstraint("client_id", "week", name="uq_promise_client_id_week"),
    )


def make_red_flag() -> None:
    op.create_table(
        "red_flag",
        sa.Column("id", ROW_ID, autoincrement=True, nullable=False),
        sa.Column("client_id", sa.BigInteger(), nullable=False),
        sa.Column("words", SEALED, nullable=False),
        sa.Column("sure", sa.Boolean(), nullable=False),
        sa.Column("raised_at", INSTANT, nullable=False),
        sa.Column("told", sa.Integer(), nullable=False),
        sa.Column("told_at", INSTANT),
        sa.Column("seen_at", INSTANT),
        sa.Column("cleared_at", INSTANT),
        sa.Column("note", SEALED),
        sa.ForeignKeyConstraint(
            ["client_id"], ["client.id"], name="fk_red_flag_client_id_client", ondelete="CASCADE"
        ),
        sa.PrimaryKeyConstraint("id", name="pk_red_flag"),
    )
    op.create_index("ix_red_flag_client_id", "red_flag", ["client_id"])


def make_remark() -> None:
    op.create_table(
        "remark",
        sa.Column("id", ROW_ID, autoincrement=True, nullable=False),
        sa.Column("client_id", sa.BigInteger(), nullable=False),
        sa.Column("said_by", sa.String(32), nullable=False),
        sa.Column("kind", sa.String(16), nullable=False),
        sa.Column("words", SEALED, nullable=False),
        sa.Column("places", SEALED, nullable=False),
        sa.Column("said_at", INSTANT, nullable=False),
        sa.Column("week", sa.String(8), nullable=False),
        sa.Column("message_id", sa.BigInteger()),
        sa.ForeignKeyConstraint(
            ["client_id"], ["client.id"], name="fk_remark_client_id_client", ondelete="CASCADE"
        ),
        sa.PrimaryKeyConstraint("id", name="pk_remark"),
    )
    op.create_index("ix_remark_client_id", "remark", ["client_id"])


def make_remote_session() -> None:
    op.create_table(
        "remote_session",
        sa.Column("id", ROW_ID, autoincrement=True, nullable=False),
        sa.Column("client_id", sa.BigInteger(), nullable=False),
        sa.Column("ask_id", sa.BigInteger()),
        sa.Column("by", sa.String(32), nullable=False),
        sa.Column("title", SEALED, nullable=False),
        sa.Column("body", SEALED, nullable=False),
        sa.Column("minutes", sa.Integer()),
        sa.Column("room", sa.String(32)),
        sa.Column("made_at", INSTANT, nullable=False),
        sa.Column("key", sa.String(80), nullable=False),
        sa.Column("sent_at", INSTANT),
        sa.Column("opened_at", INSTANT),
        sa.Column("begun_at", INSTANT),
        sa.Column("done_at", INSTANT),
        sa.ForeignKeyConstraint(
            ["client_id"], ["client.id"], name="fk_remote_session_client_id_client", ondelete="CASCADE"
        ),
        sa.PrimaryKeyConstraint("id", name="pk_remote_session"),
        sa.UniqueConstraint("key", name="uq_remote_session_key"),
    )
    op.create_index("ix_remote_session_client_id", "remote_session", ["client_id"])


def make_screening() -> None:
    op.create_table(
        "screening",
        sa.Column("id", ROW_ID, autoincrement=True, nullable=False),
        sa.Column("client_id", sa.BigInteger(), nullable=False),
        sa.Column("answers", SEALED, nullable=False),
        sa.Column("answered_at", INSTANT, nullable=False),
        sa.Column("confirmed_at", INSTANT),
        sa.Column("note", SEALED),
        sa.ForeignKeyConstraint(
            ["client_id"], ["client.id"], name="fk_screening_client_id_client", ondelete="CASCADE"
        ),
        sa.PrimaryKeyConstraint("id", name="pk_screening"),
    )
    op.create_index("ix_screening_client_id", "screening", ["client_id"])


def make_trip() -> None:
    op.create_table(
        "trip",
        sa.Column("id", ROW_ID, autoincrement=True, nullable=False),
        sa.Column("client_id", sa.BigInteger(), nullable=False),
        sa.Column("place", sa.String(120), nullable=False),
        sa.Column("country", sa.String(2)),
        sa.Column("zone", sa.String(64), nullable=False),
        sa.Column("room", sa.String(32)),
        sa.Column("minutes", sa.Integer()),
        sa.Column("first", sa.Date(), nullable=False),
        sa.Column("last", sa.Date()),
        sa.Column("in_reach", sa.Boolean(), nullable=False),
        sa.Column("said_by", sa.String(32), nullable=False),
        sa.Column("cancelled_at", INSTANT),
        sa.ForeignKeyConstraint(
            ["client_id"], ["client.id"], name="fk_trip_client_id_client", ondelete="CASCADE"
        ),
        sa.PrimaryKeyConstraint("id", name="pk_trip"),
    )
    op.create_index("ix_trip_client_id", "trip", ["client_id"])


def make_unasked() -> None:
    op.create_table(
        "unasked",
        sa.Column("id", ROW_ID, autoincrement=True, nullable=False),
        sa.Column("client_id", sa.BigInteger(), nullable=False),
        sa.Column("key", sa.String(80), nullable=False),
        sa.Column("kind", sa.String(16), nullable=False),
        sa.Column("day", sa.Date(), nullable=False),
        sa.Column("week", sa.String(8), nullable=False),
        sa.Column("at", INSTANT, nullable=False),
        sa.ForeignKeyConstraint(
            ["client_id"], ["client.id"], name="fk_unasked_client_id_client", ondelete="CASCADE"
        ),
        sa.PrimaryKeyConstraint("id", name="pk_unasked"),
        sa.UniqueConstraint("key", name="uq_unasked_key"),
    )
    op.create_index("ix_unasked_client_week", "unasked", ["client_id", "week"])
