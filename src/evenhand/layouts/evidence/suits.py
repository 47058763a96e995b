"""Whether a column's cells alone could be those of a declared one, whatever its header: what a careful reader checks.

It is asked where a header does not tell, so that it errs on the side of yes: a column that suits is asked about, one
that does not is left alone. The figures are judgement, tried on made files.
"""

from __future__ import annotations

from collections.abc import Callable

from evenhand.layouts.evidence.column import ColumnSeen
from evenhand.layouts.evidence.profile import Profile, is_digits

__all__ = ["are_levels", "is_tested", "suits"]

NEARLY_ALL, MOST, HALF = 0.9, 0.7, 0.5
UNIQUE = 0.97  # distinct cells as a share of all, from which on each stands once as in a roster
SOME_ROWS = 7  # rows from which on it says something that cells stand again and again
LONGEST_ID, LONGEST_NUMBER, LONGEST_WORD = 12, 8, 16  # characters
OFTEN = 0.8  # of the rows
COMPACT = (6, 8)  # digits of a date
ENDS = frozenset({"left_on", "withdrawn_on", "valid_to", "earned_to"})
FEW_KINDS = 4  # of words that stand for in and out, accepted and refused
FEW_LEVELS, HIGHEST_LEVEL, SAID_LEVEL = range(2, 5), 9, 99  # of authority; the highest where a header says it is one
FEW_FORMS = 12  # versions of a form, or plans of pay
DIGITS_HELD, PEOPLE_HELD, PRESENTED = range(2, 33), range(10, 10**6), range(1, 31)


def suits(column: ColumnSeen, table: str, declared: str) -> bool:
    """Return whether the cells could be those of the declared column; instants are not asked about here."""
    if not column.profile.size:
        return False
    if declared in ENDS:
        # Only some have an end, or the end is behind a beginning.
        return _is_date(column.profile) and (column.is_later or column.profile.ended < OFTEN)
    test = TESTS.get(declared)
    return test is not None and test(column.profile, table)


def is_tested(declared: str) -> bool:
    """Return whether anything is known of the cells of a declared column."""
    return declared in TESTS or declared in ENDS


def are_levels(profile: Profile, *, is_said: bool) -> bool:
    """Return whether the cells are a few small whole numbers, as levels of authority are.

    `is_said` tells that the header says so: then one level alone is as good, and a level of two digits.
    """
    few, highest = (range(1, FEW_LEVELS.stop), SAID_LEVEL) if is_said else (FEW_LEVELS, HIGHEST_LEVEL)
    texts = [text.removesuffix(".0") for text in profile.counts]
    is_whole = bool(texts) and all(is_digits(text) and int(text) <= highest for text in texts)
    return is_whole and len(texts) in few and not profile.is_counting


def _is_worded(profile: Profile, _table: str = "") -> bool:
    """Return whether the cells are texts, and visibly nothing else."""
    other = (profile.moments, profile.dates, profile.times, profile.mails, profile.zones, profile.fractions)
    return max(*other, profile.phones, profile.digits) <= HALF


def _groups(profile: Profile, _table: str) -> bool:
    """Return whether the cells are texts that stand again and again, as sites and departments do."""
    is_again = profile.size <= SOME_ROWS or profile.distinct <= HALF
    is_else = profile.roles or max(profile.directions, profile.yes_no, profile.outcomes) > NEARLY_ALL
    return _is_worded(profile) and is_again and profile.filled > HALF and not is_else


def _is_identifier(profile: Profile, table: str) -> bool:
    is_plain = max(profile.digits, profile.coded) > NEARLY_ALL and not profile.is_counting and not _is_date(profile)
    is_long = max(map(len, profile.counts)) <= LONGEST_ID and sum(map(len, profile.counts)) > 2.5 * len(profile.counts)
    is_unique = table != "people" or (profile.size > 2 and profile.distinct > UNIQUE)
    return is_plain and is_long and is_unique and profile.fractions <= HALF


def _is_number(profile: Profile, table: str) -> bool:
    return (
        profile.digits > NEARLY_ALL and max(profile.widths) <= LONGEST_NUMBER + 2 and _is_identifier(profile, table)
    ) and profile.widths.most_common(1)[0][0] <= LONGEST_NUMBER


def _is_name(profile: Profile, table: str) -> bool:
    """Return whether the cells are names, or parts of names, of more than a few people."""
    if profile.names + profile.single_words <= NEARLY_ALL or not _groups_not(profile):
        return False
    fewest = max(4.0, 0.03 * profile.size) if profile.size > SOME_ROWS else 0
    return len(profile.counts) > fewest and profile.filled > HALF


def _groups_not(profile: Profile) -> bool:
    return max(profile.directions, profile.yes_no, profile.outcomes, profile.zones) <= HALF and not profile.roles


