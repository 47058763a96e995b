"""Which of the layouts that were kept fits a file: by the words of its header, and by what its columns hold."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from evenhand.layouts.asking import label_of, samples_of
from evenhand.layouts.evidence.column import ColumnSeen, KnownTexts, columns_seen
from evenhand.layouts.evidence.fit import by_cells
from evenhand.layouts.evidence.profile import Profile
from evenhand.layouts.joined import in_spans, looks
from evenhand.layouts.layout import Layout
from evenhand.layouts.proposal import Choice, Question
from evenhand.layouts.sketch import Cut, Sketch, cut_by
from evenhand.layouts.source_file import SourceFile
from evenhand.layouts.values.coded import Unfit
from evenhand.layouts.values.dates import ORDER_WORDS, DateStyle, parse_date, style_of
from evenhand.layouts.values.moments import split_moment
from evenhand.layouts.values.words import plain
from evenhand.terms.column_words import column_in_words
from evenhand.terms.languages import in_a_row, of_file, told
from evenhand.terms.records import Refusal
from evenhand.terms.sources import SOURCES

__all__ = ["KeptFit", "choose_kept", "fit_kept"]

UNREADABLE = -7.5  # cells that fit worse cannot be read as what a layout says they are
VAGUE = -1.0  # without a header nothing but the cells tells, so that they have to fit
TOLD = 2.0  # what the cells of a layout without header have to say for it, together
PER_COLUMN = 2.0
ALIKE = 1.0
FIRST_YEAR = 1900
READABLE = 0.6  # of the dates, in the order that the layout states


@dataclass(frozen=True)
class KeptFit:
    """A kept layout on a file: how the file is cut by it, where its columns stand, and how well it fits.

    `fault` says why its values cannot be read, where its header fits all the same.
    """

    key: str
    layout: Layout
    cut: Cut
    seen: Sequence[ColumnSeen]
    columns: Mapping[str, tuple[int, ...]]
    weight: float
    fault: str = ""


def fit_kept(file: SourceFile, key: str, layout: Layout, known: KnownTexts, sketch: Sketch) -> KeptFit | None:
    """Return how a kept layout fits the file, None where it does not."""
    if file.is_workbook != (layout.form == "sheet"):
        return None
    try:
        if layout.form == "delimited" and layout.width and not file.has_rows(layout):
            return None
        cut = _cut(file, layout, sketch)
        if twice := _named_twice(layout, cut):
            seen = columns_seen(cut.grid.headers, cut.profiles, known)
            return KeptFit(
                key, layout, cut, seen, {}, 0.0, told("more than one is called {header}", header=repr(twice))
            )
        columns = {
            name: tuple(cut.grid.position_of(file.name, source) for source in sources)
            for name, sources in layout.columns.items()
        }
    except Refusal:
        return None
    if not len(cut.grid.lines) or cut.grid.rejects.height > len(cut.grid.lines):
        return None
    seen = columns_seen(cut.grid.headers, cut.profiles, known)
    named = all(isinstance(source, str) for sources in layout.columns.values() for source in sources)
    cells = {name: _cells_fit(layout, name, positions, seen) for name, positions in columns.items()}
    weight = sum(min(fit, 3.0) for fit in cells.values()) + PER_COLUMN * len(columns)
    if not named:
        begins_with_header = not layout.header and any(
            one.shape.header and one.shape.form == layout.form for one in sketch.cuts
        )
        if begins_with_header or min(cells.values()) < VAGUE or sum(cells.values()) < TOLD:
            return None
        return KeptFit(key, layout, cut, seen, columns, weight)
    worst = min(cells, key=lambda name: cells[name])
    fault = ""
    if cells[worst] < UNREADABLE:
        unread = [at for part, at in enumerate(columns[worst]) if looks(seen[at].profile, part) < 0]
        column = seen[(unread or columns[worst])[0]]
        fault = told(
            "{column} ({samples}) cannot be read as '{use}'",
            column=label_of(column),
            samples=samples_of(column),
            use=worst,
        )
    return KeptFit(key, layout, cut, seen, columns, weight + PER_COLUMN, fault)


def _named_twice(layout: Layout, cut: Cut) -> str:
    """Return a header by which the layout names a column and that several of the file carry; '' where none is."""
    headers = list(cut.grid.headers)
    sources = [source for of_column in layout.columns.values() for source in of_column]
    if not all(source in headers for source in sources if isinstance(source, str)):
        return ""
    return next((source for source in sources if isinstance(source, str) and headers.count(source) > 1), "")


def _cut(file: SourceFile, layout: Layout, sketch: Sketch) -> Cut:
    grid = file.grid(layout, is_sample=layout.form != "json_lines")
    for cut in sketch.cuts:
        if cut.grid is grid:
            return Cut(layout, grid, cut.profiles)
    return cut_by(file, layout)


def _cells_fit(layout: Layout, name: str, positions: Sequence[int], seen: Sequence[ColumnSeen]) -> float:
    """Return how well the cells of a declared column's sources fit it, dates in the order that the layout states."""
    declared = SOURCES[layout.table].column(name)
    columns = [seen[at] for at in positions]
    if declared.kind in ("instant", "date") and not _reads(layout.date_order, columns[0].profile):
        return 2 * UNREADABLE
    if len(columns) == 2 and declared.kind == "instant":
        is_span = layout.columns.get("starts_at") == layout.columns.get("ends_at")
        of_time = in_spans(columns[1].profile) if is_span and name != "at" else looks(columns[1].profile, 1)
        parts = [looks(columns[0].profile, 0), of_time]
        return sum(parts) if min(parts) > 0 else min(parts)
    if len(columns) > 1:
        return 0.0
    words = layout.words.get(name, {})
    if words and declared.kind != "instant":
        stated = {plain(word) for word in words}
        known = columns[0].profile.share(lambda text: plain(text) in stated)
        return max(2.0 if known > 0.9 else 2 * UNREADABLE, by_cells(columns[0], layout.table, declared))
    return by_cells(columns[0], layout.table, declared)


