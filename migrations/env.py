"""How Alembic runs our revisions: on a connection that core.store.schema opened, inside its one transaction."""

from alembic import context

from core.store.schema import all_tables

told = context.config.attributes["told"]
context.configure(
    connection=context.config.attributes["connection"],
    target_metadata=all_tables(),
    compare_type=True,
    render_as_batch=True,
    transaction_per_migration=False,
    on_version_apply=lambda step, **_: told.append(f"{step.up_revision_id}: {step.up_revision.doc}"),
)
context.run_migrations()
