"""State the workspace's settings in the ledger as they are found, so that what was decided under them can be told."""

from __future__ import annotations

import re
import time
from collections.abc import Callable, Mapping
from pathlib import Path

import sqlalchemy as sa

from evenhand.store.tables import STORED
from evenhand.store.written import add_row

__all__ = ["SettingsTexts", "settings_texts", "state_settings", "stated_settings"]

SettingsTexts = Callable[[], Mapping[str, str]]
"""Returns the text of each file of settings, by its name within the workspace."""

PASSWORD = re.compile(r"(://[^:/@\s\"']*:)[^@\s\"']*@")


def settings_texts(directory: Path) -> dict[str, str]:
    """Return the settings, the kept layouts and the workplace's own rules, without the password of an address."""
    files = [directory / "evenhand.toml"]
    files += [path for folder in ("layouts", "rules") for path in sorted((directory / folder).rglob("*.toml"))]
    found: dict[str, str] = {}
    for path in files:
        try:
            text = path.read_text(encoding="utf-8", errors="replace")
        except FileNotFoundError:  # put away between the two looks at it
            continue
        found[path.relative_to(directory).as_posix()] = PASSWORD.sub(r"\1***@", text).replace("\0", "\ufffd")
    return found


def stated_settings(conn: sa.Connection) -> dict[str, str]:
    """Return the texts that were stated last."""
    stored = STORED["settings_texts"].c
    rows = conn.execute(sa.select(stored.file, stored.content).order_by(stored.running))
    last = dict(iter(rows.all()))
    return {file: content for file, content in last.items() if content is not None}


def state_settings(conn: sa.Connection, texts: Mapping[str, str]) -> None:
    """Add the texts (SETTINGS_TEXTS) that are not those last stated."""
    stated = stated_settings(conn)
    for file in sorted(stated.keys() | texts.keys()):
        if stated.get(file) != texts.get(file):
            now = int(time.time())  # noqa: TID251  nobody says when a file was changed, only when that was found
            add_row(conn, "settings_texts", {"file": file, "content": texts.get(file), "noticed_at": now})
