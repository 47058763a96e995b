"""JSON lines: one object to a line.

Source: RFC 8259 (JSON); one text to a line, as JSON Text Sequences without separators are commonly written.
"""

from __future__ import annotations

import json
import re
from dataclasses import dataclass
from typing import Any, NoReturn

import numpy as np
import polars as pl

from evenhand.layouts.forms.grid import MOST_COLUMNS, Grid, Lines, whole_rows
from evenhand.terms.languages import of_file, sentence, told
from evenhand.terms.records import Refusal

__all__ = ["is_object_to_a_line", "split_json_lines"]

SHAPES = 8  # orders of names that are looked for; a program writes its objects in one or two
MOST_NAMES = 60
MOST_CELLS = 50_000_000
BLANK = r"[ \t]*"
# A text without escapes, or a number or word; what is neither is left to the parser.
VALUE = r'(?:"([^"\\\x00-\x1f]*)"|(-?(?:0|[1-9][0-9]*)(?:\.[0-9]+)?(?:[eE][+-]?[0-9]+)?|true|false|null))'
CUT_SHORT = sentence("the object ends before names that all others have, as if it were cut short; export it again")
WHOLE, MOST_SHORT = 0.8, 0.02  # of the objects: those that have every name, and those that may be cut short
NO_OBJECT = sentence("the line is no JSON object, or one in which a name stands twice; correct or export it again")


@dataclass(frozen=True)
class _Part:
    """The objects of some lines: their cells by name, and the places of the lines.

    `shapes` has the places by the names of the objects, in their order.
    """

    places: Lines
    cells: dict[str, pl.Series]
    shapes: dict[tuple[str, ...], Lines]


def is_object_to_a_line(text: bytes) -> bool:
    """Return whether the first line that is not blank is an object by itself, and others follow."""
    begin = len(text) - len(text.lstrip())
    end = text.find(b"\n", begin)
    if end < 0 or not text[end : end + (1 << 16)].strip():
        return False
    return _parse(text[begin:end].decode(errors="replace")) is not None


def split_json_lines(lines: pl.Series, name: str = "the file") -> Grid:
    """Return the cells of the objects; every name that any of them has is a column.

    Lines whose names stand in the same order are cut at once by one pattern; nested objects, escapes and all else go
    through the parser line by line. Raises Refusal, with the file's `name`, where the names are too many for a table.
    """
    is_row = (lines.str.strip_chars() != "").to_numpy()
    may_be_object = lines.str.contains(r"^[ \t]*\{").to_numpy()
    left, bad = np.flatnonzero(is_row & may_be_object), np.flatnonzero(is_row & ~may_be_object)
    parts: list[_Part] = []
    odd: list[int] = []
    for _ in range(SHAPES):
        if not len(left):
            break
        names, pattern = _shape_of(lines[int(left[0])])
        if names:
            parts.append(_cut_alike(lines, left, names, pattern))
            left = np.setdiff1d(left, parts[-1].places, assume_unique=True)
        else:
            odd.append(int(left[0]))
            left = left[1:]
    left = np.concatenate([np.array(odd, np.int64), left])
    parsed, unread = _parse_each(lines, left, name)
    parts += parsed
    bad = np.concatenate([bad, np.array(unread, np.int64)])
    names = _in_order_of_appearance(parts)
    if len(names) > MOST_COLUMNS or len(names) * len(is_row) > MOST_CELLS:
        raise _too_many(name, len(names))
    places = np.concatenate([part.places for part in parts]) if parts else np.zeros(0, np.int64)
    order = np.argsort(places, kind="stable")
    short = _cut_short(parts)
    kept = order[~np.isin(places[order], short)] if len(short) else order
    columns = (
        pl.concat([part.cells.get(named, pl.repeat("", len(part.places), eager=True)) for part in parts])
        for named in names
    )
    in_order = len(parts) == 1 and not len(short)
    rejects = [whole_rows(bad + 1, lines.gather(bad), NO_OBJECT), whole_rows(short + 1, lines.gather(short), CUT_SHORT)]
    return Grid(
        tuple(names),
        tuple(column if in_order else column.gather(kept) for column in columns),
        places[kept] + 1,
        pl.concat(rejects),
    )


def _shape_of(text: str) -> tuple[list[str], str]:
    """Return the names of an object and the pattern of lines written as it is; none where no pattern reads it."""
    names = list(_parse(text) or ())
    between = f"{BLANK},{BLANK}".join(f"{re.escape(json.dumps(name))}{BLANK}:{BLANK}{VALUE}" for name in names)
    pattern = f"^{BLANK}\\{{{BLANK}{between}{BLANK}\\}}{BLANK}$"
    return (names, pattern) if len(names) <= MOST_NAMES and re.match(pattern, text) else ([], "")


