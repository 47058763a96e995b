"""Files that are no table of ours, as bytes."""

from __future__ import annotations

import random
from datetime import date

from bench.corpus.forms import Form, render
from bench.corpus.kit import Kit, draw
from bench.corpus.records import Around, CorpusFile, Row
from bench.corpus.spoiling import Line
from bench.corpus.workplaces import Place
from bench.corpus.writing import Field

__all__ = ["make_stranger"]


def make_stranger(kit: Kit, number: int, rng: random.Random, place: Place) -> CorpusFile:
    """Return a file that is no table of ours."""
    language = rng.choice(sorted(kit.strangers))
    name, headers, rows = rng.choice(list(kit.strangers[language]))(rng)
    kind = draw(rng, (("delimited", 0.75), ("sheet", 0.25)))
    fields = [Field(header, [row[at] for row in rows]) for at, header in enumerate(headers)]
    lines = [Line(list(headers), "header"), *(Line(list(row), "noise") for row in rows)]
    form = Form(kind, rng.choice((",", ";", "\t")), encoding="utf-8 with mark")
    content, numbers = render(form, lines, fields, rng)
    around = Around(date(2026, 10, 6))
    if rng.random() < 0.7:
        around = Around(
            date(2026, 10, 6), place.zone_of, place.site_zones, numbers=frozenset(one.number for one in place.people)
        )
    return CorpusFile(
        number,
        kit.name,
        f"{name}.{'xlsx' if kind == 'sheet' else 'csv'}",
        content,
        "",
        "refuse",
        frozenset({"table"}),
        tuple(Row(at, "noise") for at in numbers[1:]),
        tuple(() for _ in headers),
        tuple(headers),
        around,
        {"table": f"none: {name}", "form": kind, "header language": language},
        why="it is no table of ours",
    )
