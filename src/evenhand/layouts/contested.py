"""Which other tables a file may hold as well: those whose needs its cells meet, and against which no column speaks.

A column speaks for a table, beside another one, where its header plainly says a declared column of the first and none
of the second; times of day speak for logs and plans, a zone for readers, words for in and out for logs. A name speaks
for none: any list of people may carry it.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator

from evenhand.layouts.evidence.column import ColumnSeen
from evenhand.layouts.evidence.profile import Profile
from evenhand.layouts.evidence.suits import suits
from evenhand.layouts.evidence.told import speaks_of, tells
from evenhand.layouts.matching import Matching
from evenhand.layouts.understanding import Understanding
from evenhand.terms.columns import Column

__all__ = ["explains_better", "possible_tables", "rival_tables"]

HALF, MOST = 0.5, 0.7
TIMED = frozenset({"punches", "schedules"})
GIVEN = frozenset({"reader", "zone"})  # what may be said for a whole file
ANYWHERE = frozenset({"name"})
BESIDE = frozenset({"person", "site", "department"})  # what stands beside a punch, a shift or a rate as well
OF_READER = frozenset({"punches", "enrolments"})
FAR = 10.0  # what a table is less likely, as the logarithm of it, that is not thought of


def rival_tables(found: Understanding) -> list[str]:
    """Return the other tables that the file may hold as well, under all that its columns and its name say."""
    best = found.matching
    if found.table in found.named and not _lacks(best):
        return []
    return [
        table
        for table, other in found.matchings.items()
        if table != found.table
        and (found.weights[found.table] - found.weights[table] < FAR or _leaves_times(best, other))
        and _is_possible(other)
        and _is_rival(found, other)
    ]


def possible_tables(found: Understanding) -> list[str]:
    """Return the tables whose required columns all stand in the file, by their cells at least."""
    return [table for table, matching in found.matchings.items() if _is_possible(matching)]


def explains_better(found: Understanding, table: str, left_out: Collection[int]) -> str:
    """Return how the likeliest table explains columns that a reading as `table` leaves out, by their positions.

    "times": they are the times of a log or a plan, which the other table has none of. "words": their headers plainly
    are declared columns of the likeliest table, and none of the other. '' where neither holds, or it lacks something.
    """
    best = found.matching
    if found.table == table or _lacks(best):
        return ""
    used = {at: name for name, sources in best.best.columns.items() for at in sources if at in left_out}
    if found.table in TIMED and table not in TIMED and any(_tells_time(best.seen[at].profile) for at in used):
        return "times"
    own = [
        best.seen[at]
        for at, name in used.items()
        if name not in ANYWHERE | BESIDE and _holds(best.seen[at], best, best.table.column(name))
    ]
    others = found.matchings[table].table.names if table in found.matchings else ()
    return "words" if any(not any(tells(one, table, name) for name in others) for one in own) else ""


def _is_rival(found: Understanding, other: Matching) -> bool:
    best = found.matching
    if _lacks(best) or other.table.name in found.named:
        return True
    if found.names_reader and (other.table.name in OF_READER) != (found.table in OF_READER):
        return other.table.name in OF_READER
    for_best = any(_speaks(one, best, other) for one in best.seen)
    return not for_best or any(_speaks(one, other, best, but=BESIDE) for one in best.seen)


def _leaves_times(best: Matching, other: Matching) -> bool:
    """Return whether the likeliest table leaves times of day out that are what the other is of."""
    used = {at for sources in best.best.columns.values() for at in sources}
    is_timed = any(_tells_time(one.profile) for one in best.seen if one.position not in used | best.barred)
    return is_timed and other.table.name in TIMED and best.table.name not in TIMED


def _lacks(matching: Matching) -> list[str]:
    """Return the required declared columns that the file does not have, but for those said for a whole file."""
    return [name for name in matching.missing() if name not in GIVEN]


def _speaks(column: ColumnSeen, matching: Matching, other: Matching, but: Collection[str] = ()) -> bool:
    """Return whether a column speaks for one table beside another."""
    table, profile = matching.table.name, column.profile
    if not profile.size or column.position in matching.barred:
        return False
    if table in TIMED and other.table.name not in TIMED and _tells_time(profile):
        return True
    if table == "punches" and profile.directions >= MOST:
        return True
    if table == "readers" and profile.zones > HALF:
        return True
    if table == "rates" and other.table.name == "consent" and suits(column, table, "amount"):
        return True
    silent = {*ANYWHERE, *but}
    own = {one.name for one in matching.table.columns if one.name not in silent and _holds(column, matching, one)}
    return bool(own) and not any(tells(column, other.table.name, name) for name in other.table.names)


def _holds(column: ColumnSeen, matching: Matching, declared: Column) -> bool:
    """Return whether a column is the declared one by a plain word, and its cells would do."""
    table = matching.table.name
    if not speaks_of(column, table, declared.name):
        return False
    return declared.kind == "instant" or declared.name in GIVEN or suits(column, table, declared.name)


def _tells_time(profile: Profile) -> bool:
    """Return whether the cells tell times of day, and not a date's midnight alone."""
    if profile.times > HALF or profile.spans > HALF:
        return True
    return profile.moments > HALF and any(second for second in profile.as_moments.seconds if second is not None)


def _is_possible(matching: Matching) -> bool:
    """Return whether each required column of a table stands in some column of the file, by its cells at least."""
    free = [one for one in matching.seen if one.profile.size and one.position not in matching.barred]
    needs = [one for one in matching.table.columns if one.required and one.name not in GIVEN]
    taken: set[int] = set()
    for need in needs:
        if need.kind == "instant":
            continue
        sources = matching.best.columns.get(need.name) or tuple(_suiting(free, matching, need.name, taken))[:1]
        if not sources:
            return False
        taken.update(sources)
    instants = [one for one in needs if one.kind == "instant"]
    return not instants or _holds_instants(free, len(instants))


def _suiting(free: list[ColumnSeen], matching: Matching, name: str, taken: set[int]) -> Iterator[int]:
    return (one.position for one in free if one.position not in taken and suits(one, matching.table.name, name))


def _holds_instants(free: list[ColumnSeen], count: int) -> bool:
    """Return whether so many instants may stand in the columns: whole, or as a date with so many times of day."""
    whole = sum(_tells_time(one.profile) and one.profile.times <= HALF for one in free)
    times = sum(max(one.profile.times, one.profile.compact_times) > HALF for one in free)
    dated = any(max(one.profile.dates, one.profile.compact_dates) > HALF for one in free)
    spans = 2 * sum(one.profile.spans > HALF for one in free)
    return whole >= count or (dated and times + spans >= count)
