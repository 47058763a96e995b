"""Run the migrations from the program; no settings file is needed."""

from __future__ import annotations

from pathlib import Path

import sqlalchemy as sa
from alembic import command
from alembic.config import Config
from alembic.script import ScriptDirectory

__all__ = ["config", "is_known", "upgrade"]


def config() -> Config:
    """Return Alembic's settings for the migrations in this package."""
    settings = Config()
    settings.set_main_option("script_location", str(Path(__file__).parent))
    settings.set_main_option("path_separator", "os")
    return settings


def is_known(version: str) -> bool:
    """Whether `version` is one of this program's migrations."""
    return version in {script.revision for script in ScriptDirectory.from_config(config()).walk_revisions()}


def upgrade(conn: sa.Connection) -> None:
    """Bring the tables to the newest version, within the transaction `conn` is in."""
    settings = config()
    settings.attributes["connection"] = conn
    command.upgrade(settings, "head")
