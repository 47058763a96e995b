"""Cells that say from when until when a shift goes: 06:00-14:00, 22 h bis 6 h, 7am to 3pm."""

from __future__ import annotations

import re
from typing import Literal

import polars as pl

__all__ = ["is_span", "split_spans"]

HALF = r"(?:[ \xa0\x{202f}]?[ap]\.?[ \xa0\x{202f}]?m?\.?)"
MINUTE = r"(?:[:.]| ?[hu] ?)[0-9]{2}(?::[0-9]{2})?"
TIME = rf"(?:[0-9]{{1,2}}(?:{MINUTE}{HALF}?|{HALF}| ?h)(?: ?(?:uhr|uur|hrs?|h)\.?)?|[0-9]{{4}})"
FROM = r"(?:(?:from|von|vom|de|das|dalle|van|od|du) )?"
TO = r"(?: ?[-\x{2013}\x{2014}\x{2212}~] ?| (?:to|until|till|bis|a|al|a las|hasta|à|até|às|alle|tot|do) )"
SPAN = rf"(?i)^{FROM}(?P<start>{TIME}){TO}(?P<end>{TIME})$"
PATTERN = re.compile(re.sub(r"\\x\{(\w+)\}", lambda found: chr(int(found[1], 16)), SPAN), re.ASCII)


def is_span(text: str) -> bool:
    """Return whether a text is two times of day, one after the other."""
    return PATTERN.match(" ".join(text.split())) is not None


def split_spans(column: pl.Series, part: Literal["start", "end"]) -> pl.Series:
    """Return the first or the second times of a column of spans; a cell that is none is its own start, with no end."""
    texts = column.fill_null("").str.replace_all(r"\s+", " ").str.strip_chars()
    times = texts.str.extract_groups(SPAN).struct.field(part)
    return times.fill_null(texts if part == "start" else pl.repeat("", len(texts), eager=True))
