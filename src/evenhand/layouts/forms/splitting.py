"""Delimited text to cells: lines without quotes are split at once, the others go through the csv module."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
import numpy.typing as npt
import polars as pl

from evenhand.layouts.forms.encoding import LONGEST_LINE
from evenhand.layouts.forms.grid import TOTAL_LINE, Grid, Lines, whole_rows
from evenhand.layouts.forms.quoting import LOOKAHEAD, lines_after, read_quoted
from evenhand.layouts.values.words import are_totals
from evenhand.terms.columns import Frame
from evenhand.terms.languages import sentence, told
from evenhand.terms.records import Refusal
from evenhand.terms.tables import REJECTS

__all__ = ["lines_of", "split"]

SPACES = "".join(filter(str.isspace, map(chr, range(0x3001))))
"""Every character that Python counts as a space: a cell of no-break spaces is as empty as one of blanks."""

RULE = r"^(?:[-=_+]{2,}[^\p{L}\p{N}]*)+$"
"""A line drawn under a header, with whatever delimiter."""

COMMENT_MARKS = ("#", "//", ";")
COMMENT_LINE = sentence("this is a comment, not a row; nothing to do, or take the mark before it away where it is one")

OPEN_QUOTE = sentence(
    "a quote opens here and does not close as it should; close it, or double the quotes inside the field"
)


def lines_of(name: str, text: bytes) -> pl.Series:
    """Return the lines of valid UTF-8 text, without a last empty one; raises Refusal for one longer than 1 MiB."""
    lines = pl.read_lines(text).to_series()
    lengths = lines.str.len_bytes()
    if (lengths > LONGEST_LINE).any():
        line = (lengths > LONGEST_LINE).arg_max() or 0
        raise Refusal(
            told(
                "{name} line {line}: the line is longer than 1 MiB; this is no table of rows.", name=name, line=line + 1
            )
        )
    return lines


def split(lines: pl.Series, delimiter: str, header: int, width: int) -> Grid:
    """Return the cells of the lines after line `header` (0: the file has none; then it has `width` columns).

    Blank lines are not rows. Empty cells beyond the last column are let pass; any other number of columns is a fault.
    """
    headers, begin = _headers(lines, delimiter, header) if header else ((), 0)
    width = len(headers) or width
    body, first = lines[begin:], begin + 1
    preamble = int((lines[: header - 1].str.strip_chars() != "").sum()) if header > 1 else 0
    # The streaming engine spreads the work on one column over all cores.
    found = (
        body.to_frame("line")
        .lazy()
        .select(
            pl.col("line").str.splitn(delimiter, width + 1).alias("parts"),
            pl.col("line").str.contains('"', literal=True).alias("has_quote"),
        )
        .collect(engine="streaming")
    )
    has_quote = found.get_column("has_quote")
    parts = found.get_column("parts").struct.unnest()
    over = parts.get_column(f"field_{width}")
    is_row = parts.get_column(f"field_{width - 1}").is_not_null() & ~has_quote
    if over.null_count() < over.len():
        is_row = is_row & (over.is_null() | (over.str.strip_chars(delimiter + SPACES) == ""))
    blank, comments = _asides(parts.get_column("field_0"), body, delimiter)
    plain = is_row.to_numpy().copy()
    plain[blank] = plain[comments] = False
    cells = parts.select(f"field_{at}" for at in range(width))
    if plain.all():
        return Grid(headers, tuple(cells), np.arange(first, first + body.len(), dtype=np.int64), preamble=preamble)
    quoted = has_quote.to_numpy().copy()
    quoted[comments] = False
    others = _read_others(body, plain, quoted, comments, delimiter, width)
    plain = plain & ~others.covered
    columns, places = _merge(tuple(cells.filter(pl.Series(plain))), np.flatnonzero(plain), others)
    rejects = others.rejects.with_columns(pl.col("line") + first)
    return Grid(headers, columns, places + first, rejects, preamble)


def _headers(lines: pl.Series, delimiter: str, header: int) -> tuple[tuple[str, ...], int]:
    """Return the header words, and the number of lines up to the end of the header."""
    texts = dict(enumerate(lines[header - 1 : header - 1 + LOOKAHEAD].to_list()))
    row = read_quoted(texts, [0], delimiter, 0)[0]
    words = [" ".join(cell.split()) for cell in row.cells or texts[0].split(delimiter)]
    while len(words) > 1 and not words[-1]:
        words.pop()
    return tuple(words), header - 1 + row.taken


def _asides(leading: pl.Series, body: pl.Series, delimiter: str) -> tuple[Lines, Lines]:
    """Return the places of blank lines, with those drawn under a header, and of comments.

    Looks closely only where a first cell is empty or begins with a mark. Where every other line that is not blank
    begins as a comment does, none is one.
    """
    places = leading.str.contains(r"^[^\p{L}\p{N}]|^$").arg_true()
    lines, at = body.gather(places), places.cast(pl.Int64).to_numpy()
    # One mark alone may stand for a cell that is left out; a line is drawn with several.
    is_blank = (lines.str.strip_chars(delimiter + SPACES) == "") | lines.str.contains(RULE)
    marks = "|".join(mark for mark in COMMENT_MARKS if not mark.startswith(delimiter))
    comments = at[(lines.str.contains(rf"^\s*(?:{marks})") & ~is_blank).to_numpy()]
    blank = at[is_blank.to_numpy()]
    return blank, comments if len(comments) * 2 < body.len() - len(blank) else comments[:0]


@dataclass
class _Others:
    """What came of the lines that could not be split at once; `covered` are those that hold quotes."""

    covered: npt.NDArray[np.bool_]
    simple: Frame
    simple_places: Lines
    rejects: Frame = field(default_factory=REJECTS.empty)
    rows: list[list[str]] = field(default_factory=list)
    places: list[int] = field(default_factory=list)


def _read_others(
    body: pl.Series,
    plain: npt.NDArray[np.bool_],
    has_quote: npt.NDArray[np.bool_],
    comments: Lines,
    delimiter: str,
    width: int,
) -> _Others:
    simple, simple_places, quoted = _split_all_quoted(body, has_quote, delimiter, width)
    others = _Others(has_quote.copy(), simple, simple_places)
    others.covered[quoted] = False
    open_quotes, misfits = _read_quoted(others, body, quoted, delimiter, width)
    left = np.flatnonzero(~plain & ~others.covered)
    texts = body.gather(left)
    filled = (texts.str.strip_chars(delimiter + SPACES) != "") & ~texts.str.contains(RULE)
    places, texts = left[filled.to_numpy()], texts.filter(filled)
    first_cells = texts.str.strip_chars_start(delimiter + SPACES).str.splitn(delimiter, 2).struct.field("field_0")
    counts = texts.str.count_matches(delimiter, literal=True) + 1
    is_last = pl.Series(places == body.len() - 1)
    reasons = _count_reasons(first_cells, counts, width, is_last)
    is_comment = pl.Series(np.isin(places, comments))
    reasons = reasons.scatter(is_comment.arg_true(), COMMENT_LINE)
    others.rejects = pl.concat(
        [
            whole_rows(np.array(open_quotes, np.int64), body.gather(open_quotes), OPEN_QUOTE),
            misfits,
            whole_rows(places, texts, reasons),
        ]
    )
    return others


def _read_quoted(
    others: _Others, body: pl.Series, quoted: Lines, delimiter: str, width: int
) -> tuple[list[int], Frame]:
    """Read the lines that need the csv module into `others`; return those whose quotes do not fit, and the misfits."""
    texts = lines_after(body, quoted)
    open_quotes: list[int] = []
    misfits: list[int] = []
    first_cells: list[str] = []
    counts: list[int] = []
    for row in read_quoted(texts, quoted.tolist(), delimiter, width):
        others.covered[row.start : row.start + row.taken] = True
        if row.cells is None:
            open_quotes.append(row.start)
        elif len(row.cells) < width or any(cell.strip() for cell in row.cells[width:]):
            misfits.append(row.start)
            first_cells.append(next((cell for cell in row.cells if cell.strip()), ""))
            counts.append(len(row.cells))
        elif any(cell.strip() for cell in row.cells):
            others.rows.append(row.cells[:width])
            others.places.append(row.start)
    reasons = _count_reasons(pl.Series(first_cells, dtype=pl.String), pl.Series(counts, dtype=pl.UInt32), width)
    return open_quotes, whole_rows(np.array(misfits, np.int64), body.gather(misfits), reasons)


def _split_all_quoted(
    body: pl.Series, has_quote: npt.NDArray[np.bool_], delimiter: str, width: int
) -> tuple[Frame, Lines, Lines]:
    """Return the cells of lines in which every field is quoted and holds no quote, their places, and the other places.

    All their quotes are accounted for, so they need no parser; but a line that may lie inside a field that began above
    is left to it.
    """
    quoted = np.flatnonzero(has_quote)
    line, between = pl.col("line"), f'"{delimiter}"'
    is_simple = (
        line.str.starts_with('"')
        & line.str.ends_with('"')
        & (line.str.count_matches('"', literal=True) == 2 * width)
        & (line.str.count_matches(between, literal=True) == width - 1)
    )
    lines = body.gather(quoted).to_frame("line")
    simple = lines.lazy().select(is_simple).collect(engine="streaming").to_series().to_numpy()
    doubtful = np.zeros(body.len() + LOOKAHEAD, dtype=np.bool_)
    for ahead in range(LOOKAHEAD):
        doubtful[quoted[~simple] + ahead] = True
    simple = simple & ~doubtful[quoted]
    inner = line.str.strip_prefix('"').str.strip_suffix('"').str.splitn(between, max(width, 2))
    cells = lines.filter(pl.Series(simple)).lazy().select(inner).collect(engine="streaming").to_series().struct.unnest()
    cells = cells.select(f"field_{at}" for at in range(width))
    filled = cells.select(pl.any_horizontal(pl.all().str.strip_chars() != "")).to_series()
    return cells.filter(filled), quoted[simple][filled.to_numpy()], quoted[~simple]


def _merge(cells: tuple[pl.Series, ...], places: Lines, others: _Others) -> tuple[tuple[pl.Series, ...], Lines]:
    """Return all rows in the order of the file, with their places."""
    if not others.rows and not len(others.simple_places):
        return cells, places
    places = np.concatenate([places, others.simple_places, np.array(others.places, dtype=np.int64)])
    order = np.argsort(places, kind="stable")
    added = (pl.Series([row[at] for row in others.rows], dtype=pl.String) for at in range(len(cells)))
    merged = (pl.concat([a, b, c]) for a, b, c in zip(cells, others.simple, added, strict=True))
    in_order = bool((order[1:] > order[:-1]).all())
    return tuple(column if in_order else column.gather(order) for column in merged), places[order]


def _count_reasons(
    first_cells: pl.Series, counts: pl.Series, width: int, is_last: pl.Series | bool = False
) -> pl.Series:
    """Return why lines with `counts` cells are refused where `width` belong; `is_last` is the last line of the file."""
    cut_short = pl.lit(is_last) & (pl.lit(counts) < width)
    what_to_do = pl.when(cut_short).then(pl.lit(sentence("the file may be cut short here, so export it again")))
    pattern = sentence("the row has {columns} columns where {width} belong; {advice}")
    advice = what_to_do.otherwise(pl.lit(sentence("correct the row")))
    reason = pl.format(pattern.format(columns="{}", width="{}", advice="{}"), counts, width, advice)
    is_total = pl.lit(are_totals(first_cells))
    return pl.select(pl.when(is_total).then(pl.lit(TOTAL_LINE)).otherwise(reason)).to_series()
