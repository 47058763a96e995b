"""What kept workbooks say of a person where nothing is read: in other sheets, remarks, the names of sheets.

A workbook that is written anew keeps what is read alone. One that would stay as it is goes the same way where what it
says besides names the person for certain, and where somebody says that it does.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from evenhand.jobs.kept_layouts import read_layout
from evenhand.jobs.traces import Whom
from evenhand.layouts import Layout, SourceFile, said_beside
from evenhand.store.erasing import Traces
from evenhand.store.listing import files_in
from evenhand.store.naming_texts import excerpt
from evenhand.store.part_names import NamingText, PartNames
from evenhand.store.replacing import replace_file
from evenhand.terms.words import as_toml

__all__ = ["CALLS_SHEET", "SaidBeside", "call_sheets", "call_sheets_in", "look_beside"]

CALLS_SHEET = re.compile(r"""(?m)^[ \t]*["']?sheet["']?\s*=.*$""")
"""The line of a layout that says which sheet is read."""
LONGEST = 31  # letters of a sheet's name, in the programs that write workbooks
MOST = 20  # texts of one workbook, of which one tells enough


@dataclass(frozen=True)
class SaidBeside:
    """What a workbook says beside what is read: `texts` that may name the person, `is_certain` where one does.

    `sheets` are the names of the sheets that are read.
    """

    take: int
    texts: tuple[NamingText, ...]
    sheets: tuple[str, ...]
    is_certain: bool
    traces: Traces
    parts: PartNames

    def goes(self, reword: Collection[str]) -> bool:
        """Whether what is not read goes, or a sheet is called otherwise: for certain, or as somebody says."""
        said = any(one.is_among(reword) for one in self.texts if one.row.endswith("/beside"))
        return self.is_certain or said or bool(self.renamed(reword, "erased"))

    def renamed(self, reword: Collection[str], stand_in: str) -> dict[str, str]:
        """Return what sheets that are read are to be called, of those whose name has the person's."""
        found: dict[str, str] = {}
        for name in self.sheets:
            said = self.traces.words.sub(stand_in, name) if self.traces.words else name
            if any(one.says == name and one.is_among(reword) for one in self.texts if one.row.endswith("/sheet")):
                said = self.parts.replaced(said, stand_in)
            if said != name:
                found[name] = _free(said[:LONGEST], {*self.sheets, *found.values()})
        return found


def look_beside(file: SourceFile, take: int, ways: Sequence[Layout], known: Whom, *, is_anew: bool) -> SaidBeside:
    """Return what a workbook says beside what is read of it; where it `is_anew`, the names of its sheets alone."""
    words, parts = known.traces.words, known.parts
    read = list(dict.fromkeys(layout.sheet or file.sheet_names[0] for layout in ways))
    texts = [
        NamingText(f"takes/{take}/sheet", "sheet", name, parts.is_likely(name))
        for name in read
        if not (words and words.search(name)) and parts.names(name)
    ]
    is_certain = False
    for where, text in () if is_anew else said_beside(file, read):
        if words and words.search(text):
            is_certain = True
            texts = [one for one in texts if one.column == "sheet"]
            break
        if parts.names(text) and len(texts) < MOST:
            texts.append(NamingText(f"takes/{take}/beside", where, excerpt(text, parts), parts.is_likely(text)))
    return SaidBeside(take, tuple(texts), tuple(read), is_certain, known.traces, parts)


def call_sheets(text: str, sheets: Mapping[str, str]) -> str:
    """Return a layout as it is written down, which calls its sheet by its new name; all else of it stays."""
    called = Layout.from_toml(text, "a layout").sheet
    if called not in sheets:
        return text
    line = f"sheet = {as_toml(sheets[called])}"
    return CALLS_SHEET.sub(lambda _: line, text, count=1)


def call_sheets_in(folder: Path, sheets: Mapping[str, str]) -> None:
    """Have the layouts that are kept in a folder call their sheets by the new names."""
    for path in files_in(folder, ".toml") if sheets else ():
        if read_layout(path).sheet in sheets:
            replace_file(path, call_sheets(path.read_text(encoding="utf-8"), sheets).encode())


def _free(name: str, taken: Collection[str]) -> str:
    """Return a name that no other sheet has."""
    return next(one for at in range(len(taken) + 1) if (one := f"{name}-{at}" if at else name) not in taken)
