"""The shape of a file that nobody described: its delimiter or positions, its header, its table of rows."""

from __future__ import annotations

import json
import re
from collections import Counter
from collections.abc import Sequence

import polars as pl

from evenhand.layouts.forms.fixed import header_words
from evenhand.layouts.forms.widths import (
    body_of,
    cells_at,
    header_cells,
    is_padded,
    starts_under,
    starts_without,
)
from evenhand.layouts.source_file import SourceFile
from evenhand.layouts.values.words import plain
from evenhand.layouts.wording.header import is_header_word

__all__ = ["drop_unnamed", "find_delimiter", "find_fixed", "find_header", "is_json_lines", "usual_width"]

DELIMITERS = (",", ";", "\t", "|", "^", "~")
STATED = re.compile(r'^"?sep=([^"\s]|\t)"?$', re.IGNORECASE)
DIGIT = re.compile(r"\d")
HEADER_WITHIN = 60  # lines
WIDTHS_WITHIN = 400  # lines


def is_json_lines(lines: pl.Series) -> bool:
    """Return whether the first line that is not blank is a JSON object."""
    first = next((line for line in lines[:50].to_list() if line.strip()), "")
    try:
        return first.lstrip().startswith("{") and isinstance(json.loads(first), dict)
    except (ValueError, RecursionError):
        return False


def usual_width(rows: Sequence[Sequence[str]]) -> tuple[int, float]:
    """Return the commonest number of columns of the rows that have cells, above one, and the share that has it."""
    counts = Counter(len(row) for row in rows if any(cell.strip() for cell in row))
    several = {width: count for width, count in counts.items() if width > 1}
    if not several:
        return 0, 0.0
    width = max(several, key=lambda each: (several[each], each))
    return width, several[width] / sum(counts.values())


def find_delimiter(file: SourceFile) -> str:
    """Return the character that cuts most lines into one number of columns, '' where none does."""
    # The first line may state it, as a spreadsheet program's own exports do.
    if stated := STATED.match(next(iter(file.lines()[:1].to_list()), "")):
        return stated[1]
    best, chosen = 0.0, ""
    for delimiter in DELIMITERS:
        width, share = usual_width(file.delimited_rows(delimiter))
        # A mark inside text cuts some lines, a delimiter nearly all; among those, more columns are likelier.
        score = share + min(width, 20) / 100
        if share >= 0.5 and score > best:
            best, chosen = score, delimiter
    return chosen


def find_fixed(lines: pl.Series, mark: str = "", width: int = 0) -> tuple[tuple[int, ...], int]:
    """Return the positions at which fields of fixed width begin, and the header's line, from 1; () where none do.

    Where a `mark` cuts lines into `width` cells, the file is of fixed width only if blanks part its fields better.
    """
    texts = lines[:WIDTHS_WITHIN].to_list()
    if mark and sum("  " in text for text in texts) * 2 < sum(bool(text.strip()) for text in texts):
        return (), 0
    usual = Counter(len(text.split()) for text in texts if text.strip()).most_common(1)
    if not usual or usual[0][0] < 2:
        return (), 0
    header = find_header([header_cells(text) for text in texts]) or find_header([text.split() for text in texts])
    body = body_of(texts, header)
    starts = starts_under(texts[header - 1], body) if header and body else ()
    if not starts:
        starts = starts_without(body)
        header = find_header([cells_at(text, starts) for text in texts]) if starts else 0
        starts = drop_unnamed(lines, starts, header) if starts else ()
    if mark and (len(starts) < width or not is_padded(body, starts, mark)):
        return (), 0
    return (starts, header) if len(starts) > 1 else ((), 0)


def drop_unnamed(lines: pl.Series, starts: tuple[int, ...], header: int) -> tuple[int, ...]:
    """Return the positions without those where one value goes on: one blank before them, and no header above."""
    if not header:
        return starts
    texts = lines[:400].to_list()
    headers = header_words(texts[header - 1], starts)
    kept = [starts[0]]
    for start, word in zip(starts[1:], headers[1:], strict=True):
        before = [line[start - 3] for line in texts[header:] if start >= 3 and len(line) >= start]
        if word or all(character.isspace() for character in before):
            kept.append(start)
    return tuple(kept)


def find_header(rows: Sequence[Sequence[str]]) -> int:
    """Return the line, from 1, whose cells read like header words; 0 where the file begins with rows.

    Where no word is known, a line of words without a digit above lines that hold digits is a header too. A line whose
    cells stand in other lines of their column as well, or look like them, is a row, whatever a reader may be called.
    """
    width, _ = usual_width(rows)
    shapes = _shapes_by_column(rows)
    best, chosen = 0.0, 0
    for place, row in enumerate(rows[:HEADER_WITHIN]):
        filled = [cell for cell in row if cell.strip()]
        if len(filled) < 2 or len(filled) * 2 < width or _is_row(row, shapes):
            continue
        known = sum(is_header_word(cell) for cell in filled)
        if known < min(2, len(filled)) or known / len(filled) <= 0.3:
            continue
        # A row of groups, such as Employee and Punch, stands right above the header and leaves cells empty.
        is_under_groups = chosen == place and len(filled) > sum(bool(cell.strip()) for cell in rows[place - 1])
        if known / len(filled) > best or (is_under_groups and not any(c.isdigit() for cell in filled for c in cell)):
            best, chosen = known / len(filled), place + 1
    if chosen:
        return chosen
    for place, row in enumerate(rows[:HEADER_WITHIN]):
        filled = [cell for cell in row if cell.strip()]
        if len(filled) >= max(2, width // 2):
            is_words = all(not any(c.isdigit() for c in cell) and len(plain(cell)) > 1 for cell in filled)
            below = {cell for later in rows[place + 1 : place + 20] for cell in later}
            holds_digits = any(c.isdigit() for cell in below for c in cell)
            return place + 1 if is_words and holds_digits and below.isdisjoint(filled) else 0
    return 0


def _shapes_by_column(rows: Sequence[Sequence[str]]) -> list[Counter[str]]:
    """Return by column how often each shape of a cell stands in lines that differ, digits being all one shape."""
    shapes: list[Counter[str]] = []
    # A report repeats its header on every page, and one that two were pasted into has it in another order.
    for row in {tuple(sorted(row)): row for row in reversed(rows)}.values():
        for at, cell in enumerate(row):
            if at == len(shapes):
                shapes.append(Counter())
            shapes[at][_shape(cell)] += 1
    return shapes


def _is_row(row: Sequence[str], shapes: Sequence[Counter[str]]) -> bool:
    """Return whether most cells of a line stand in other lines of their column too, or look like those."""
    filled = [(at, cell) for at, cell in enumerate(row) if cell.strip()]
    return sum(shapes[at][_shape(cell)] > 1 for at, cell in filled) * 2 > len(filled)


def _shape(cell: str) -> str:
    return DIGIT.sub("0", cell.strip())
