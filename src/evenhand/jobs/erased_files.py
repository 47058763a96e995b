"""Files beside the store in which an erased person stands: what was handed to payroll, and what others put there."""

from __future__ import annotations

import csv
import json
import os
from collections import Counter
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path

from evenhand.jobs.beside_cells import CALLS_SHEET
from evenhand.jobs.traces import Whom
from evenhand.jobs.workspace import SETTINGS_FILE, Workspace
from evenhand.store import frames
from evenhand.store.database import Connection
from evenhand.store.erasing import Traces
from evenhand.store.handing import digest_of
from evenhand.store.part_names import NamingText, PartNames
from evenhand.store.written import change_row
from evenhand.terms.languages import told
from evenhand.terms.words import counted

__all__ = ["FilesCut", "cut_handed_off", "files_holding", "files_perhaps_naming", "stamped_files"]

ENCODINGS = ("utf-8", "utf-16", "cp1252")
DELIMITERS = ",;\t|"
LINES_SHOWN = 3
SHORT = 3  # letters or digits up to which an identifier or number may stand in any file


@dataclass(frozen=True)
class FilesCut:
    """Files for payroll written anew without a person, by name, and those that go: their twins as workbooks.

    `texts` are lines of the notes beside them that may name the person.
    """

    written: Mapping[str, bytes]
    removed: tuple[str, ...]
    texts: tuple[NamingText, ...] = ()


@dataclass(frozen=True)
class CopiesKept:
    """The kept copies of what payroll was handed, in `folder`; `cut` are those that are written anew, in memory."""

    folder: Path
    cut: Mapping[str, bytes] = field(default_factory=dict)

    def read(self, name: str) -> bytes | None:
        """Return a copy, None where it is not there."""
        if name in self.cut:
            return self.cut[name]
        place = self.folder / name
        return place.read_bytes() if place.exists() else None

    def with_cut(self, files: FilesCut) -> CopiesKept:
        """Return the copies as they are once those are in place."""
        return CopiesKept(self.folder, {**self.cut, **files.written})


def cut_handed_off(
    handed_off: CopiesKept, conn: Connection, known: Whom, day: str, stand_in: str, reword: Collection[str] = ()
) -> FilesCut:
    """Return the kept copies of what payroll was handed, without the person's lines; control totals stay as told.

    The workbook beside a file says the same and goes; the store's record then names what is there, in this transaction.
    Of a note the lines among `reword` lose a part of the name too.
    """
    written: dict[str, bytes] = {}
    removed: list[str] = []
    texts: list[NamingText] = []
    others = known.parts.numbers.others - known.traces.ids - known.traces.shared
    for number, text in frames.handoffs(conn).select("handoff", "files").iter_rows():
        files: dict[str, str] = json.loads(text)
        for name in list(files):
            content = None if name.endswith(".xlsx") else handed_off.read(name)
            if content is None:
                continue
            if name.endswith(".txt"):
                left = _note_without(content, known.traces, day)
                left, naming = _reworded(name, left, known.parts, stand_in, reword)
                texts += naming
            else:
                left = _table_without(content, known.traces, others)
            if left == content:
                continue
            written[name], files[name] = left, digest_of(left)
            twin = Path(name).with_suffix(".xlsx").name
            if name.endswith(".csv") and twin in files:
                del files[twin]
                removed.append(twin)
        if json.dumps(files) != text:
            change_row(conn, "handoffs", number, {"files": json.dumps(files)})
    return FilesCut(written, tuple(removed), tuple(texts))


def _table_without(content: bytes, traces: Traces, others: Collection[str]) -> bytes:
    """Return a file of lines for payroll without the person's, `others` being what is somebody else's alone.

    The first column that says whose a line is tells; an amount may be a number by chance.
    """
    text, encoding = _decoded(content)
    lines = text.splitlines(keepends=True)
    delimiter = max(DELIMITERS, key=text[: len(lines[0])].count) if lines else ","
    rows = [next(csv.reader([line.rstrip("\r\n")], delimiter=delimiter), []) for line in lines]
    mine, theirs = {_bare(one) for one in traces.alone}, {_bare(one) for one in others}
    whose = _saying_whose(rows, mine | theirs | {_bare(one) for one in traces.ids | traces.shared})
    told = [
        next((cell for cell in (_bare(row[at]) for at in whose if at < len(row)) if cell in mine | theirs), "")
        for row in rows
    ]
    left = [
        line
        for line, row, says in zip(lines, rows, told, strict=True)
        if says not in mine and not any(traces.words and traces.words.fullmatch(cell.strip()) for cell in row)
    ]
    return content if len(left) == len(lines) else "".join(left).encode(encoding)