def _cut_alike(lines: pl.Series, left: Lines, names: list[str], pattern: str) -> _Part:
    """Return those of the lines left that the pattern fits."""
    texts = lines if len(left) == lines.len() else lines.gather(left)
    groups = pl.col("line").str.extract_groups(pattern).struct
    # The streaming engine spreads the work on one column over all cores.
    found = texts.to_frame("line").lazy().select(groups.unnest()).collect(engine="streaming")
    quoted, bare = (found.select(pl.nth(range(start, found.width, 2))) for start in (0, 1))
    fits = quoted.to_series(0).is_not_null() | bare.to_series(0).is_not_null()
    cells = {
        name: text.fill_null(word.replace({"null": ""})).filter(fits)
        for name, text, word in zip(names, quoted.get_columns(), bare.get_columns(), strict=True)
    }
    places = left[fits.to_numpy()]
    return _Part(places, cells, {tuple(names): places})


def _parse_each(lines: pl.Series, left: Lines, of: str) -> tuple[list[_Part], list[int]]:
    """Return the objects of the lines left, and the places of those that are none."""
    rows: list[dict[str, Any]] = []
    places: list[int] = []
    bad: list[int] = []
    for place, text in zip(left.tolist(), lines.gather(left), strict=True):
        row = _parse(text)
        if row is None:
            bad.append(place)
        else:
            rows.append(row)
            places.append(place)
    names = dict.fromkeys(name for row in rows for name in row)
    if len(names) > MOST_COLUMNS or len(names) * len(rows) > MOST_CELLS:
        raise _too_many(of, len(names))
    cells = {name: pl.Series([_cell(row.get(name)) for row in rows], dtype=pl.String) for name in names}
    shapes: dict[tuple[str, ...], list[int]] = {}
    for place, row in zip(places, rows, strict=True):
        shapes.setdefault(tuple(row), []).append(place)
    by_shape = {shape: np.array(found, np.int64) for shape, found in shapes.items()}
    return [_Part(np.array(places, np.int64), cells, by_shape)] if rows else [], bad


def _cut_short(parts: list[_Part]) -> Lines:
    """Return the places of the few objects that end before two names or more that nearly all others have."""
    shapes: dict[tuple[str, ...], list[Lines]] = {}
    for part in parts:
        for shape, places in part.shapes.items():
            shapes.setdefault(shape, []).append(places)
    counts = {shape: sum(map(len, places)) for shape, places in shapes.items()}
    if len(counts) < 2:
        return np.zeros(0, np.int64)
    whole, objects = max(counts, key=counts.__getitem__), sum(counts.values())
    short = [shape for shape in counts if len(shape) + 1 < len(whole) and shape == whole[: len(shape)]]
    of_short = sum(counts[shape] for shape in short)
    if counts[whole] < WHOLE * objects or of_short > max(1, MOST_SHORT * objects):
        return np.zeros(0, np.int64)
    return np.concatenate([np.zeros(0, np.int64), *(places for shape in short for places in shapes[shape])])


def _in_order_of_appearance(parts: list[_Part]) -> list[str]:
    first: dict[str, tuple[int, int]] = {}
    for part in parts:
        for place, name in enumerate(part.cells):
            first[name] = min(first.get(name, (1 << 62, 0)), (int(part.places[0]), place))
    return sorted(first, key=first.__getitem__)


def _parse(text: str) -> dict[str, Any] | None:
    try:
        row = json.loads(
            text, parse_float=str, parse_int=str, parse_constant=_refuse_constant, object_pairs_hook=_once_each
        )
    except (ValueError, RecursionError):
        return None
    return row if isinstance(row, dict) else None


def _too_many(name: str, count: int) -> Refusal:
    says = told(
        "the objects have {count:,} different names, more than a table has columns; export rows that are alike.",
        count=count,
    )
    return Refusal(of_file(name, says))


def _cell(value: Any) -> str:
    if value is None:
        return ""
    if isinstance(value, str):
        # Half a surrogate pair can be written in JSON, but is no character.
        return value.encode("utf-8", errors="replace").decode("utf-8")
    return json.dumps(value)


def _once_each(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    """Return the object; of two members of one name, nobody can say which is meant."""
    if len(row := dict(pairs)) < len(pairs):
        raise ValueError("a name stands twice")
    return row


def _refuse_constant(name: str) -> NoReturn:
    raise ValueError(name)
