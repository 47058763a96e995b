"""What a settings file says of payrolls: read, refused in a sentence, and written as it was read."""

from __future__ import annotations

from pathlib import Path

import pytest

from evenhand.store.settings import parse_settings, read_settings, write_settings
from evenhand.terms.payroll import ImportDefinition, PayrollColumn
from evenhand.terms.records import Refusal

BEGINS = '[workplace]\nname = "Mill"\n[pay_period]\nanchor = 2026-01-04\n'
WHOLE = (
    BEGINS
    + """
[payroll.hall]
sites = ["Mill North"]
header = false
delimiter = "tab"
decimal_mark = ","
decimals = 3
day = "DD.MM.YY"
encoding = "windows-1252"
line_end = "lf"

[payroll.hall.codes]
ordinary_hours = "0100"
"differential_hours:night" = "0300"

[[payroll.hall.column]]
text = "001"

[[payroll.hall.column]]
header = "Who"
field = "person"

[payroll.rest]
mark = true

[[payroll.rest.column]]
header = "Person"
field = "person"
"""
)
REST = '[[payroll.rest.column]]\nheader = "Person"\nfield = "person"'


def test_a_definition_is_read_and_written_as_it_was(tmp_path: Path) -> None:
    found = parse_settings(WHOLE, Path("evenhand.toml"))
    hall, rest = found.payrolls
    assert hall == ImportDefinition(
        name="hall",
        where="evenhand.toml [payroll.hall]",
        columns=(PayrollColumn("", text="001"), PayrollColumn("Who", "person")),
        codes=(("ordinary_hours", "0100"), ("differential_hours:night", "0300")),
        sites=("Mill North",),
        has_header=False,
        delimiter="\t",
        decimal_mark=",",
        decimals=3,
        day="DD.MM.YY",
        encoding="windows-1252",
        has_mark=False,
        line_end="\n",
    )
    assert (rest.has_mark, rest.sites, rest.encoding, rest.line_end) == (True, (), "utf-8", "\r\n")
    assert found.import_definitions == found.payrolls
    write_settings(tmp_path / "evenhand.toml", found)
    assert read_settings(tmp_path / "evenhand.toml") == found


def test_without_payrolls_there_is_one_file_of_the_columns_that_are_chosen() -> None:
    [one] = parse_settings(BEGINS + '[handoff.columns]\n"Who" = "person"\n', Path("evenhand.toml")).import_definitions
    assert (one.columns, one.has_mark, one.name) == ((PayrollColumn("Who", "person"),), True, "")


@pytest.mark.parametrize(
    ("was", "now", "says"),
    [
        ("[payroll.hall]", '[payroll."Hall 1"]', "payroll.Hall 1: found 'Hall 1', expected a name"),
        ('sites = ["Mill North"]\n', "", "whoever no other names, whom payroll hall is told of already"),
        ("mark = true", 'sites = ["Mill North"]', "the site Mill North, whom payroll hall is told of already"),
        ("header = false", 'header = "no"', "payroll.hall.header: found 'no', expected true or false"),
        ('delimiter = "tab"', 'delimiter = ";;"', 'payroll.hall.delimiter: found \';;\''),
        ('delimiter = "tab"', 'delimiter = "a"', "payroll.hall.delimiter: found 'a'"),
        ('decimal_mark = ","', 'decimal_mark = "~"', "payroll.hall.decimal_mark: found '~'"),
        ("decimals = 3", "decimals = 1", "payroll.hall.decimals: found '1', expected a whole number from 2 to 4"),
        ("DD.MM.YY", "DD.MM", "payroll.hall.day: found 'DD.MM', expected YYYY or YY, MM and DD once each"),
        ("DD.MM.YY", "DD.MM.YYYYY", "payroll.hall.day: found 'DD.MM.YYYYY'"),
        ("windows-1252", "runes", "payroll.hall.encoding: found 'runes', expected the name of an encoding"),
        ("header = false", "mark = true", "payroll.hall.mark: found 'True', expected false"),
        ('line_end = "lf"', 'line_end = "cr"', "payroll.hall.line_end: found 'cr', expected \"crlf\" or \"lf\""),
        ('text = "001"', 'text = "001"\nfield = "site"', "payroll.hall.column 1.field: found 'site'"),
        ('ordinary_hours = "0100"', "ordinary_hours = 100", "payroll.hall.codes.ordinary_hours: found '100'"),
        ("[payroll.rest]", '[handoff.columns]\n"A" = "person"\n[payroll.rest]', "handoff.columns: found a table"),
        (REST, "", "payroll.rest.column: found nothing, expected at least one"),
    ],
)  # fmt: skip
def test_what_is_not_understood_is_refused_with_its_place(was: str, now: str, says: str) -> None:
    assert was in WHOLE
    with pytest.raises(Refusal) as refusal:
        parse_settings(WHOLE.replace(was, now, 1), Path("evenhand.toml"))
    assert says in str(refusal.value)
