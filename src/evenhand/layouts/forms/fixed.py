"""Fixed width: each field begins at its own position in every line."""

from __future__ import annotations

import re
from collections.abc import Sequence

import numpy as np
import polars as pl

from evenhand.layouts.forms.grid import Grid
from evenhand.terms.languages import sentence
from evenhand.terms.tables import REJECTS

__all__ = ["find_starts", "header_words", "split_fixed"]


DRAWN = " \t\xa0-=_+|"  # what lines under a header are drawn with
HALF_DAY = re.compile(r"([ap]\.? ?m\.?)?", re.IGNORECASE)


def split_fixed(lines: pl.Series, starts: Sequence[int], header: int) -> Grid:
    """Return the cells of the lines after line `header` (0: none); fields begin at `starts`, from 1.

    Where the place before a field is blank in nearly every line, a line with ink there is a fault: its value would
    be cut in two.
    """
    begins = [start - 1 for start in starts]
    ends = [*begins[1:], None]
    headers = header_words(lines[header - 1], starts) if header else ()
    body = lines[header:]
    is_row = (body.str.strip_chars(DRAWN) != "").to_numpy()
    crossing = np.zeros(body.len(), dtype=np.int64)
    for begin in begins[1:]:
        ink = (body.str.slice(begin - 1, 2).str.contains(r"^\S\S")).to_numpy() & is_row
        if ink.any() and ink.sum() * 10 < is_row.sum():
            crossing[ink] = begin + 1
    rows = np.flatnonzero(is_row & (crossing == 0))
    cut = np.flatnonzero(crossing)
    position = pl.format("{}", pl.Series(crossing[cut]))
    rejects = (
        body.gather(cut)
        .to_frame("seen")
        .select(
            line=pl.Series(cut + header + 1),
            column=pl.format(sentence("position {position}").format(position="{}"), position),
            seen="seen",
            reason=pl.format(
                sentence(
                    "a value runs over position {position}, where a field begins; correct the row or the layout's "
                    "starts"
                ).format(position="{}"),
                position,
            ),
        )
    )
    kept = body.gather(rows)
    columns = tuple(
        kept.str.slice(begin, None if end is None else end - begin).str.strip_chars()
        for begin, end in zip(begins, ends, strict=True)
    )
    preamble = int((lines[: header - 1].str.strip_chars() != "").sum()) if header > 1 else 0
    return Grid(headers, columns, rows + header + 1, REJECTS.frame(rejects.to_dict()), preamble)


def find_starts(lines: Sequence[str]) -> tuple[int, ...]:
    """Return the positions, from 1, at which fields begin: after places that are blank in nearly every line."""
    longest = max(map(len, lines), default=0)
    inked = [sum(at < len(line) and not line[at].isspace() for line in lines) for at in range(longest)]
    rare = len(lines) // 50
    begins = [at for at in range(longest) if inked[at] > rare and (at == 0 or inked[at - 1] <= rare)]
    ends = [*begins[1:], None]
    # AM and PM belong to the time before them.
    kept = [
        begin
        for begin, end in zip(begins, ends, strict=True)
        if begin == begins[0] or not all(HALF_DAY.fullmatch(line[begin:end].strip()) for line in lines)
    ]
    return tuple(begin + 1 for begin in kept)


def header_words(line: str, starts: Sequence[int]) -> tuple[str, ...]:
    """Return the header of each field: a header may begin left of the values that stand under it.

    Where no word crosses the beginning of a field, each field's header is what stands above it. Otherwise as many words
    as fields are the fields' headers in their order, wherever they stand.
    """
    if not any(re.fullmatch(r"\S\S", line[start - 2 : start]) for start in starts[1:]):
        ends = [*(start - 1 for start in starts[1:]), None]
        above = [" ".join(line[start - 1 : end].split()) for start, end in zip(starts, ends, strict=True)]
        if all(above) or len(line.split()) != len(starts):
            return tuple(above)
    if len(line.split()) == len(starts):
        return tuple(line.split())
    begins = [start - 1 for start in starts]
    words: list[list[str]] = [[] for _ in begins]
    for found in re.finditer(r"\S+", line):
        reached = [at for at, begin in enumerate(begins) if begin < found.end()] or [0]
        field = begins.index(found.start()) if found.start() in begins else reached[-1]
        words[field].append(found.group())
    return tuple(" ".join(each) for each in words)
