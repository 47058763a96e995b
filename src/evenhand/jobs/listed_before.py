"""Which cases were listed on an earlier day, so that Today can say what is new since and what is gone.

Only what was truly looked at is kept: the list of the last day on which somebody looked, and of the day before that.
Kept are digests under a key of the workspace's own, which stands in a file of its own, and of what is gone its kind
alone: nobody's name or number stands there, nor can whoever has that file alone try which it would be.
"""

from __future__ import annotations

import hashlib
import json
import secrets
from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from threading import Lock
from typing import Any

from evenhand.jobs.today import Today
from evenhand.jobs.workspace import Workspace
from evenhand.store.replacing import replace_file

__all__ = ["Changed", "compare_with_earlier"]

FILE, KEY = "listed.json", "listed.key"
KEY_BYTES = 32
WRITING = Lock()
"""Several pages may be asked for at once, and write beside the file under one name."""


@dataclass(frozen=True)
class Changed:
    """What has changed since the list of the day `since`: the keys of new cases, and how many are gone, by title.

    `since` is None where no earlier day's list of the same pay period was looked at.
    """

    since: date | None
    new: frozenset[str] = frozenset()
    gone: tuple[tuple[str, int], ...] = ()


def compare_with_earlier(workspace: Workspace, today: Today) -> Changed:
    """Return what has changed since the list of an earlier day, and keep today's as that of its day.

    A list without what charts tell is neither kept nor compared, nor one as of a day before the last that was kept.
    """
    if not today.has_charts:
        return Changed(None)
    key = _key(workspace)
    if key is None:
        return Changed(None)
    lists: dict[str, dict[str, Any]] = dict(_read(workspace).get("lists", {}))
    named = {_digest(key, case.key): case for case in today.cases}
    period, day = today.period.first.isoformat(), today.day.isoformat()
    earlier = max((one for one in lists if one < day), default=None)
    if not workspace.store.only_looks and (not lists or day >= max(lists)):
        now = {"period": period, "cases": {digest: case.title for digest, case in named.items()}}
        if lists.get(day) != now:
            keeps = {one: lists[one] for one in (earlier,) if one is not None} | {day: now}
            _write(workspace, {"lists": keeps})
    if earlier is None or lists[earlier]["period"] != period:
        return Changed(None)
    before: Mapping[str, str] = lists[earlier]["cases"]
    gone = Counter(title for digest, title in before.items() if digest not in named)
    new = frozenset(case.key for digest, case in named.items() if digest not in before)
    return Changed(date.fromisoformat(earlier), new, tuple(gone.most_common()))


def _digest(secret: bytes, key: str) -> str:
    return hashlib.blake2b(key.encode(), key=secret, digest_size=12).hexdigest()


def _key(workspace: Workspace) -> bytes | None:
    """Return the key of the digests, drawn where there is none yet.

    None where it can neither be read nor written, or there is none and the workspace is only looked at.
    """
    place = workspace.directory / KEY
    with WRITING:
        try:
            if len(found := place.read_bytes()) >= KEY_BYTES:
                return found[:KEY_BYTES]
        except OSError:
            pass  # it is the first time
        if workspace.store.only_looks:
            return None
        drawn = secrets.token_bytes(KEY_BYTES)
        try:
            (workspace.directory / FILE).unlink(missing_ok=True)  # whose digests no key opens any longer
            replace_file(place, drawn)
        except OSError:
            return None
    return drawn


def _read(workspace: Workspace) -> dict[str, Any]:
    try:
        kept = json.loads((workspace.directory / FILE).read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return {}  # nothing to compare with, which is then said
    return kept if isinstance(kept, dict) else {}


def _write(workspace: Workspace, kept: Mapping[str, Any]) -> None:
    try:
        with WRITING:
            replace_file(workspace.directory / FILE, json.dumps(kept).encode())
    except OSError:
        return  # a folder that cannot be written keeps nobody from reading the list; no change is told tomorrow
