"""Declared columns that may stand in several columns of a file: instants in a date and a time, names in two parts."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from heapq import nlargest
from itertools import pairwise, product

from evenhand.layouts.evidence.column import ColumnSeen
from evenhand.layouts.evidence.fit import CONTRARY, KNOWN, RULED_OUT, by_header, fit_of, forward, part_by_header, steep
from evenhand.layouts.evidence.profile import Profile, folded
from evenhand.layouts.parted import mark_behind, parted_instants
from evenhand.terms.columns import Column, Table

__all__ = ["Option", "in_spans", "joined_options", "looks"]

TRIED = 4  # columns that are tried as each part
FAMILY = {"family_name": 0.0, "name": -1.5}
GIVEN = {"given_name": 0.0, "name": -1.5}
SPANS = {"shift": 0.0, "time": -0.5, "start": -1.5}
IN_ONE = 7.0  # what it says that nearly all cells are spans of two times
MARKED = 4.0  # what a column of AM and PM behind a time says
FEW_NAMES = 0.06  # distinct texts as a share of the rows, up to which a column without header holds no names
FEW = 3  # rows from which on one may be wrong
OF_ANOTHER = -3.0  # what a header says of a part that is plainly something else: a superior's family name, a site
IN_TWO = math.log(0.4)
DAY_S, SHORTEST_S, LONGEST_S = 86_400, 1800, 86_400  # [s]; how long a shift may last

# What several declared columns are, each as its source columns, and the logarithm of how well that fits.
Option = tuple[Mapping[str, tuple[int, ...]], float]


def joined_options(table: Table, seen: Sequence[ColumnSeen]) -> list[list[Option]]:
    """Return for each group of declared columns the ways they may stand in the file; each group may also be missing."""
    groups: list[list[Option]] = []
    if table.name == "punches":
        groups.append(list(_instants(table.column("at"), table, seen)))
    if table.name == "schedules":
        groups.append(list(_shifts(table, seen)))
    if table.name in ("people", "enrolments"):
        groups.append(list(_names(table, seen)))
    return groups


def _instants(column: Column, table: Table, seen: Sequence[ColumnSeen]) -> Iterator[Option]:
    for one in seen:
        if (fit := fit_of(one, table.name, column)) > RULED_OUT / 2:
            yield {column.name: (one.position,)}, fit
    for day, time in product(_days(table, column, seen), _times(table, column, seen)):
        if day[0] is not time[0]:
            runs = (
                forward(day[0].profile.as_dates.days, time[0].profile.as_times.seconds) if column.name == "at" else 0.0
            )
            fit = day[1] + time[1] + runs
            yield {column.name: (day[0].position, time[0].position)}, fit
            if (mark := mark_behind(seen, time[0].position)) is not None:
                yield {column.name: (day[0].position, time[0].position, mark)}, fit + MARKED
    if column.name == "at":
        for places, fit in parted_instants(seen):
            yield {column.name: places}, fit


def _shifts(table: Table, seen: Sequence[ColumnSeen]) -> Iterator[Option]:
    starts, ends = (
        sorted(_instants(table.column(name), table, seen), key=lambda one: -one[1])[: TRIED * 3]
        for name in ("starts_at", "ends_at")
    )
    for (start, fit), (end, other) in product(starts, ends):
        first, last = start["starts_at"], end["ends_at"]
        if len(first) != len(last) or first[-1] == last[-1]:
            continue
        shares = len(first) == 2 and first[0] == last[0]
        if shares or not set(first) & set(last):
            # A date that both share is one column, and its header is heard once.
            once = part_by_header(seen[last[0]], table.name, "ends_at", 0) + 2.0 if shares else 0.0
            yield {**start, **end}, fit + other - once + _lasts(seen, first, last)
    for (day, fit), one in product(_days(table, table.column("starts_at"), seen), seen):
        # A break is a span of two times as well: only what is called a shift is one.
        is_shift = not one.header or not SPANS.keys().isdisjoint(one.concepts)
        if one is not day and is_shift and (told := in_spans(one.profile)) > 0:
            both = (day.position, one.position)
            yield {"starts_at": both, "ends_at": both}, fit + by_header(one, table.name, SPANS) + told


def _lasts(seen: Sequence[ColumnSeen], first: tuple[int, ...], last: tuple[int, ...]) -> float:
    """Return what it says that ends come after starts, a shift's length later."""
    lengths = [
        end - start
        for start, end in zip(_seconds(seen, first), _seconds(seen, last), strict=True)
        if start is not None and end is not None
    ]
    if not lengths:
        return -3.0
    if len(first) == 2 and first[0] == last[0]:
        lengths = [length % DAY_S for length in lengths]
    sound = sum(SHORTEST_S <= length <= LONGEST_S for length in lengths) / len(lengths)
    return steep(sound, 2.0, 4.0)


def _seconds(seen: Sequence[ColumnSeen], sources: tuple[int, ...]) -> list[int | None]:
    first, last = seen[sources[0]].profile, seen[sources[-1]].profile
    days = first.as_dates.days if len(sources) == 2 else first.as_moments.days
    seconds = last.as_times.seconds if len(sources) == 2 else first.as_moments.seconds
    return [
        None if day is None or second is None else day * DAY_S + second
        for day, second in zip(days, seconds, strict=True)
    ]