def _saying_whose(rows: list[list[str]], everybody: Collection[str]) -> list[int]:
    """Return the columns, from 0, in which all cells below the header are identifiers or numbers of people."""
    filled, found = Counter[int](), Counter[int]()
    for row in rows:
        for at, cell in enumerate(row):
            filled[at] += bool(cell.strip())
            found[at] += _bare(cell) in everybody
    return [at for at, many in sorted(found.items()) if many and many >= filled[at] - 1]


def _bare(cell: str) -> str:
    """Return a cell without blanks, and without zeros before a number."""
    text = cell.strip(" \t\"'")
    return text.lstrip("0") or "0" if text.isdigit() else text


def _note_without(content: bytes, traces: Traces, day: str) -> bytes:
    text, encoding = _decoded(content)
    lines = text.splitlines(keepends=True)
    left = [line for line in lines if not traces.names_in_line(line)]
    if len(left) == len(lines):
        return content
    end = "\r\n" if text.endswith("\r\n") else "\n"
    many = counted(len(lines) - len(left), "line")
    said = f"Erased on {day}: {many} about somebody whose records were due. Totals stand as handed off."
    return "".join([*left, f"{end}{said}{end}"]).encode(encoding)


def _reworded(
    name: str, content: bytes, parts: PartNames, stand_in: str, reword: Collection[str]
) -> tuple[bytes, list[NamingText]]:
    """Return a note with `stand_in` for a part of the name in the lines to `reword`, and all that may have one."""
    text, encoding = _decoded(content)
    lines, texts = text.splitlines(keepends=True), []
    for at, line in enumerate(lines):
        if parts.names(line):
            naming = NamingText(f"handoff/{name}/{at + 1}", "note", line.strip(), parts.is_likely(line))
            texts.append(naming)
            lines[at] = parts.replaced(line, stand_in) if naming.is_among(reword) else line
    return ("".join(lines).encode(encoding) if reword else content), texts


def _decoded(content: bytes) -> tuple[str, str]:
    for encoding in ENCODINGS:
        try:
            if encoding != "utf-16" or content[:2] in (b"\xff\xfe", b"\xfe\xff"):
                return content.decode(encoding), encoding
        except UnicodeDecodeError:
            continue
    return content.decode("latin-1"), "latin-1"


def files_holding(workspace: Workspace, known: Whom) -> Iterator[Path]:
    """Yield the files of the workspace, other than those that an erasure writes anew, in or by which they are named."""
    for path, text, is_written in _other_files(workspace):
        if _is_named(path.relative_to(workspace.directory), text, known, is_written=is_written):
            yield path


def files_perhaps_naming(workspace: Workspace, known: Whom) -> Iterator[str]:
    """Yield, of the files that an erasure does not write anew, where they may name the person and who may tell."""
    for path, text, is_written in _other_files(workspace):
        within = path.relative_to(workspace.directory)
        if _is_named(within, text, known, is_written=is_written):
            continue
        lines = [str(at) for at, line in enumerate(text.splitlines(), start=1) if known.parts.is_likely(line)]
        if lines:
            more = [told("{count} more", count=len(lines) - LINES_SHOWN)] if len(lines) > LINES_SHOWN else []
            yield told(
                "{file}, which may name them by a part of the name or a number, in line {lines:listed}; take that out "
                "of it where it does.",
                file=within,
                lines=[*lines[:LINES_SHOWN], *more],
            )


def stamped_files(workspace: Workspace) -> Iterator[tuple[Path, os.stat_result]]:
    """Yield each file that no erasure writes anew, with its size and time."""
    own = {"sources", "handoff", "rejected"}
    for path in sorted(workspace.directory.rglob("*")):
        first = path.relative_to(workspace.directory).parts[0]
        if first not in own and not path.name.startswith("evenhand.sqlite") and path.is_file():
            yield path, path.stat()


def _other_files(workspace: Workspace) -> Iterator[tuple[Path, str, bool]]:
    """Yield each file that no erasure writes anew, its text, and whether it is written for evenhand to read.

    A layout's text is without the name of its sheet, which it gets anew with the workbook.
    """
    for path, _ in stamped_files(workspace):
        first = path.relative_to(workspace.directory).parts[0]
        text = _decoded(path.read_bytes())[0]
        text = CALLS_SHEET.sub("", text) if first == "layouts" else text
        yield path, text, first in ("rules", "layouts") or path.name == SETTINGS_FILE


def _is_named(within: Path, text: str, known: Whom, *, is_written: bool) -> bool:
    traces = known.traces
    if traces.named and traces.named.search(str(within)):
        return True
    if traces.words and traces.words.search(text):
        return True
    if is_written:  # where a number alone is an amount
        return any(f'"{one}"' in text for one in traces.alone)
    whole = {_bare(one) for one in traces.alone if len(_bare(one)) > SHORT}
    return any(_bare(text[begin:end]) in whole for begin, end in known.parts.numbers.spans_in(text))
