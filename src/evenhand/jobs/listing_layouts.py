"""The layouts that are kept: what each reads, what was last read by it, and which of them a file would be read by."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from pathlib import Path

from evenhand.jobs.incoming import read_incoming
from evenhand.jobs.kept_layouts import read_layout
from evenhand.jobs.known import Known
from evenhand.jobs.workspace import Workspace
from evenhand.layouts import Answers
from evenhand.layouts.layout import Source
from evenhand.store import frames
from evenhand.store.faults import refusing
from evenhand.store.listing import files_in
from evenhand.terms.columns import Frame
from evenhand.terms.languages import told
from evenhand.terms.records import Unknown

__all__ = ["LayoutFit", "LayoutListed", "find_layout", "fit_layouts", "list_layouts", "remove_layout"]


@dataclass(frozen=True)
class LayoutListed:
    """A kept layout: what it reads, of which columns, and the takes that were read by it, if any.

    `columns` gives for each declared column the file's own, by header or position from 1; `text` is the file's TOML.
    """

    layout: str
    path: Path
    table: str
    form: str
    reader: str
    columns: dict[str, list[Source]]
    takes: int
    last_file: str | None
    last_taken_at: int | None
    text: str


@dataclass(frozen=True)
class LayoutFit:
    """By which kept layout a file would be read ('': by none of them), and what speaks against it or is open."""

    file: str
    layout: str
    table: str
    says: tuple[str, ...]


def list_layouts(workspace: Workspace) -> list[LayoutListed]:
    """Return the kept layouts by name; raises Refusal where one is not understood."""
    with workspace.store.reading() as conn:
        takes = frames.takes(conn).sort("take")
    return [_listed(path, takes.filter(layout=path.name)) for path in files_in(workspace.layouts, ".toml")]


def _listed(path: Path, takes: Frame) -> LayoutListed:
    layout = read_layout(path)
    last = takes.row(-1, named=True) if takes.height else {}
    return LayoutListed(
        layout=path.name,
        path=path,
        table=layout.table,
        form=layout.form,
        reader=layout.reader,
        columns={name: list(sources) for name, sources in layout.columns.items()},
        takes=takes.height,
        last_file=last.get("file"),
        last_taken_at=last.get("taken_at"),
        text=path.read_text(encoding="utf-8"),
    )


def find_layout(workspace: Workspace, name: str) -> LayoutListed:
    """Return the kept layout of this name, with or without its ending; raises Refusal where there is none."""
    kept = {one.layout: one for one in list_layouts(workspace)}
    found = kept.get(name) or kept.get(f"{name}.toml")
    if found is None:
        raise Unknown(told('there is no kept layout "{name}"; `evenhand layouts` lists them.', name=name))
    return found


def remove_layout(workspace: Workspace, name: str) -> LayoutListed:
    """Remove a kept layout and return what it was; what was read by it stays as it is, for each take keeps its own."""
    found = find_layout(workspace, name)
    with refusing(str(found.path)):
        found.path.unlink()
    return found


def fit_layouts(workspace: Workspace, path: Path, today: date | None = None) -> LayoutFit:
    """Return by which kept layout a file would be read, and why; raises Refusal where it holds no table of rows."""
    proposal = Known(workspace, today).propose(read_incoming(path), Answers())
    says = [*proposal.notices, *(question.asks for question in proposal.questions)]
    says += [
        told(
            "{column} seems to be {name}, and the layout leaves it out.",
            column=offer.header or told("column {position}", position=offer.position),
            name=offer.names[0],
        )
        for offer in proposal.offers
    ]
    return LayoutFit(path.name, proposal.kept, proposal.layout.table, tuple(says))
