"""Every jurisdiction is one whole record: rules with source and documentation, numbers with date and citation."""

from __future__ import annotations

import sys
from collections.abc import Callable
from datetime import date
from itertools import pairwise
from pathlib import Path
from typing import Any

import numpy as np
import polars as pl
import pytest

from evenhand.law import compiling, load_passes, pay_laws
from evenhand.law.jurisdiction import Jurisdiction, Rule
from evenhand.law.jurisdictions import JURISDICTIONS, jurisdiction_of
from evenhand.law.recorded import moved
from evenhand.terms.parameters import OwnRules, Parameter
from evenhand.terms.records import Refusal
from tests.law.weeks import hours_of, sheet, uncompiled

DOCS = (Path(__file__).parent.parent.parent / "docs" / "hours.md").read_text(encoding="utf-8")
RULES = {rule.name: rule for one in JURISDICTIONS.values() for rule in one.rules}
SUNDAY = date(2026, 5, 10)
PERIODS = {"public_safety": "fire_protection", "work_period_days": 28, "work_period": SUNDAY}
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


def test_a_server_that_loaded_the_passes_waits_for_none_of_them(monkeypatch: pytest.MonkeyPatch) -> None:
    asked: set[tuple[Any, ...]] = set()

    def noted(function: Callable[..., Any]) -> Callable[..., Any]:
        run = uncompiled(function)
        return lambda *given: (asked.add((function, *map(_kind, given))), run(*given))[1]

    monkeypatch.setattr(compiling, "_compiled", noted)
    load_passes()
    loaded = set(asked)
    monkeypatch.setattr(compiling, "is_large", lambda _punches: True)
    odd = sheet("2026-05-10 06:00", "2026-05-10 10:00", "2026-05-10 10:30", "2026-05-10 19:30", "2026-05-11 08:00")
    # As they come, in one piece, and in order of people.
    in_pieces = pl.concat([odd.with_columns(person=pl.lit("Bo")), odd.with_columns(pl.col("punch") + 10)])
    for attributed in (in_pieces, in_pieces.rechunk(), in_pieces.sort("person", "at")):
        for name in JURISDICTIONS:
            hours_of(attributed, jurisdiction=name, fortnight=SUNDAY, **PERIODS)
    assert {new for new in asked - loaded if new[0] not in ACCOUNTS} == set()


def _kind(given: Any) -> tuple[Any, ...]:
    """What the compiler tells inputs apart by: type, and of a column also how it lies and whether it may be written."""
    if isinstance(given, np.ndarray):
        return given.dtype, given.ndim, given.flags.c_contiguous, given.flags.writeable
    return (type(given),)


ACCOUNTS = {moved.list_moved}
"""Passes for the account of few people, which is never of as many punches as are compiled for."""


def test_own_rules_without_a_jurisdiction_are_refused_with_what_there_is() -> None:
    names = "alaska, california, colorado, eu_2003_88, nevada, us_eight_and_eighty, us_federal, us_public_safety"
    with pytest.raises(Refusal) as unknown:
        jurisdiction_of("atlantis", site="Mill")
    assert str(unknown.value) == (
        f"site Mill: the jurisdiction 'atlantis' is not known; use {names.replace(', ', ' or ')}, or a folder of your "
        "own in rules/."
    )
    with pytest.raises(Refusal, match=r"^the jurisdiction 'atlantis' is not known"):
        pay_laws(["atlantis"])
    with pytest.raises(Refusal) as resting:
        jurisdiction_of("ours", {"ours": OwnRules("ours", "atlantis", {})})
    assert str(resting.value) == (
        "rules/ours: it rests on the jurisdiction 'atlantis', which is not known; write jurisdiction.toml with "
        f"based_on = one of {names}."
    )


@pytest.mark.parametrize("number", NUMBERS.values(), ids=NUMBERS.keys())
def test_a_number_has_meaning_and_unit_and_each_value_its_date_and_source(number: Parameter) -> None:
    assert number.meaning
    assert number.unit
    assert number.values
    assert all(earlier < later for (earlier, _, _), (later, _, _) in pairwise(number.values))
    assert all(citation.where and citation.since == since for since, _, citation in number.values)
