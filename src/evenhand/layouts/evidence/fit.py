"""How much likelier a column's header and cells are where it is a declared column than where it is none.

Every answer is the natural logarithm of a likelihood ratio. The figures are judgement, tried on made files: what counts
is that a plain word in a header outweighs what cells look like, that cells which cannot be read outweigh any word, and
that what is known already outweighs what cells merely look like.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from itertools import pairwise
from typing import cast

from evenhand.layouts.evidence.column import ColumnSeen
from evenhand.layouts.evidence.profile import Profile, is_digits
from evenhand.layouts.values.words import WORDS, plain
from evenhand.layouts.wording.concepts import FIELD_CONCEPTS
from evenhand.terms.columns import Column

__all__ = ["CONTRARY", "KNOWN", "RULED_OUT", "by_cells", "by_header", "fit_of", "forward", "part_by_header", "steep"]

RULED_OUT = -30.0
FEWEST = 0.35  # of the cells of an instant, those that can be read

# Natural logarithms of how likely a header is: of a column that is used as another one, that is none of the table's.
NEVER, HARDLY, SELDOM = -10.0, -7.0, -5.0
UNKNOWN_USED, UNKNOWN_UNUSED = -3.5, -1.0
LEFT_OUT, SOMETIMES_LEFT_OUT, OFTEN_LEFT_OUT, OF_OTHER_TABLE, OF_NO_TABLE = -5.0, -3.5, -2.0, -3.0, -1.5
BY_CHANCE = -4.5
HINTED = 0.5
NEAR = 1.5  # what fits a header so much worse than another concept is not what it says
KNOWN, HALF_KNOWN = -0.8, -1.9  # how well a header fits its likeliest concept, from which on it counts as known

# What cells alone may tell. A date, an amount or a count means nothing until a header says what it is of: a birthday
# is no first day of employment, and a personnel number is no rate of pay.
TOLD_BY_CELLS = frozenset(
    {"at", "starts_at", "ends_at", "zone", "direction", "outcome", "reader", "name", "number", "person"}
)
UNTOLD = {"phone": -0.5, "address": -1.0, "is_supervisor": -1.5, "hired_on": -2.0, "left_on": -2.0, "enrolled_on": -1.5}
UNTOLD_ELSE = -3.0
OWN_NAME = 6.0
CONTRARY = -8.0  # a header that says so plainly what else a column is outweighs all that its cells look like


def _unused(table: str) -> dict[str, float]:
    """Return how likely the concepts of headers are in a file of the table, where their columns are none of its own.

    The plainer a concept is for a column of the table, the seldomer is that column left out.
    """
    found = {one: OF_OTHER_TABLE for fields in FIELD_CONCEPTS.values() for of in fields.values() for one in of.concepts}
    for of in FIELD_CONCEPTS[table].values():
        for one, weight in of.concepts.items():
            plain = LEFT_OUT if weight > -1 else SOMETIMES_LEFT_OUT if weight > -1.4 else OFTEN_LEFT_OUT
            found[one] = min(found[one], plain) if found[one] != OF_OTHER_TABLE else plain
    if "name" in FIELD_CONCEPTS[table]:
        found |= {"family_name": LEFT_OUT, "given_name": LEFT_OUT}
    return found


UNUSED = {table: _unused(table) for table in FIELD_CONCEPTS}

# The parts of an instant that stands in two columns, by the table and column it is of: how each is called.
PARTS: dict[str, tuple[dict[str, float], dict[str, float]]] = {
    "at": (
        {"date": 0, "moment": -1.5, "shift_date": -2, "punch": -1.5, "time": -4},
        {"time": 0, "moment": -1.5, "punch": -1.5, "date": -4},
    ),
    "starts_at": (
        {"date": 0, "shift_date": 0, "start": -1, "hired": -0.7, "valid_from": -1, "shift": -2},
        {"start": 0, "time_in": -3.5, "hired": -2, "time": -2},
    ),
    "ends_at": (
        {"date": -0.5, "shift_date": -0.5, "end": -1, "left": -0.7, "valid_to": -1, "shift": -2},
        {"end": 0, "time_out": -3.5, "left": -2, "time": -2},
    ),
}


def fit_of(column: ColumnSeen, table: str, declared: Column) -> float:
    """Return how well a column of the file fits a declared one: by its header, and by its cells."""
    cells = by_cells(column, table, declared)
    if cells <= RULED_OUT:
        return RULED_OUT
    told = declared.name in TOLD_BY_CELLS or (declared.name == "score" and not column.header)
    untold = 0.0 if told or not column.silent else UNTOLD.get(declared.name, UNTOLD_ELSE)
    header = by_header(column, table, FIELD_CONCEPTS[table][declared.name].concepts)
    if column.plain_name in FIELD_CONCEPTS[table]:
        # What is called by a declared column's own name is that column, whatever else the word may mean.
        header = OWN_NAME if column.plain_name == declared.name else min(header, -OWN_NAME)
    if header <= CONTRARY:
        return RULED_OUT
    return header + cells + untold


def by_header(column: ColumnSeen, table: str, concepts: Mapping[str, float]) -> float:
    """Return how much likelier the header is where the column goes by one of these concepts."""
    if not column.header:
        return 0.0
    if not column.concepts:
        return UNKNOWN_USED - UNKNOWN_UNUSED
    best = max(column.concepts.values())
    near = {one: fit for one, fit in column.concepts.items() if fit >= best - NEAR}
    used = max((concepts[one] + fit for one, fit in near.items() if one in concepts), default=NEVER)
    if best < HALF_KNOWN:
        # Most of the header is not known: the little that is says little.
        return UNKNOWN_USED - UNKNOWN_UNUSED + (HINTED if used > SELDOM else 0.0)
    floor = NEVER if best > KNOWN else HARDLY
    unused = max(fit + UNUSED[table].get(one, OF_NO_TABLE) for one, fit in column.concepts.items())
    return max(used, floor) - max(unused, BY_CHANCE)


def part_by_header(column: ColumnSeen, table: str, name: str, part: int) -> float:
    """Return `by_header` for the date (0) or the time of day (1) of an instant that stands in two columns."""
    return by_header(column, table, PARTS[name][part])


def steep(share: float, gain: float, loss: float = 8.0) -> float:
    """Return `gain` where nearly all cells fit, minus `loss` where fewer than half do, and between in between."""
    if share >= 0.9:
        return gain
    return -loss if share <= 0.4 else gain - (gain + loss) * (0.9 - share) / 0.5


def by_cells(column: ColumnSeen, table: str, declared: Column) -> float:
    """Return how much likelier the cells are where they are those of the declared column."""
    profile = column.profile
    if not profile.size:
        return -3.0 if declared.required or column.silent else 0.0
    if (special := BY_NAME.get(declared.name)) is not None:
        return special(column, table)
    if declared.allowed:
        return _of_words(profile, declared.name)
    match declared.kind:
        case "instant":
            if profile.moments < FEWEST:
                return RULED_OUT
            return steep(profile.moments, 3.0, 9.0) + forward(profile.as_moments.days, profile.as_moments.seconds)
        case "date":
            return _of_date(column, declared.name)
        case "count":
            return _of_count(profile, declared.name)
        case "score" | "money":
            bare = -1.0 if not column.header else 0.0
            return steep(profile.amounts, 0.3) + (2.0 if profile.fractions > 0.5 else bare)
        case "yes_no":
            return _of_yes_no(profile)
        case _:
            return _of_text(profile)


def forward(days: list[int | None], seconds: list[int | None]) -> float:
    """Return what it says that moments run forward, or backward, from row to row, as in a log."""
    told = [
        day * 86400 + second
        for day, second in zip(days, seconds, strict=True)
        if day is not None and second is not None
    ]
    steps = [after - before for before, after in pairwise(told)]
    if len(steps) < 4:
        return 0.0
    rising, falling = (sum(sign * step >= 0 for step in steps) / len(steps) for sign in (1, -1))
    return 1.5 if max(rising, falling) >= 0.97 else 0.7 if max(rising, falling) >= 0.85 else -0.3


def _of_words(profile: Profile, name: str) -> float:
    """Return the fit of a column of words such as in and out; short codes of few kinds may stand for them."""
    meanings = WORDS.get(name, {})
    known = profile.share(lambda text: plain(text) in meanings)
    meant = {meanings[plain(text)] for text in profile.counts if plain(text) in meanings}
    if known >= 0.7:
        return steep(known, 3.0 if len(meant) > 1 else 1.0)
    longest = max(map(len, profile.counts))
    return -1.5 if len(profile.counts) <= 4 < profile.size and longest <= 12 and profile.dates < 0.5 else -8.0


def _of_date(column: ColumnSeen, name: str) -> float:
    profile = column.profile
    visible = max(profile.dates, profile.moments)
    compact = 0.0 if column.silent else profile.compact_dates
    fit = steep(visible, 2.0) if visible >= compact else steep(compact, 1.0)
    if name in ("left_on", "withdrawn_on", "valid_to", "earned_to"):
        fit += 1.0 if column.is_later else -0.5
        fit += 0.7 if profile.ended < 0.8 and name != "earned_to" else 0.0
    if name in ("hired_on", "enrolled_on", "given_on", "valid_from"):
        fit += 0.3 if profile.filled > 0.8 else -0.5
    return fit


def _of_count(profile: Profile, name: str) -> float:
    fit = steep(profile.digits, 0.5)
    counted = [int(text.removesuffix(".0")) for text in profile.counts if is_digits(text.removesuffix(".0"))]
    low, high = {"max_digits": (2, 32), "presentations": (1, 30), "capacity": (10, 10**7)}.get(name, (0, 10**9))
    within = sum(low <= one <= high for one in counted) / max(len(counted), 1)
    return fit + (0.5 if within >= 0.9 else -3.0)


def _of_yes_no(profile: Profile) -> float:
    if profile.yes_no >= 0.7:
        return steep(profile.yes_no, 2.0) - (0.0 if len(profile.counts) <= 4 else 4.0)
    return 3.5 if profile.roles else -9.0


def _of_text(profile: Profile) -> float:
    """Return the fit of any text: what visibly is something else is none."""
    other = max(profile.moments, profile.dates, profile.times, profile.mails, profile.zones, profile.fractions)
    return -8.0 if other > 0.5 else 0.0


def _reader(column: ColumnSeen, table: str) -> float:
    profile = column.profile
    fit = _of_text(profile) - (3.0 if max(profile.directions, profile.yes_no) > 0.9 and profile.digits < 0.9 else 0.0)
    if table == "readers":
        return fit + _unique(profile, 0.7, 4.0)
    few = len(profile.counts) <= max(2, 0.3 * profile.size)
    fit += 0.7 if few and profile.size > 3 else -3.0 if profile.size > 7 and profile.distinct > 0.6 else 0.0
    share = column.known_share("readers")
    if share is None:
        return fit - (1.0 if profile.digits > 0.9 else 0.0)
    return fit + (_as_known(share, 0.02) if share >= 0.3 else -2.0)


def _site(column: ColumnSeen, table: str) -> float:
    profile = column.profile
    fit = _of_text(profile) - (3.0 if max(profile.phones, profile.directions) > 0.7 else 0.0)
    if table == "people" and profile.size > 7:
        fit += 0.5 if profile.distinct < 0.5 else -1.5 if profile.distinct > 0.9 else 0.0
    share = column.known_share("sites")
    return fit + (_as_known(share, 0.02) if share else 0.0)


def _place(column: ColumnSeen, table: str) -> float:
    """Return the fit of where a reader hangs: in words, since numbers alone count rows or hold something."""
    return _of_text(column.profile) - (6.0 if column.profile.digits > 0.9 else 0.0)


def _department(column: ColumnSeen, table: str) -> float:
    profile = column.profile
    fit = _of_text(profile) - (3.0 if profile.phones > 0.7 else 0.0)
    return fit + (-1.5 if profile.size > 7 and profile.distinct > 0.95 else 0.3)


def _number(column: ColumnSeen, table: str) -> float:
    profile = column.profile
    fit = steep(profile.digits, 1.0, 9.0)
    if fit < -8:
        return RULED_OUT
    width = profile.widths.most_common(1)[0][0]
    fit += 0.3 if 3 <= width <= 7 else -3.0 if width > 10 else -1.5 if width > 8 else -0.3
    share = column.known_share("numbers")
    expected = min(0.9, len(column.known.numbers) / 10 ** min(width, 9))
    fit += _as_known(share, expected) if share and share >= 0.3 else 0.0
    if profile.is_counting and not (share and share > 0.8):
        fit -= _counting(column)
    if profile.compact_dates > 0.95 and width == 8:
        fit -= 2.0
    if table == "people":
        # One number without a header, where none is known, is as likely payroll's.
        fit -= 0.5 if not column.header and not column.known.numbers else 0.0
        return fit + _unique(profile, 1.0, 4.0)
    if table == "punches" and profile.size > 7:
        fit += 0.7 if profile.distinct < 0.8 else -0.3
        fit -= 1.5 if len(profile.counts) == 1 else 0.0
    return fit


def _person(column: ColumnSeen, table: str) -> float:
    profile = column.profile
    fit = _of_text(profile)
    fit -= 4.0 if profile.names > 0.6 else 3.0 if profile.phones > 0.5 else 0.0
    fit += 1.5 if profile.coded > 0.9 else 0.3 if profile.digits > 0.9 else -1.0
    if profile.digits > 0.9 and profile.widths.most_common(1)[0][0] > 10:
        fit -= 1.5
    share = column.known_share("people")
    if profile.digits > 0.9 and max(profile.widths) < 3 and not share:
        fit -= 1.5  # ages, shifts, rows
    fit += _as_known(share, 0.02) if share and share >= 0.3 else 0.0
    if profile.is_counting and not (share and share > 0.8):
        fit -= _counting(column)
    # A person may have several shifts or rates, but one row in a roster.
    return fit + (_unique(profile, 0.7, 4.0) if table == "people" else 0.0)


def _name(column: ColumnSeen, table: str) -> float:
    profile = column.profile
    fit = _of_text(profile)
    wordless = 1 - profile.names - profile.single_words
    fit -= 8.0 if max(profile.digits, profile.coded, profile.addresses) > 0.5 else 4.0 if wordless > 0.5 else 0.0
    fit += steep(profile.names, 2.5, 0.5)
    fit -= 4.0 if max(profile.directions, profile.yes_no, profile.outcomes) > 0.9 else 0.0
    if table == "people":
        fit += _unique(profile, 0.8, 4.0, bar=0.9)
    fit -= 4.0 if profile.filled < 0.5 else 0.0  # remarks
    if profile.size > 11 and profile.distinct < 0.5 and table in ("people", "enrolments"):
        fit -= 3.0  # superiors are named again and again
    # Superiors are people that are known, too.
    for kind, expected in (("names", 0.3), ("readers", 1.0), ("sites", 1.0)):
        share = column.known_share(kind)
        if share and share > 0.3:
            fit += _as_known(share, expected) if expected < 1 else -3.0
    return fit


def _phone(column: ColumnSeen, table: str) -> float:
    profile = column.profile
    if max(profile.dates, profile.moments) > 0.5:
        return -8.0
    if profile.phones > 0.5:
        return 2.0
    return 0.3 if profile.digits > 0.5 and profile.widths.most_common(1)[0][0] > 6 else -4.0


def _address(column: ColumnSeen, table: str) -> float:
    return steep(column.profile.addresses, 2.0, 3.0)


def _zone(column: ColumnSeen, table: str) -> float:
    return steep(column.profile.zones, 6.0, 6.0)


def _counting(column: ColumnSeen) -> float:
    """Return what it says against a number that it counts the rows; some workplaces number their people so."""
    plainly = max(column.concepts.get(one, -9.0) for one in ("person_id", "keyed_number"))
    return 1.5 if plainly > KNOWN else 8.0


def _unique(profile: Profile, gain: float, loss: float, bar: float = 0.97) -> float:
    """Return what it says that each cell stands once, as in a roster, or again and again."""
    if profile.size < 3:
        return 0.0
    return gain if profile.distinct >= bar else -loss if profile.distinct < 0.8 and profile.size > 7 else -loss / 3


def _as_known(share: float, expected: float) -> float:
    """Return what it says that a share of the cells is known, where by chance fewer would be."""
    return max(0.0, min(6.0, 1.5 * math.log(share / max(expected, 0.01))))


BY_NAME = cast(
    dict[str, Callable[[ColumnSeen, str], float]],
    {
        "reader": _reader,
        "site": _site,
        "place": _place,
        "department": _department,
        "number": _number,
        "person": _person,
        "name": _name,
        "phone": _phone,
        "address": _address,
        "zone": _zone,
    },
)
