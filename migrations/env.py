"""How Alembic reaches the database: on a connection handed over by `supports.database`."""

from __future__ import annotations

from alembic import context

from supports.model import Base


def run() -> None:
    """Run the revisions on the connection in the configuration's attributes."""
    connection = context.config.attributes["connection"]
    context.configure(
        connection=connection,
        target_metadata=Base.metadata,
        render_as_batch=connection.dialect.name == "sqlite",
        transaction_per_migration=False,
    )
    with context.begin_transaction():
        context.run_migrations()


run()
