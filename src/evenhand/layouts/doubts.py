"""Which columns a careful reader would ask about: those that cells make possible and no header settles.

A column in use is in doubt where its header does not plainly say so and another column's cells would do as well, or,
where it says nothing of it at all, its own would do for a declared column that is missing. A column that is not used is
in doubt where its cells would do for a missing one, or for one that is held without a plain word, and its header does
not plainly say that it is something else. What is known already settles a use as a plain word does. A column of scores
whose header speaks of likeness is in doubt, since a score is a distance; and so is a column of numbers of which hardly
one is known, where another one holds known ones alone.
"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Collection, Iterator, Mapping

from evenhand.layouts.evidence.column import ColumnSeen
from evenhand.layouts.evidence.suits import are_levels, is_tested, suits
from evenhand.layouts.evidence.told import FAINT, is_explained, names_a_part, tells, tells_faintly
from evenhand.layouts.matching import Matching
from evenhand.layouts.wording.contraries import is_likeness

__all__ = ["doubtful_columns", "may_be"]

KNOWN_BY = {"reader": "readers", "number": "numbers", "person": "people", "name": "names", "site": "sites"}
MOSTLY_KNOWN, HARDLY_KNOWN = 0.5, 0.1
SOME_MET = 0.3
NEARLY_ALL, OFTEN = 0.95, 0.3  # of the cells; of all numbers of a width, from which on cells are known by chance
OF_NUMBERS = frozenset({"punches", "enrolments"})  # tables of rows of people known by their numbers
SCORE, NEAR_TOP, TOP = re.compile(r"\d+(?:\.\d+)?", re.ASCII), 70, 100  # scores, and where most of those near 100 are
MOSTLY_NAMES, HALF, SOME_ROWS = 0.6, 0.5, 7
NAMED = frozenset({"name", "family_name", "given_name", "person"})
GROUPS = ("site", "department", "place", "reader", "form", "direction", "outcome")
VARYING = ("direction", "outcome", "score")  # what differs from punch to punch of one number


def doubtful_columns(matching: Matching, given: Collection[str] = ()) -> dict[int, list[str]]:
    """Return for each column in doubt the declared columns that it may be, what it is used as first.

    `given` are declared columns that are said for the whole file, such as the reader by the file's name.
    """
    held = _held(matching)
    missing = {name for name in _names(matching) if name not in matching.best.columns} - matching.fixed.keys()
    missing -= {*given}
    if _lacks_a_part(matching):
        missing.add("name")
    loose = {name for at, name in held.items() if not _is_settled(matching.seen[at], matching, name)}
    used = {at for sources in matching.best.columns.values() for at in sources}
    found: dict[int, list[str]] = {}
    for one in matching.seen:
        if one.position in used or one.position in matching.barred or _is_else(one, matching, missing):
            continue
        if names := [name for name in _names(matching) if name in missing | loose and _suits(one, matching, name)]:
            found[one.position] = names
    found |= {
        one.position: ["is_supervisor", *found.get(one.position, [])]
        for one in matching.seen
        if "is_supervisor" in missing
        and one.position not in used | matching.barred
        and "is_supervisor" not in found.get(one.position, [])
        and _may_be_authority(one, matching)
    }
    rivalled = {name for names in found.values() for name in names}
    rivalled |= {
        name
        for one in matching.seen
        for name in loose
        if one.position not in used | matching.barred and one.profile.size and tells(one, matching.table.name, name)
    }
    for at, name in held.items():
        if name not in loose:
            continue
        one = matching.seen[at]
        is_faint = tells_faintly(one, matching.table.name, name)
        others = [other for other in _names(matching) if other in missing and _suits(one, matching, other)]
        is_amiss = not tells(one, matching.table.name, name) and not _suits(one, matching, name)
        if name in rivalled or is_amiss or (others and not is_faint):
            found[at] = [name, *others]
    found |= {at: [name] for at, name in held.items() if name == "score" and _is_likeness(matching.seen[at])}
    for at, other in _known_elsewhere(matching, held):
        found[at], found[other] = ["number", *found.get(at, [])], ["number", *found.get(other, [])]
    return found


def _is_likeness(column: ColumnSeen) -> bool:
    texts = [text.replace(",", ".") for text in column.profile.counts.elements()]
    scores = sorted(float(text) for text in texts if SCORE.fullmatch(text))
    is_near_top = bool(scores) and (scores[-1] <= 1 or (scores[len(scores) // 2] >= NEAR_TOP and scores[-1] <= TOP))
    return is_likeness(column.header, is_near_top)


def _known_elsewhere(matching: Matching, held: Mapping[int, str]) -> Iterator[tuple[int, int]]:
    """Yield the column of numbers, hardly one of which is known, with another one that holds nothing but known ones."""
    if matching.table.name not in OF_NUMBERS:
        return
    for at in (at for at, name in held.items() if name == "number"):
        if (matching.seen[at].known_share("numbers") or 0.0) > HARDLY_KNOWN:
            continue
        for one in matching.seen:
            share = one.known_share("numbers") if one.position not in matching.barred | {at} else None
            if share and share >= NEARLY_ALL and one.profile.size >= SOME_ROWS and not _by_chance(one):
                yield at, one.position


def _by_chance(column: ColumnSeen) -> bool:
    """Return whether so many numbers are known that any cells of a column's width would be."""
    width = column.profile.widths.most_common(1)[0][0]
    return len(column.known.numbers) > OFTEN * 10.0 ** min(width, 9)


