"""Every rule is whole: names, source, sentence, documentation; every number has its date and citation."""

from __future__ import annotations

from importlib import resources
from pathlib import Path

import pytest

from evenhand.law.classing import JURISDICTIONS
from evenhand.terms.parameters import parse_parameters

DOCS = (Path(__file__).parent.parent.parent / "docs" / "hours.md").read_text(encoding="utf-8")
RULES = sorted({rule for rules in JURISDICTIONS.values() for rule in rules}, key=lambda rule: rule.__name__)


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.__name__)
def test_a_rule_names_its_source_and_is_documented(rule: object) -> None:
    assert rule.__name__.removeprefix("evenhand.law.") == rule.NAME  # type: ignore[attr-defined]
    assert "Source:" in (rule.__doc__ or "")
    assert all(citation.where for citation in rule.CITES)  # type: ignore[attr-defined]
    assert f"`{rule.NAME}`" in DOCS  # type: ignore[attr-defined]


@pytest.mark.parametrize("name", sorted(JURISDICTIONS))
def test_a_jurisdiction_is_documented_and_its_numbers_are_dated_and_cited(name: str) -> None:
    assert f"| `{name}` |" in DOCS
    for file in resources.files(f"evenhand.law.{name}").iterdir():
        if file.name.endswith(".toml"):
            # A value without date or citation is refused when it is read.
            assert parse_parameters(file.read_text(encoding="utf-8"), file.name)