def _is_yes_no(profile: Profile, _table: str) -> bool:
    is_told = profile.size > 1 or len(profile.cells) > SOME_ROWS
    is_mark = is_told and len(profile.counts) == 1 and profile.filled < HALF and max(map(len, profile.counts)) <= 3
    is_one_of_two = len(profile.counts) == 2 and _few_words(profile, _table) and profile.digits <= HALF
    return (profile.yes_no >= MOST and len(profile.counts) <= FEW_KINDS) or profile.roles or is_mark or is_one_of_two


def _is_date(profile: Profile) -> bool:
    is_compact = profile.compact_dates >= NEARLY_ALL and profile.widths.most_common(1)[0][0] in COMPACT
    return max(profile.dates, profile.moments) >= MOST or is_compact


def _begins_after(year: int) -> Callable[[Profile, str], bool]:
    """Return the test of a date that every row has: most are of this year or later, others are birthdays."""

    def test(profile: Profile, _table: str) -> bool:
        if not _is_date(profile) or profile.filled <= HALF:
            return False
        days = sorted(day for day in profile.days if day is not None)
        return bool(days) and days[len(days) // 2] >= (year - 1970) * 365

    return test


def _is_amount(profile: Profile, _table: str) -> bool:
    return profile.amounts >= NEARLY_ALL and profile.fractions > HALF


def _is_score(profile: Profile, _table: str) -> bool:
    is_padded = any(text[0] == "0" and text[1:2].isdigit() for text in profile.counts)
    is_even = profile.digits > NEARLY_ALL and len(profile.widths) == 1 and max(profile.widths) > 3
    is_number = profile.amounts >= NEARLY_ALL and not profile.is_counting and max(map(len, profile.counts)) <= 6
    return is_number and not is_padded and not is_even


def _few_words(profile: Profile, _table: str) -> bool:
    """Return whether the cells are a few short words or marks, as those for in and out are."""
    is_short = max(map(len, profile.counts)) <= LONGEST_WORD
    is_few = 1 < len(profile.counts) <= FEW_KINDS < profile.size
    return is_few and is_short and profile.filled > HALF and profile.dates <= HALF and profile.times <= HALF


def _is_direction(profile: Profile, table: str) -> bool:
    is_coded = len(profile.counts) == 2 and max(map(len, profile.counts)) <= 2
    return profile.directions >= MOST or (_few_words(profile, table) and (profile.digits <= HALF or is_coded))


def _is_outcome(profile: Profile, table: str) -> bool:
    return profile.outcomes >= MOST or (_few_words(profile, table) and profile.directions < MOST)


def _is_reader(profile: Profile, table: str) -> bool:
    if table == "readers":
        is_unique = profile.distinct > UNIQUE
        return is_unique and not profile.is_counting and max(profile.dates, profile.moments, profile.zones) <= HALF
    is_few = len(profile.counts) <= max(2, 0.3 * profile.size) and profile.filled > HALF
    is_long = max(map(len, profile.counts)) > 1
    is_else = max(profile.dates, profile.moments, profile.times, profile.fractions, profile.mails) > HALF
    return is_few and is_long and _groups_not(profile) and not is_else


def _is_form(profile: Profile, _table: str) -> bool:
    is_else = max(profile.dates, profile.moments, profile.mails, profile.yes_no) > HALF
    return len(profile.counts) <= FEW_FORMS and profile.filled > HALF and not is_else


def _counts_within(within: range) -> Callable[[Profile, str], bool]:
    def test(profile: Profile, _table: str) -> bool:
        texts = [text.removesuffix(".0") for text in profile.counts]
        return not profile.is_counting and all(is_digits(text) and int(text) in within for text in texts)

    return test


def _is_phone(profile: Profile, _table: str) -> bool:
    return profile.phones > HALF and max(profile.dates, profile.moments) <= HALF


def _is_address(profile: Profile, _table: str) -> bool:
    return profile.addresses >= MOST and profile.coded <= HALF and max(profile.dates, profile.moments) <= HALF


def _is_zone(profile: Profile, _table: str) -> bool:
    return profile.zones > HALF


def _is_place(profile: Profile, _table: str) -> bool:
    return _is_worded(profile) and profile.filled > HALF and profile.yes_no <= HALF


TESTS: dict[str, Callable[[Profile, str], bool]] = {
    "person": _is_identifier,
    "number": _is_number,
    "name": _is_name,
    "department": _groups,
    "is_supervisor": _is_yes_no,
    "hired_on": _begins_after(1990),
    **dict.fromkeys(("given_on", "enrolled_on", "valid_from", "earned_from"), _begins_after(2000)),
    "phone": _is_phone,
    "address": _is_address,
    **dict.fromkeys(("hourly_rate", "amount"), _is_amount),
    "reader": _is_reader,
    "site": lambda profile, table: _is_place(profile, table) if table == "readers" else _groups(profile, table),
    "place": _is_place,
    "zone": _is_zone,
    "max_digits": _counts_within(DIGITS_HELD),
    "capacity": _counts_within(PEOPLE_HELD),
    "presentations": _counts_within(PRESENTED),
    "direction": _is_direction,
    "outcome": _is_outcome,
    "score": _is_score,
    "form": _is_form,
}
