"""State the workspace's settings in the ledger as they are found, so that what was decided under them can be told."""

from __future__ import annotations

import re
import time
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path

import sqlalchemy as sa

from evenhand.store.tables import STORED
from evenhand.store.written import add_row

__all__ = [
    "SettingsChange",
    "SettingsTexts",
    "add_settings_change",
    "hide_passwords",
    "read_settings_changes",
    "settings_texts",
    "state_settings",
    "stated_settings",
]

SettingsTexts = Callable[[], Mapping[str, str]]
"""Returns the text of each file of settings, by its name within the workspace."""

PASSWORD = re.compile(r"(://[^:/\s\"']*:)\S*@")
"""Up to the last @, since a password that is not encoded as it should be (RFC 3986, 3.2.1) may hold one itself."""


@dataclass(frozen=True)
class SettingsChange:
    """What a file said before and after it was found changed, or was changed by somebody; None where it was not there.

    `author` and `reason` are empty where nobody said them; `withdraws` is the change that it takes back.
    """

    running: int
    file: str
    before: str | None
    after: str | None
    author: str
    reason: str
    withdraws: int | None
    at: int


def hide_passwords(text: str) -> str:
    """Return the text without the passwords of addresses."""
    return PASSWORD.sub(r"\1***@", text)


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
        found[path.relative_to(directory).as_posix()] = hide_passwords(text).replace("\0", "\ufffd")
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


def add_settings_change(
    conn: sa.Connection, file: str, content: str, *, author: str, reason: str, withdraws: int | None, made_at: int
) -> int:
    """Add what somebody has made a file say (SETTINGS_TEXTS), and return its number."""
    said = {"author": author, "reason": reason, "withdraws": withdraws}
    return add_row(conn, "settings_texts", {"file": file, "content": content, "noticed_at": made_at, **said})


def read_settings_changes(conn: sa.Connection) -> list[SettingsChange]:
    """Return every text that was stated of each file beside the one before it, in order."""
    stored = STORED["settings_texts"].c
    last: dict[str, str | None] = {}
    found = []
    for row in conn.execute(sa.select(*stored).order_by(stored.running)).mappings():
        said = row["author"] or "", row["reason"] or "", row["withdraws"]
        before = last.get(row["file"])
        found.append(SettingsChange(row["running"], row["file"], before, row["content"], *said, row["noticed_at"]))
        last[row["file"]] = row["content"]
    return found
