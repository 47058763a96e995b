"""The files in a folder, or why they cannot be seen: a search by pattern finds nothing where it may not look."""

from __future__ import annotations

from pathlib import Path

from evenhand.store.faults import refusing

__all__ = ["files_in"]


def files_in(folder: Path, ending: str) -> list[Path]:
    """Return the files whose names have an ending, such as `.toml`, by name; none where there is no folder.

    Raises Refusal where it may not be read.
    """
    with refusing(str(folder)):
        if not folder.exists():
            return []
        return sorted(path for path in folder.iterdir() if path.name.endswith(ending))
