"""Alembic's entry: migrate on the connection that the program hands over, in its transaction."""

from alembic import context

from evenhand.store.tables import metadata

context.configure(connection=context.config.attributes["connection"], target_metadata=metadata, transactional_ddl=True)
context.run_migrations()
