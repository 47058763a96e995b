"""The columns of a file before it is written, with the truth of its rows."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date

from bench.corpus.kit import draw
from bench.corpus.records import AnyOf
from bench.corpus.workplaces import Person
from bench.corpus.writing import Field, Writer

__all__ = ["WRITTEN", "Sheet", "which_reader", "yes_no"]

# The week in which every roster, list and log of the corpus is written lies before this day.
WRITTEN = date(2026, 10, 5)


@dataclass
class Sheet:
    """The columns of a file with the truth of its rows; `people` says whom each row is about, where it is somebody.

    `reader` is the one reader of a file that does not name it in a column. `last` is the last day that happened in it.
    """

    fields: list[Field]
    truth: list[dict[str, object]]
    people: list[Person]
    last: date
    reader: str = ""
    dimensions: dict[str, str] = field(default_factory=dict)


def yes_no(w: Writer, concept: str, values: Sequence[bool]) -> tuple[Field, list[object]]:
    """Return a column of yes and no; an empty cell beside crosses is no, or nothing."""
    rng = w.rng
    if concept == "role":
        yes, no = rng.choice(w.kit.roles[w.language])
        certain = len(yes) == 1
    else:
        yes, no = rng.choice((*w.kit.answers[w.language], ("X", ""), ("x", ""), ("1", "0")))
        certain = True
    if w.typed == "json" and certain and concept != "role" and rng.random() < 0.5:
        return Field(w.header(concept), list(values), ("is_supervisor",)), list(values)
    w.words |= {yes: "yes", no: "no"}
    empty = None if w.typed else ""
    cells = [yes if value else no or empty for value in values]
    true: list[object] = []
    for value in values:
        if value:
            true.append(True if certain else AnyOf((True, None)))
        else:
            true.append(False if no and certain else AnyOf((False, None)))
    return Field(w.header(concept), cells, ("is_supervisor",)), true


def which_reader(w: Writer) -> tuple[str, str]:
    """Return where a log or list says from which reader it comes, and that reader where no column does."""
    how = draw(w.rng, (("column", 0.72), ("file name", 0.13), ("title", 0.07), ("nowhere", 0.08)))
    if how == "title" and w.typed == "json":
        how = "file name"
    return how, "" if how == "column" else w.rng.choice(w.place.readers).reader
