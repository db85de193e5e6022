"""The inbox, the outbox, and what paces them."""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None

ROW_ID = sa.BigInteger().with_variant(sa.Integer(), "sqlite")
INSTANT = sa.DateTime(timezone=True)
WAITING = sa.text("state = 'waiting'")
SENDING = sa.text("state = 'sending'")


def upgrade() -> None:
    make_inbox()
    make_outbox()
    op.create_table(
        "budget",
        sa.Column("chat_id", sa.BigInteger(), autoincrement=False, nullable=False),
        sa.Column("free_at", INSTANT, nullable=False),
        sa.Column("refused_at", INSTANT),
        sa.PrimaryKeyConstraint("chat_id", name="pk_budget"),
    )
    op.create_table(
        "lease",
        sa.Column("name", sa.String(64), nullable=False),
        sa.Column("holder", sa.String(64), nullable=False),
        sa.Column("until", INSTANT, nullable=False),
        sa.PrimaryKeyConstraint("name", name="pk_lease"),
    )
    op.create_table(
        "witness",
        sa.Column("id", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("word", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_witness"),
    )


def make_inbox() -> None:
    op.create_table(
        "inbox",
        sa.Column("id", ROW_ID, autoincrement=True, nullable=False),
        sa.Column("epoch", sa.String(64), nullable=False),
        sa.Column("update_id", sa.BigInteger()),
        sa.Column("chat_id", sa.BigInteger(), nullable=False),
        sa.Column("body", sa.Text()),
        sa.Column("state", sa.String(16), nullable=False),
        sa.Column("attempts", sa.Integer(), server_default="0", nullable=False),
        sa.Column("received_at", INSTANT, nullable=False),
        sa.Column("handled_at", INSTANT),
        sa.Column("try_after", INSTANT),
        sa.Column("lease", sa.String(32)),
        sa.Column("lease_until", INSTANT),
        sa.Column("error", sa.Text()),
        sa.PrimaryKeyConstraint("id", name="pk_inbox"),
        sa.UniqueConstraint("epoch", "update_id", name="uq_inbox_epoch_update_id"),
        sa.CheckConstraint("state IN ('waiting', 'handled', 'dead')", name=op.f("ck_inbox_state")),
    )
    op.create_index(
        "ix_inbox_waiting", "inbox", ["chat_id", "id"], sqlite_where=WAITING, postgresql_where=WAITING
    )
    op.create_index("ix_inbox_handled_at", "inbox", ["handled_at"])


def make_outbox() -> None:
    op.create_table(
        "outbox",
        sa.Column("id", ROW_ID, autoincrement=True, nullable=False),
        sa.Column("key", sa.String(255), nullable=False),
        sa.Column("chat_id", sa.BigInteger(), nullable=False),
        sa.Column("person", sa.String(64)),
        sa.Column("kind", sa.String(16), nullable=False),
        sa.Column("lane", sa.SmallInteger(), nullable=False),
        sa.Column("method", sa.String(64), nullable=False),
        sa.Column("payload", sa.Text()),
        sa.Column("state", sa.String(16), nullable=False),
        sa.Column("attempts", sa.Integer(), server_default="0", nullable=False),
        sa.Column("not_before", INSTANT, nullable=False),
        sa.Column("expires_at", INSTANT),
        sa.Column("enqueued_at", INSTANT, nullable=False),
        sa.Column("ended_at", INSTANT),
        sa.Column("try_after", INSTANT),
        sa.Column("lease", sa.String(32)),
        sa.Column("lease_until", INSTANT),
        sa.Column("message_id", sa.BigInteger()),
        sa.Column("error", sa.Text()),
        sa.PrimaryKeyConstraint("id", name="pk_outbox"),
        sa.UniqueConstraint("key", name="uq_outbox_key"),
        sa.CheckConstraint(
            "state IN ('waiting', 'sending', 'sent', 'uncertain', 'expired', 'cancelled', 'dead', 'unreachable')",
            name=op.f("ck_outbox_state"),
        ),
    )
    op.create_index(
        "ix_outbox_waiting",
        "outbox",
        ["lane", "not_before", "id"],
        sqlite_where=WAITING,
        postgresql_where=WAITING,
    )
    op.create_index(
        "ix_outbox_expiring", "outbox", ["expires_at"], sqlite_where=WAITING, postgresql_where=WAITING
    )
    op.create_index("ix_outbox_chat", "outbox", ["chat_id", "state", "lane", "not_before"])
    op.create_index(
        "uq_outbox_sending",
        "outbox",
        ["chat_id"],
        unique=True,
        sqlite_where=SENDING,
        postgresql_where=SENDING,
    )
    op.create_index("ix_outbox_message", "outbox", ["chat_id", "message_id"])
    op.create_index("ix_outbox_ended_at", "outbox", ["ended_at"])
    op.create_index("ix_outbox_person", "outbox", ["person"])


def downgrade() -> None:
    for table in ("witness", "lease", "budget", "outbox", "inbox"):
        op.drop_table(table)
