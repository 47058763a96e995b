"""Where the fields of a file of fixed width begin: at places that are blank in nearly every line, and in the header."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import pairwise

from evenhand.layouts.forms.fixed import DRAWN, find_starts

__all__ = ["body_of", "cells_at", "header_cells", "is_padded", "starts_under", "starts_without"]

MOST_FIELDS = 60
ASIDE = 1  # places by which a header may stand aside of its values
ALIGNED = 0.7  # of the fields, those whose header stands above them flush left or right
PADDED = 0.6  # of the lines of a file of fixed width, those in which some value is shorter than its field
MARKED = 0.1  # of the values of a field, those that may begin or end with a mark that parts no fields
TOKEN = re.compile(r"\S+")
APART = re.compile(r"\s{2,}")

Runs = list[tuple[int, int]]


def header_cells(line: str) -> list[str]:
    """Return the words of a line, those that one blank parts together: a header may be of several."""
    return APART.split(line.strip()) if line.strip() else []


def body_of(texts: Sequence[str], header: int) -> list[str]:
    """Return the lines that hold rows: those behind the header, without rules, titles, and the header again."""
    begin = header or (len(texts) // 2 if len(texts) > 8 else 1 if len(texts) > 1 else 0)
    words = texts[header - 1].split() if header else []
    lines = [line.rstrip() for line in texts[begin:] if line.strip(DRAWN)]
    lines = [line for line in lines if line.split() != words]
    usual = Counter(len(line.split()) for line in lines).most_common(1)
    return [line for line in lines if 2 * len(line.split()) >= usual[0][0]] if usual else []


def starts_without(body: Sequence[str]) -> tuple[int, ...]:
    """Return the positions, from 1, at which the fields begin that no header tells; () where there are none."""
    starts = find_starts(body) if body else ()
    if not 2 <= len(starts) <= MOST_FIELDS:
        return ()
    filled = [line for line in body if sum(map(bool, cells_at(line, starts))) >= 2]
    return starts if 2 * len(filled) >= len(body) else ()


def starts_under(header: str, body: Sequence[str]) -> tuple[int, ...]:
    """Return the positions, from 1, at which the fields begin that stand under their header's words.

    Words of a header that one blank parts belong together, unless a field ends and the next begins there. Returns ()
    where the header does not stand above the fields.
    """
    longest = max([len(header), *map(len, body)])
    rare = max(len(body) // 50, int(len(body) >= 20))
    inked = [sum(not line[at : at + 1].isspace() for line in body if at < len(line)) > rare for at in range(longest)]
    words = [(one.start(), one.end()) for one in TOKEN.finditer(header)]
    begins = [0]
    for (_, end), (start, _) in pairwise(words):
        blank = list(_runs(inked, end, start))
        if start - end > 1:
            if not blank and start - end > 2:
                return ()
            if not blank:
                continue  # a header's words, parted by one blank too many
            begins += _cuts(blank, start)
        elif blank and any(inked[begins[-1] : end]) and any(inked[start : _next(words, start, longest)]):
            begins.append(start)
    begins = sorted(set(begins))
    # Where one blank parts all words, as many words as fields stand above them, or nothing is known of them.
    is_told = "  " in header.strip() or len(begins) == len(words)
    fits = is_told and 2 <= len(begins) <= MOST_FIELDS and _aligned(header, inked, begins) >= ALIGNED
    return tuple(at + 1 for at in begins) if fits else ()


def _aligned(header: str, inked: Sequence[bool], begins: Sequence[int]) -> float:
    """Return the share of fields whose header begins where their values begin, or ends where they end."""
    found = []
    for begin, end in zip(begins, [*begins[1:], len(inked)], strict=True):
        above, values = header[begin:end].rstrip(), [at for at in range(begin, end) if inked[at]]
        if above and values:
            first = begin + len(above) - len(above.lstrip())
            last = begin + len(above) - 1
            found.append(min(abs(first - values[0]), abs(last - values[-1])) <= ASIDE)
    return sum(found) / max(len(found), 1)


def _runs(inked: Sequence[bool], begin: int, end: int) -> Iterator[tuple[int, int]]:
    """Yield the runs of places from `begin` to before `end` that are blank."""
    first = None
    for at in range(begin, end + 1):
        is_blank = at < end and not inked[at]
        if is_blank and first is None:
            first = at
        elif not is_blank and first is not None:
            yield first, at
            first = None


def _cuts(blank: Runs, start: int) -> list[int]:
    """Return where fields begin between two header words: one, or more where values without a header stand there."""
    wide = [end for begin, end in blank if end - begin > 1]
    if len(wide) > 1:
        return wide
    if blank[-1][1] == start:
        return [start]
    return [max(blank, key=lambda run: (run[1] - run[0], run[1]))[1]]


def _next(words: Runs, start: int, longest: int) -> int:
    """Return where the next word begins behind the one at `start`."""
    return next((begin for begin, _ in words if begin > start), longest)


def cells_at(line: str, starts: Sequence[int]) -> list[str]:
    """Return the cells of a line whose fields begin at `starts`, from 1."""
    ends = [*(start - 1 for start in starts[1:]), None]
    return [line[start - 1 : end].strip() for start, end in zip(starts, ends, strict=True)]


def is_padded(body: Sequence[str], starts: Sequence[int], mark: str) -> bool:
    """Return whether blanks part the fields rather than `mark`, which then only stands inside values."""
    if sum("  " in line for line in body) < PADDED * len(body):
        return False
    for column in zip(*(cells_at(line, starts) for line in body), strict=True):
        filled = [cell for cell in column if cell]
        if sum(cell.startswith(mark) or cell.endswith(mark) for cell in filled) > MARKED * len(filled):
            return False
    return True