def _reads(order: str, profile: Profile) -> bool:
    if not order or not profile.size:
        return True
    days = [split_moment(text)[0] for text in profile.counts]
    style = style_of(set(days))
    return sum(_is_day(day, order, style) for day in days) >= READABLE * len(days)


def _is_day(text: str, order: str, style: DateStyle) -> bool:
    try:
        parse_date(text, order, FIRST_YEAR, style)
    except Unfit:
        return False
    return True


def choose_kept(name: str, fits: Sequence[KeptFit], reader: str) -> tuple[KeptFit | None, list[Question]]:
    """Return the kept layout that fits best, and the question where another fits as well and would be read otherwise.

    `reader` is whose log the file is, where that is known.
    """
    sound = sorted((fit for fit in fits if not fit.fault), key=lambda fit: (-fit.weight, fit.key))
    if not sound:
        return None, []
    best = [fit for fit in sound if fit.weight > sound[0].weight - ALIKE]
    fitting = max(best, key=lambda fit: (_says(fit.layout), bool(reader) and fit.layout.reader == reader))
    others = [fit for fit in best if not _agree(fit, fitting)]
    if not others:
        return fitting, []
    choices = tuple(Choice(fit.key, _differs(fit, fitting)) for fit in (fitting, *others))
    return fitting, [
        Question(
            "layout",
            of_file(name, told("several kept layouts fit it; by which is it read?")),
            choices,
        )
    ]


def _says(layout: Layout) -> int:
    """Return how many things a layout states that may be left open."""
    return bool(layout.date_order) + bool(layout.zone) + (layout.number_width is not None) + len(layout.words)


def _agree(fit: KeptFit, other: KeptFit) -> bool:
    """Return whether two layouts read a file alike, but for what only one of them states."""
    mine, others = fit.layout, other.layout
    stated: list[tuple[Any, Any]] = [
        (mine.date_order, others.date_order),
        (mine.zone, others.zone),
        (mine.number_width, others.number_width),
        (dict(mine.words), dict(others.words)),
    ]
    return (
        mine.table == others.table
        and fit.columns == other.columns
        and all(one == two or one in ("", None, {}) or two in ("", None, {}) for one, two in stated)
    )


def _differs(fit: KeptFit, other: KeptFit) -> str:
    layout = fit.layout
    parts = [
        told("{columns:listed} is {use}", columns=[label_of(fit.seen[at]) for at in sources], use=column_in_words(name))
        for name, sources in fit.columns.items()
        if sources != other.columns.get(name) or fit is other
    ]
    if layout.table != other.layout.table or not parts:
        parts.insert(0, told("its rows are {table}", table=told(layout.table)))
    if layout.date_order:
        parts.append(told("dates are {order}", order=told(ORDER_WORDS[layout.date_order])))
    if layout.number_width:
        parts.append(told("numbers have {number_width} digits", number_width=layout.number_width))
    if layout.zone:
        parts.append(told("times are those of {zone}", zone=layout.zone))
    return in_a_row("{one}, {other}", parts)
