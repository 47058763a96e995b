"""Rows in and out: SQLite in the workspace, or PostgreSQL for a team, with one schema."""

from evenhand.store.database import Store, open_store

__all__ = ["Store", "open_store"]
