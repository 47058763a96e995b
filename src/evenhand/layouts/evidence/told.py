"""What a header tells of a column where its cells bear it out: plainly, faintly, or nothing that counts."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping

from evenhand.layouts.evidence.column import ColumnSeen
from evenhand.layouts.evidence.profile import Profile
from evenhand.layouts.evidence.suits import suits
from evenhand.layouts.wording.concepts import FIELD_CONCEPTS, GENERIC

__all__ = ["FAINT", "is_explained", "names_a_part", "speaks_of", "tells", "tells_faintly"]

PLAIN = -0.75  # how well a header fits a concept, from which on its words are known, or one is cut short
FAINT = -1.4  # and from which on most of it is known
OWN, OTHER = -1.5, -2.5  # how likely a concept is that says of a column what it is, or still may
NEAR = 0.5  # what fits a header so much worse than another concept is not what it says
HALF = 0.5
OLDEST = 3  # digits of an age
FEW = 7  # kinds of weekdays, and of others that have few

BARE = GENERIC - {"valid_from", "valid_to", "moment"}
INSTANTS = frozenset({"at", "starts_at", "ends_at"})


def tells(column: ColumnSeen, table: str, declared: str) -> bool:
    """Return whether the header says plainly that this is the declared column."""
    return column.plain_name == declared or _says(column, table, declared, PLAIN, OWN)


def speaks_of(column: ColumnSeen, table: str, declared: str) -> bool:
    """Return whether the header plainly says the declared column by a word that says of what it is: no mere date."""
    return column.plain_name == declared or _says(column, table, declared, PLAIN, OWN, but=BARE)


def tells_faintly(column: ColumnSeen, table: str, declared: str) -> bool:
    """Return whether the header speaks for the declared column, though by half a word or one for something near it."""
    return _says(column, table, declared, FAINT, OTHER)


def names_a_part(column: ColumnSeen) -> bool:
    """Return whether the header is that of a family name or of a given one."""
    return any(column.concepts.get(part, FAINT) >= PLAIN for part in ("family_name", "given_name"))


def _says(column: ColumnSeen, table: str, declared: str, fit: float, weight: float, but: Collection[str] = ()) -> bool:
    concepts = FIELD_CONCEPTS[table][declared].concepts
    least = max(fit, max(column.concepts.values(), default=0.0) - NEAR)
    return any(
        found >= least and concepts.get(concept, OTHER - 1) >= weight and concept not in but
        for concept, found in column.concepts.items()
    )


def is_explained(column: ColumnSeen, table: str) -> bool:
    """Return whether the header says what the column is, of this table or of none, and its cells bear it out.

    A word that is known may be another's in another language, and cells of another kind give that away, as does what
    no such file has: a roster has no column of readers. Where a concept has cells that few others have, half a word is
    enough.
    """
    return any(
        fit >= (FAINT if concept in CHARACTERISTIC else PLAIN) and _is_borne_out(column, table, concept)
        for concept, fit in column.concepts.items()
    )


def _is_borne_out(column: ColumnSeen, table: str, concept: str) -> bool:
    test = BESIDE.get(concept) if table != "readers" else BESIDE_READERS.get(concept)
    if test is not None and test(column.profile):
        return True
    return any(
        of.concepts.get(concept, OTHER) >= OWN
        and ((name in INSTANTS and _is_timed(column.profile)) or suits(column, table, name))
        for name, of in FIELD_CONCEPTS[table].items()
    )


def _is_timed(profile: Profile) -> bool:
    return max(profile.moments, profile.dates, profile.times, profile.compact_dates, profile.compact_times) > HALF


def _is_dated(profile: Profile) -> bool:
    return max(profile.moments, profile.dates, profile.compact_dates) > HALF


def _is_text(profile: Profile) -> bool:
    return not _is_dated(profile) and max(profile.digits, profile.fractions) <= HALF


def _is_undated(profile: Profile) -> bool:
    return not _is_dated(profile)


def _is_few_digits(profile: Profile) -> bool:
    return profile.digits > HALF and max(profile.widths) <= OLDEST


def _is_long(profile: Profile) -> bool:
    """Return whether the cells are long numbers, as those of accounts are."""
    return profile.digits > HALF and min(profile.widths) > OLDEST * 3


def _any(_profile: Profile) -> bool:
    return True


def _is_few(profile: Profile) -> bool:
    return _is_text(profile) and len(profile.counts) <= FEW


def _is_varied(profile: Profile) -> bool:
    return _is_undated(profile) and profile.distinct > HALF


Test = Callable[[Profile], bool]

# What the cells of a column are that stands in files of readers, and in those of people, without being any table's.
BESIDE_READERS: Mapping[str, Test] = {
    "row": lambda profile: profile.is_counting or profile.size <= FEW,
    "remark": _is_text,
    "checksum": _is_varied,
    "change": _is_timed,
    "firmware": _any,
    "mail": lambda profile: profile.mails > HALF,
    "phone": lambda profile: profile.phones > HALF,
    "town": _is_text,
}
BESIDE: Mapping[str, Test] = {
    **BESIDE_READERS,
    "birth": _is_dated,
    "middle_name": _is_text,
    "account": lambda profile: _is_long(profile) or _is_text(profile),
    "state_number": _is_undated,
    "weekday": _is_few,
    "shift": _is_few,
    "gender": lambda profile: len(profile.counts) <= FEW // 2,
    "contract": _any,
    "break": _any,
    "sum": lambda profile: max(profile.amounts, profile.times) > HALF,
    "age": _is_few_digits,
    "locker": _any,
    "manager": lambda profile: profile.names > HALF,
    "title": _is_text,
    "role": _is_text,
    "level": _any,
    "cost_centre": _is_undated,
    "department": _is_undated,
    "site": _is_text,
    "family_name": _is_text,
    "given_name": _is_text,
    "name": _is_text,
    "person": _is_undated,
    "person_id": _is_undated,
    "keyed_number": lambda profile: profile.digits > HALF,
    "hired": _is_dated,
    "left": _is_dated,
    "punched_in": _is_timed,
    "punched_out": _is_timed,
}
CHARACTERISTIC = frozenset({"birth", "mail", "row", "age", "manager", "account"})
