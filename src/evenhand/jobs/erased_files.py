"""Files beside the store in which an erased person stands: what was handed to payroll, and what others put there."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from evenhand.jobs.workspace import SETTINGS_FILE, Workspace
from evenhand.store.database import Connection
from evenhand.store.erasing import Traces
from evenhand.store.frames import handoffs
from evenhand.store.handing import digest_of
from evenhand.store.written import change_row

__all__ = ["FilesCut", "cut_handed_off", "files_holding"]

ENCODINGS = ("utf-8", "utf-16", "cp1252")


@dataclass(frozen=True)
class FilesCut:
    """Files for payroll written anew without a person, by name, and those that go: their twins as workbooks."""

    written: Mapping[str, bytes]
    removed: tuple[str, ...]


def cut_handed_off(workspace: Workspace, conn: Connection, traces: Traces, day: str) -> FilesCut:
    """Return the kept copies of what payroll was handed, without the person's lines; control totals stay as told.

    The workbook beside a file says the same and goes; the store's record then names what is there, in this transaction.
    """
    written: dict[str, bytes] = {}
    removed: list[str] = []
    for number, text in handoffs(conn).select("handoff", "files").iter_rows():
        files: dict[str, str] = json.loads(text)
        for name in list(files):
            place = workspace.handoff / name
            if place.suffix == ".xlsx" or not place.exists():
                continue
            content = place.read_bytes()
            if (left := _without_lines(content, traces, day, is_note=place.suffix == ".txt")) == content:
                continue
            written[name], files[name] = left, digest_of(left)
            twin = place.with_suffix(".xlsx").name
            if place.suffix == ".csv" and twin in files:
                del files[twin]
                removed.append(twin)
        if json.dumps(files) != text:
            change_row(conn, "handoffs", number, {"files": json.dumps(files)})
    return FilesCut(written, tuple(removed))


def _without_lines(content: bytes, traces: Traces, day: str, *, is_note: bool) -> bytes:
    text, encoding = _decoded(content)
    lines = text.splitlines(keepends=True)
    left = [line for line in lines if not _names(line, traces)]
    if len(left) == len(lines):
        return content
    if is_note:
        end = "\r\n" if text.endswith("\r\n") else "\n"
        many = f"{len(lines) - len(left)} line{'s' if len(lines) - len(left) > 1 else ''}"
        said = f"Erased on {day}: {many} about somebody whose records were due. Totals stand as handed off."
        left.append(f"{end}{said}{end}")
    return "".join(left).encode(encoding)


def _names(line: str, traces: Traces) -> bool:
    if traces.words and traces.words.search(line):
        return True
    cells = {
        cell.strip(" \t\"'") for part in line.rstrip("\r\n").split("\t") for cell in part.replace(";", ",").split(",")
    }
    return not cells.isdisjoint(traces.ids | traces.numbers)


def _decoded(content: bytes) -> tuple[str, str]:
    for encoding in ENCODINGS:
        try:
            if encoding != "utf-16" or content[:2] in (b"\xff\xfe", b"\xfe\xff"):
                return content.decode(encoding), encoding
        except UnicodeDecodeError:
            continue
    return content.decode("latin-1"), "latin-1"


def files_holding(workspace: Workspace, traces: Traces) -> Iterator[Path]:
    """Yield the files of the workspace, other than those that an erasure writes anew, in or by which they are named."""
    own = {"sources", "handoff", "rejected"}
    for path in sorted(workspace.directory.rglob("*")):
        first = path.relative_to(workspace.directory).parts[0]
        if first in own or path.name.startswith("evenhand.sqlite") or not path.is_file():
            continue
        if traces.named and traces.named.search(str(path.relative_to(workspace.directory))):
            yield path
            continue
        text, _ = _decoded(path.read_bytes())
        exact = first in ("rules", "layouts") or path.name == SETTINGS_FILE
        if _names_in_text(text, traces, exact=exact):
            yield path


def _names_in_text(text: str, traces: Traces, *, exact: bool) -> bool:
    if traces.words and traces.words.search(text):
        return True
    return exact and any(f'"{one}"' in text for one in traces.ids)
