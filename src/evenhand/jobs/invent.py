"""Write an invented workplace's files into a directory, with the truth kept beside them."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from pathlib import Path

from evenhand import twin
from evenhand.terms.columns import Frame
from evenhand.terms.csv_text import as_csv
from evenhand.terms.disk_faults import why_of
from evenhand.terms.languages import told
from evenhand.terms.records import Refusal

__all__ = ["Invented", "invent"]


@dataclass(frozen=True)
class Invented:
    """Where the files and the truth were written, and the days they cover, both included."""

    name: str
    files: tuple[Path, ...]
    truth: Path
    first: date
    last: date


def invent(directory: Path, seed: int, *, first: date, weeks: int, people: int, readers: int) -> Invented:
    """Write the workplace that `seed` makes: ordinary files under files/, what is true under truth/.

    Raises Refusal where the directory holds anything already, or where the sizes cannot be made.
    """
    if directory.exists() and (not directory.is_dir() or any(directory.iterdir())):
        raise Refusal(
            told("{directory} is not an empty folder; name an empty one, or one to be made.", directory=directory)
        )
    workplace = twin.workplace(seed, first=first, weeks=weeks, people=people, readers=readers)
    written = []
    try:
        (directory / "files").mkdir(parents=True)
        (directory / "truth").mkdir()
        for name, content in twin.files(workplace).items():
            path = directory / "files" / name
            path.write_bytes(content)
            written.append(path)
        for name, frame in vars(workplace.truth).items():
            if isinstance(frame, Frame):
                text = as_csv(frame.columns, frame.iter_rows())
                (directory / "truth" / f"{name}.csv").write_bytes(text.encode())
    except OSError as fault:
        raise Refusal(
            told(
                "{place} cannot be written ({strerror}); name another.",
                place=fault.filename or directory,
                strerror=why_of(fault),
            )
        ) from fault
    return Invented(
        workplace.name, tuple(written), directory / "truth", first, first + timedelta(days=workplace.days - 1)
    )