def _days(table: Table, column: Column, seen: Sequence[ColumnSeen]) -> list[tuple[ColumnSeen, float]]:
    return _parts(table, column, seen, 0)


def _times(table: Table, column: Column, seen: Sequence[ColumnSeen]) -> list[tuple[ColumnSeen, float]]:
    return _parts(table, column, seen, 1)


def _parts(table: Table, column: Column, seen: Sequence[ColumnSeen], part: int) -> list[tuple[ColumnSeen, float]]:
    """Return the columns that may be the date (0) or the time of day (1) of an instant, the likeliest first."""
    found = []
    for one in seen:
        cells = looks(one.profile, part)
        header = part_by_header(one, table.name, column.name, part) if cells > 0 else RULED_OUT
        if header > CONTRARY:
            found.append((one, header + cells))
    found.sort(key=lambda one: (-one[1], one[0].position))
    return found[:TRIED]


def looks(profile: Profile, part: int) -> float:
    """Return how well the cells are the date (part 0) or the time of day (part 1) of an instant."""
    if not profile.size or profile.moments > 0.5:
        return RULED_OUT
    visible, compact = (profile.dates, profile.compact_dates) if part == 0 else (profile.times, profile.compact_times)
    other = profile.times if part == 0 else profile.dates
    if profile.size >= FEW and (1 - visible) * profile.size <= 1:
        visible = 1.0  # of few rows, one that is wrong says nothing
    # What can be either is either: nothing but the other columns tells which.
    return max(steep(visible, 2.0 + 0.5 * part), steep(compact, 1.0)) - (0.5 if other > 0.9 else 0.0)


def in_spans(profile: Profile) -> float:
    """Return how well the cells are start and end of a shift in one."""
    return steep(profile.spans, IN_ONE)


def _names(table: Table, seen: Sequence[ColumnSeen]) -> Iterator[Option]:
    """Yield family and given name, in two columns, in that order."""
    family_names = [one for one in seen if one.concepts.get("family_name", CONTRARY) > KNOWN]
    worded = [
        one
        for one in seen
        if one.profile.size
        and one.profile.single_words + one.profile.names > 0.7
        # Beside a family name that it does not hold, what is called a name is the given one.
        and not (_is_whole_name(one) and all(_holds(one, family) for family in family_names))
    ]
    for (family, fit), (given, other) in product(_called(worded, table, FAMILY), _called(worded, table, GIVEN)):
        named = sum("family_name" in one.concepts or "given_name" in one.concepts for one in (family, given))
        if named == 1 and min(family.profile.names, given.profile.names) > 0.6:
            continue  # two whole names, one of which may be a superior's
        if family is not given and named and fit + other > 0 and min(fit, other) > OF_ANOTHER:
            yield {"name": (family.position, given.position)}, fit + other + IN_TWO + 2.5
    for family, given in pairwise(worded):
        if not family.header and given.position == family.position + 1:
            yield from _unnamed(family, given)


def _called(
    worded: Sequence[ColumnSeen], table: Table, concepts: Mapping[str, float]
) -> list[tuple[ColumnSeen, float]]:
    """Return the columns whose headers fit best, the likeliest first: all pairs of a wide file's would be too many."""
    fits = [(one, by_header(one, table.name, concepts)) for one in worded]
    return nlargest(TRIED, fits, key=lambda fit: (fit[1], -fit[0].position))


def _unnamed(family: ColumnSeen, given: ColumnSeen) -> Iterator[Option]:
    """Yield two columns side by side without a header, where they are names by their cells.

    They are joined as they stand: which is which need not be known.
    """
    apart = max(family.profile.names, given.profile.names) < 0.6
    fewest = max(4.0, FEW_NAMES * family.profile.size)
    varied = min(len(one.profile.counts) for one in (family, given)) > fewest or family.profile.size < 8
    pairs = Counter(zip(family.profile.cells, given.profile.cells, strict=True))
    if apart and varied and len(pairs) > 0.4 * len(family.profile.cells):
        known = family.known.names
        met = sum(
            count
            for (one, other), count in pairs.items()
            if not known.isdisjoint(map(folded, (f"{one} {other}", f"{other} {one}", f"{other}, {one}")))
        )
        yield {"name": (family.position, given.position)}, IN_TWO + 3.0 + (1.8 if 2 * met > len(pairs) else 0.0)


def _holds(name: ColumnSeen, family: ColumnSeen) -> bool:
    """Return whether most names hold the family name beside them."""
    pairs = list(zip(name.profile.cells, family.profile.cells, strict=True))
    return sum(folded(part) in folded(whole) for whole, part in pairs) * 2 > len(pairs)


def _is_whole_name(one: ColumnSeen) -> bool:
    """Return whether a column is a name by its header, and its cells are of several words."""
    return one.concepts.get("name", CONTRARY) > KNOWN and one.profile.names > 0.6
