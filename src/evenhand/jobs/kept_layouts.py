"""The layouts a workspace keeps, and where a new one goes."""

from __future__ import annotations

from dataclasses import replace
from itertools import count
from pathlib import Path

from evenhand.layouts import Layout
from evenhand.store.listing import files_in
from evenhand.terms.disk_faults import why_of
from evenhand.terms.languages import told
from evenhand.terms.records import Refusal

__all__ = ["KeptLayouts", "extends", "read_layout"]


def read_layout(path: Path) -> Layout:
    """Return the layout written in a file; raises Refusal where it is none."""
    try:
        text = path.read_text(encoding="utf-8")
    except OSError as fault:
        raise Refusal(
            told("{path} cannot be read ({why}); check its name and folder.", path=path, why=why_of(fault))
        ) from fault
    except UnicodeDecodeError as fault:
        raise Refusal(told("{path} is no text in UTF-8, so it is no layout; save it as UTF-8.", path=path)) from fault
    return Layout.from_toml(text, str(path))


def extends(layout: Layout, kept: Layout) -> bool:
    """Return whether a layout reads all that the kept one does, and states more: files of that kind are its own too."""
    unset = {"date_order": "", "zone": "", "number_width": None}
    adds = all(getattr(kept, name) in (nothing, getattr(layout, name)) for name, nothing in unset.items())
    reads = all(layout.columns.get(name) == sources for name, sources in kept.columns.items())
    free = {name: getattr(layout, name) for name in (*unset, "columns", "ignored", "header", "last_year", "roster")}
    return adds and reads and replace(kept, **free) == layout


class KeptLayouts:
    """The layouts in a folder, read once, with those that are added."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self._kept = {path: read_layout(path) for path in files_in(folder, ".toml")}

    @property
    def by_name(self) -> dict[str, Layout]:
        """Return the layouts by the names of their files."""
        return {path.name: kept for path, kept in self._kept.items()}

    def place_for(self, layout: Layout) -> Path:
        """Return where this very layout is kept, or else may be."""
        for path, kept in self._kept.items():
            if replace(kept, roster="") == replace(layout, roster=""):  # which is each file's own
                return path
        paths = (self.folder / f"{layout.table}-{place}.toml" for place in count(1))
        # another program may have kept one here since the folder was read
        return next(path for path in paths if path not in self._kept and not path.exists())

    def add(self, path: Path, layout: Layout) -> None:
        """Take note of a layout that is kept at `path` from now on."""
        self._kept[path] = layout
