"""What the settings say of how long records stay, and whose laws bind a site."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from evenhand.store.settings import parse_settings, read_settings, write_settings
from evenhand.terms.records import Refusal
from evenhand.terms.settings import PayPeriod, Retention, Settings, SiteRules

HEAD = '[workplace]\nname = "Mill"\n[pay_period]\nanchor = 2026-01-04\n'


def test_they_are_written_and_read_back(tmp_path: Path) -> None:
    site = SiteRules("Mill North", "America/Denver", place="US-CO")
    said = replace(
        Settings("Mill", PayPeriod(date(2026, 1, 4)), {"Mill North": site}), retention=Retention("US-IL", 7, 30)
    )
    write_settings(tmp_path / "evenhand.toml", said)
    assert read_settings(tmp_path / "evenhand.toml") == said


@pytest.mark.parametrize(
    ("written", "refused"),
    [
        ('place = "Illinois"', "a country or a country and its part by ISO 3166"),
        ("keep_years = 0", "a whole number of years from 1 to 30"),
        ("keep_years = true", "a whole number of years from 1 to 30"),
        ("notice_days = 400", "a whole number of days from 0 to 366"),
        ("keep_days = 3", "found a key nobody knows"),
    ],
)
def test_what_is_not_understood_is_refused(written: str, refused: str) -> None:
    with pytest.raises(Refusal, match=refused):
        parse_settings(f"{HEAD}[retention]\n{written}\n", Path("evenhand.toml"))
