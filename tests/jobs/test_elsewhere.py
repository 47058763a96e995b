"""Work at readers of a site whose law gives more than that of the person's own site.

Source: Sullivan v. Oracle, 51 Cal.4th 1191 (2011): Labor Code 510 binds full days and weeks of work in California by
people of other states.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime
from decimal import Decimal
from pathlib import Path

from evenhand.jobs.elsewhere import find_elsewhere
from evenhand.jobs.reckoning import reckon_period
from evenhand.jobs.take import take_files
from evenhand.jobs.today import find_today
from evenhand.jobs.workspace import create_workspace
from evenhand.store.settings import write_settings
from evenhand.terms.settings import PayPeriod, SiteRules

DAY, NOW = date(2026, 3, 15), datetime(2026, 3, 23, 17, tzinfo=UTC)
READERS = "reader,site,zone\nHALL,Cannery,America/Los_Angeles\nGATE,Mill,America/Los_Angeles\n"
PEOPLE = "person,name,number,site\nP1,Ida Marlow,4101,Mill\nP2,Rui Okoro,4102,Mill\nP3,Lena Fisk,4103,Cannery\n"


def test_three_long_days_at_californian_readers_are_asked_about(tmp_path: Path) -> None:
    # Ida of the federal mill works 06:00-12:00 and 12:30-18:30 on three days in the cannery: 36 h, none past 40. By
    # Labor Code 510(a) 3 x (12 - 8) = 12 h are overtime; each day's meal is after the fifth hour (512(a)), and more
    # than ten hours want a second: an hour for each of the three days (226.7(c)). Rui does the same at the mill, Lena
    # is the cannery's own.
    punches = ["reader,number,time,direction"]
    for reader, number in (("HALL", "4101"), ("GATE", "4102"), ("HALL", "4103")):
        for day in ("16", "17", "18"):
            for place, at in enumerate(("06:00", "12:00", "12:30", "18:30")):
                punches.append(f"{reader},{number},2026-03-{day} {at}:00,{'out' if place % 2 else 'in'}")
    files = {"readers.csv": READERS, "people.csv": PEOPLE, "punches.csv": "\n".join(punches) + "\n"}
    for name, text in files.items():
        (tmp_path / name).write_text(text)
    made = create_workspace(tmp_path / "workspace", "Cannery", period=PayPeriod(DAY))
    take_files(made, [tmp_path / name for name in files])
    sites = {
        "Cannery": SiteRules("Cannery", "America/Los_Angeles", "california"),
        "Mill": SiteRules("Mill", "America/Los_Angeles"),
    }
    write_settings(made.settings_file, replace(made.settings, sites=sites))
    reckoning = reckon_period(made, NOW, DAY)
    assert find_elsewhere(reckoning, reckoning.period(DAY)).rows() == [
        ("P1", "Cannery", "california", "us_federal", 36 * 3600, 0, 0, 12 * 3600, 0, Decimal(0), Decimal(3))
    ]
    [found] = [one for one in find_today(reckoning, DAY).findings if one.code == "law_of_place"]
    assert found.says == (
        "Ida Marlow (P1) worked 36 h at Cannery, whose law (california) gives more than us_federal, under which it is "
        "paid."
    )
    assert found.stake.minutes == 15 * 60
    # Where all sites are under one law there is nothing to ask.
    write_settings(
        made.settings_file,
        replace(made.settings, sites={name: replace(one, jurisdiction="california") for name, one in sites.items()}),
    )
    assert find_elsewhere(reckon_period(made, NOW, DAY), reckoning.period(DAY)).is_empty()
