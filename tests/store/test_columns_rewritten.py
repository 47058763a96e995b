"""Payroll's columns are put in order in the text of the settings, and every comment stays with its column."""

from __future__ import annotations

from pathlib import Path

import pytest

from evenhand.store.columns_rewritten import PlacedColumn, columns_rewritten, columns_written
from evenhand.terms.payroll import PayrollColumn
from evenhand.terms.records import Refusal

PATH = Path("evenhand.toml")
ALONE = """[workplace]
name = "Mill"

[handoff.columns] # agreed with payroll
# who
"Pers. no" = "person"
"Week"     = "workweek" # its first day
# by class
"Normal"   = "ordinary_hours"

[retention]
hands_days = 30
"""
NAMED = """[payroll.hall]
day = "DD.MM.YYYY"

# the firm's number
[[payroll.hall.column]]     # in order
header = "Firm"
text = "001" # ours

[[payroll.hall.column]]
header = "Person"
field = "person"

# about sites
[site.Mill]
zone = "America/New_York"
"""


def as_placed(text: str, payroll: str = "") -> list[PlacedColumn]:
    return [PlacedColumn(at, one) for at, one in enumerate(columns_written(text, payroll))]


def test_lines_are_put_in_order_with_their_comments_and_one_is_added_and_taken_out() -> None:
    person, week, normal = as_placed(ALONE)
    over = PlacedColumn(None, PayrollColumn("Over", "overtime_hours"))
    called = PlacedColumn(week.was, PayrollColumn("Week of", "workweek"))
    made = columns_rewritten(ALONE, "", [normal, person, over, called], PATH)
    assert made == ALONE.replace(
        """# who
"Pers. no" = "person"
"Week"     = "workweek" # its first day
# by class
"Normal"   = "ordinary_hours"
""",
        """# who
# by class
"Normal"   = "ordinary_hours"
"Pers. no" = "person"
Over = "overtime_hours"
"Week of" = "workweek" # its first day
""",
    )
    assert columns_rewritten(ALONE, "", [person, normal], PATH) == ALONE.replace(
        '"Week"     = "workweek" # its first day\n', ""
    )
    assert columns_rewritten(ALONE, "", as_placed(ALONE), PATH) == ALONE


def test_tables_of_a_payroll_are_put_in_order_with_what_stands_above_them() -> None:
    firm, person = as_placed(NAMED, "hall")
    made = columns_rewritten(NAMED, "hall", [person, firm], PATH)
    first, second = NAMED.index("# the firm's"), NAMED.index('[[payroll.hall.column]]\nheader = "Person"')
    end = NAMED.index("\n# about sites")
    assert made == NAMED[:first] + NAMED[second:end] + "\n" + NAMED[first:second].rstrip("\n") + "\n" + NAMED[end:]
    by_field = PlacedColumn(firm.was, PayrollColumn("Firm", "site"))
    money = PlacedColumn(None, PayrollColumn("", "", 'so "called"'))
    changed = columns_rewritten(NAMED, "hall", [by_field, person, money], PATH)
    assert columns_written(changed, "hall") == [by_field.column, person.column, money.column]
    assert '# the firm\'s number\n[[payroll.hall.column]]     # in order\nheader = "Firm"\n' in changed
    assert changed.endswith(NAMED[end:])


def test_columns_that_the_file_does_not_say_yet_are_written_at_its_end() -> None:
    wanted = [PlacedColumn(None, PayrollColumn("Pers. no", "person"))]
    assert columns_rewritten("[workplace]", "", wanted, PATH) == (
        '[workplace]\n\n[handoff.columns]\n"Pers. no" = "person"\n'
    )


@pytest.mark.parametrize(
    ("text", "payroll"),
    [
        ('[handoff]\ncolumns = {"A" = "person", "B" = "name"}\n', ""),
        ('[payroll.hall]\ncolumn = [{header = "A", field = "person"}, {header = "B", field = "name"}]\n', "hall"),
        (
            NAMED.replace(
                '[[payroll.hall.column]]\nheader = "Person"',
                '[payroll.hall.codes]\nx = "1"\n\n[[payroll.hall.column]]\nheader = "Person"',
            ),
            "hall",
        ),
    ],
)
def test_columns_written_in_another_way_are_refused_and_stay(text: str, payroll: str) -> None:
    first, second = as_placed(text, payroll)
    with pytest.raises(Refusal, match="change them in the text of the file"):
        columns_rewritten(text, payroll, [second, first], PATH)