def may_be(matching: Matching, position: int) -> list[str]:
    """Return every declared column that a column's cells would do for, but for those that were told."""
    column = matching.seen[position]
    free = [name for name in _names(matching) if name not in matching.fixed or name == "name"]
    return [name for name in free if _suits(column, matching, name)]


def _is_settled(column: ColumnSeen, matching: Matching, name: str) -> bool:
    """Return whether a use is told: by a plain word in the header, by words in the cells, or by their being known."""
    profile = column.profile
    is_told = tells(column, matching.table.name, name) or (name == "name" and names_a_part(column))
    if is_told and (_suits(column, matching, name) or not is_tested(name)):
        return True
    if name in ("direction", "outcome"):
        return max(profile.directions if name == "direction" else profile.outcomes - profile.yes_no, 0.0) > HALF
    kind = KNOWN_BY.get(name)
    return kind is not None and (column.known_share(kind) or 0.0) > MOSTLY_KNOWN


def _is_else(column: ColumnSeen, matching: Matching, missing: Collection[str]) -> bool:
    """Return whether a header says what a column is instead; beside a part of a name it may be the other."""
    if "name" in missing and _suits(column, matching, "name") and not column.concepts.keys().isdisjoint(NAMED):
        return False
    return is_explained(column, matching.table.name)


def _may_be_authority(column: ColumnSeen, matching: Matching) -> bool:
    """Return whether a column may tell by levels who may enrol others: a supervisor is never lost without a word.

    The header says so, or nearly so; in a list of enrolments it may also be no word known.
    """
    is_plain = tells(column, matching.table.name, "is_supervisor")
    is_near = tells_faintly(column, matching.table.name, "is_supervisor")
    is_unknown = matching.table.name == "enrolments" and max(column.concepts.values(), default=FAINT - 1) < FAINT
    if not (is_plain or is_near or is_unknown):
        return False
    return are_levels(column.profile, is_said=is_plain)


def _lacks_a_part(matching: Matching) -> bool:
    """Return whether the one column of names holds single words, or the same few again and again: parts of names."""
    sources = matching.best.columns.get("name", ())
    if len(sources) != 1:
        return False
    profile = matching.seen[sources[0]].profile
    is_again = matching.table.name == "people" and profile.size > SOME_ROWS and profile.distinct < HALF
    return profile.size > 0 and (profile.names <= MOSTLY_NAMES or is_again)


def _names(matching: Matching) -> list[str]:
    return [column.name for column in matching.table.columns if column.kind != "instant"]


def _held(matching: Matching) -> Mapping[int, str]:
    """Return the columns in use whose use was not told by a person, with what they are used as."""
    names = _names(matching)
    return {
        at: name
        for name, sources in matching.best.columns.items()
        if name in names and name not in matching.fixed
        for at in sources
    }


def _suits(column: ColumnSeen, matching: Matching, name: str) -> bool:
    """Return whether a column's cells would do for a declared one, beside what is known and beside the numbers."""
    if not suits(column, matching.table.name, name):
        return False
    if name == "reader" and matching.table.name != "readers":
        share = column.known_share("readers")
        return share is None or share > HARDLY_KNOWN
    if name in GROUPS and _names_people(column, matching):
        return False
    return name not in VARYING or not _is_of_person(column, matching)


def _names_people(column: ColumnSeen, matching: Matching) -> bool:
    """Return whether many cells are names that stand in the column of names as well: those of superiors."""
    if column.profile.names <= HALF or not (sources := matching.best.columns.get("name", ())):
        return False
    rows = zip(*(matching.seen[at].profile.cells for at in sources), strict=True)
    named = {_folded_words(" ".join(row)) for row in rows}
    met = sum(_folded_words(cell) in named for cell in column.profile.counts)
    return met >= SOME_MET * len(column.profile.counts)


def _folded_words(name: str) -> tuple[str, ...]:
    return tuple(sorted(name.replace(",", " ").casefold().split()))


def _is_of_person(column: ColumnSeen, matching: Matching) -> bool:
    """Return whether each number has one cell of a column in all its rows, as of an age or a title."""
    sources = matching.best.columns.get("number", ())
    if not sources:
        return False
    found: defaultdict[str, set[str]] = defaultdict(set)
    numbers = matching.seen[sources[0]].profile
    for number, cell in zip(numbers.cells, column.profile.cells, strict=True):
        found[number].add(cell)
    return (
        numbers.distinct < HALF and len(column.profile.counts) > 1 and all(len(cells) == 1 for cells in found.values())
    )
