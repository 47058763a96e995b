"""Every jurisdiction is one whole record: rules with source and documentation, numbers with date and citation."""

from __future__ import annotations

import sys
from itertools import pairwise
from pathlib import Path

import pytest

from evenhand.law.jurisdiction import Jurisdiction, Rule
from evenhand.law.jurisdictions import JURISDICTIONS
from evenhand.terms.parameters import Parameter

DOCS = (Path(__file__).parent.parent.parent / "docs" / "hours.md").read_text(encoding="utf-8")
RULES = {rule.name: rule for one in JURISDICTIONS.values() for rule in one.rules}
NUMBERS = {
    f"{rule}.{name}": number
    for one in JURISDICTIONS.values()
    for rule, numbers in one.numbers.items()
    for name, number in numbers.items()
}


@pytest.mark.parametrize("rule", RULES.values(), ids=lambda rule: rule.name)
def test_a_rule_names_its_source_and_is_documented(rule: Rule) -> None:
    assert rule.cites
    assert all(citation.where for citation in rule.cites)
    assert f"`{rule.name}`" in DOCS


@pytest.mark.parametrize("jurisdiction", JURISDICTIONS.values(), ids=lambda one: one.name)
def test_a_jurisdiction_is_documented_and_stands_in_the_folder_of_its_name(jurisdiction: Jurisdiction) -> None:
    assert f"| `{jurisdiction.name}` |" in DOCS
    room = sys.modules[f"evenhand.law.{jurisdiction.name}"]
    assert room.JURISDICTION is jurisdiction
    assert "Source" in (room.__doc__ or "")
    assert jurisdiction.title
    assert jurisdiction.sources
    names = [rule.name for rule in jurisdiction.rules]
    assert len(names) == len(set(names))


@pytest.mark.parametrize("number", NUMBERS.values(), ids=NUMBERS.keys())
def test_a_number_has_meaning_and_unit_and_each_value_its_date_and_source(number: Parameter) -> None:
    assert number.meaning
    assert number.unit
    assert number.values
    assert all(earlier < later for (earlier, _, _), (later, _, _) in pairwise(number.values))
    assert all(citation.where and citation.since == since for since, _, citation in number.values)
