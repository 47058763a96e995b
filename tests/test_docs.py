"""What a user may call is written down."""

from __future__ import annotations

from pathlib import Path

import pytest

from evenhand.cli import COMMANDS
from evenhand.pay import FIELDS

DOCS = Path(__file__).parent.parent / "docs"


@pytest.mark.parametrize("command", COMMANDS)
def test_a_command_is_documented(command: str) -> None:
    assert f"evenhand {command}" in (DOCS / "commands.md").read_text()


@pytest.mark.parametrize("field", FIELDS)
def test_a_field_for_payroll_is_documented(field: str) -> None:
    assert f"`{field}`" in (DOCS / "commands.md").read_text()
