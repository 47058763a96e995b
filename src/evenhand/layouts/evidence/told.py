"""What a header tells of a column where its cells bear it out: plainly, faintly, or nothing that counts."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from evenhand.layouts.evidence.column import ColumnSeen
from evenhand.layouts.evidence.profile import Profile
from evenhand.layouts.evidence.suits import suits
from evenhand.layouts.wording.concepts import FIELD_CONCEPTS

__all__ = ["is_explained", "names_a_part", "tells", "tells_faintly"]

PLAIN = -0.75  # how well a header fits a concept, from which on its words are known, or one is cut short
FAINT = -1.4  # and from which on most of it is known
OWN, OTHER = -1.5, -2.5  # how likely a concept is that says of a column what it is, or still may
NEAR = 0.5  # what fits a header so much worse than another concept is not what it says
HALF = 0.5
OLDEST = 3  # digits of an age

INSTANTS = frozenset({"at", "starts_at", "ends_at"})


def tells(column: ColumnSeen, table: str, declared: str) -> bool:
    """Return whether the header says plainly that this is the declared column."""
    return column.plain_name == declared or _says(column, table, declared, PLAIN, OWN)


def tells_faintly(column: ColumnSeen, table: str, declared: str) -> bool:
    """Return whether the header speaks for the declared column, though by half a word or one for something near it."""
    return _says(column, table, declared, FAINT, OTHER)


def names_a_part(column: ColumnSeen) -> bool:
    """Return whether the header is that of a family name or of a given one."""
    return any(column.concepts.get(part, FAINT) >= PLAIN for part in ("family_name", "given_name"))


def _says(column: ColumnSeen, table: str, declared: str, fit: float, weight: float) -> bool:
    concepts = FIELD_CONCEPTS[table][declared].concepts
    least = max(fit, max(column.concepts.values(), default=0.0) - NEAR)
    return any(
        found >= least and concepts.get(concept, OTHER - 1) >= weight for concept, found in column.concepts.items()
    )


def is_explained(column: ColumnSeen) -> bool:
    """Return whether the header says what the column is, of whichever table or of none, and its cells bear it out.

    A word that is known may be another's in another language, and cells of another kind give that away. Where a
    concept has cells that few others have, half a word is enough.
    """
    return any(
        fit >= (FAINT if concept in CHARACTERISTIC else PLAIN) and _is_borne_out(column, concept)
        for concept, fit in column.concepts.items()
    )


def _is_borne_out(column: ColumnSeen, concept: str) -> bool:
    test = BESIDE.get(concept)
    if test is not None and test(column.profile):
        return True
    return any(
        (name in INSTANTS and _is_timed(column.profile)) or suits(column, table, name)
        for table, name in FIELDS_OF.get(concept, ())
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


# What the cells of a column are that no table here has a place for.
BESIDE: Mapping[str, Callable[[Profile], bool]] = {
    "birth": _is_dated,
    "middle_name": _is_text,
    "mail": lambda profile: profile.mails > HALF,
    "account": lambda profile: _is_long(profile) or _is_text(profile),
    "state_number": _is_undated,
    "row": lambda profile: profile.is_counting,
    "weekday": _is_text,
    "gender": _is_text,
    "town": _is_undated,
    "remark": _is_text,
    "checksum": _is_undated,
    "age": _is_few_digits,
    "change": _is_timed,
    "contract": _any,
    "break": _any,
    "sum": lambda profile: max(profile.amounts, profile.times) > HALF,
    "firmware": _any,
    "locker": _any,
    "manager": lambda profile: profile.names > HALF,
    "title": _is_text,
    "role": _is_text,
    "level": _any,
    "cost_centre": _is_undated,
    "department": _is_undated,
    "family_name": _is_text,
    "given_name": _is_text,
    "name": _is_text,
    "punched_in": _is_timed,
    "punched_out": _is_timed,
}
CHARACTERISTIC = frozenset({"birth", "mail", "row", "age", "manager", "account"})

FIELDS_OF: dict[str, list[tuple[str, str]]] = {}
for _table, _fields in FIELD_CONCEPTS.items():
    for _name, _of in _fields.items():
        for _concept, _weight in _of.concepts.items():
            if _weight >= OWN:
                FIELDS_OF.setdefault(_concept, []).append((_table, _name))
