"""Limits on working time as Today finds them: a shift over the end of the pay period is looked at whole, and once."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

from evenhand.jobs.take import Receipt, take_files
from evenhand.jobs.workspace import create_workspace
from evenhand.store.settings import write_settings
from evenhand.terms.settings import PayPeriod, SiteRules
from tests.jobs.asked import find_today

MONDAY = date(2026, 9, 14)
FILES = {
    "readers.csv": "reader,site,zone\nQUAY,Harbour,Europe/Berlin\n",
    "people.csv": "person,name,number,site\nP1,Ida Marlow,4101,Harbour\n",
}
NIGHTS = [MONDAY + timedelta(days=day) for week in (0, 7) for day in range(week + 1, week + 7)]


def test_the_last_night_of_a_pay_period_counts_whole_in_its_average(tmp_path: Path) -> None:
    # Directive 2003/88/EC, art. 8, with the divisor of UK reg. 6: from Tuesday to Sunday six nights of 8.5 h, 8.5 on
    # average in either week. Of the last, on Sunday 27 September, 6 h lie after the period's end.
    presses = ["reader,number,time,direction"]
    for day in NIGHTS:
        for after, at, way in ((0, "21:30", "in"), (1, "02:00", "out"), (1, "02:30", "in"), (1, "06:30", "out")):
            presses.append(f"QUAY,4101,{day + timedelta(days=after)} {at}:00,{way}")
    # Art. 3: from Monday 28 at 06:30 to 15:00 are 8.5 h of rest, before a shift of the next period.
    presses += ["QUAY,4101,2026-09-28 15:00:00,in", "QUAY,4101,2026-09-28 19:00:00,out"]
    for name, text in {**FILES, "punches.csv": "\n".join(presses) + "\n"}.items():
        (tmp_path / name).write_text(text)
    made = create_workspace(tmp_path / "workspace", "Harbour", period=PayPeriod(MONDAY, 2))
    for receipt in take_files(made, [tmp_path / name for name in (*FILES, "punches.csv")]):
        assert isinstance(receipt, Receipt), receipt
    rules = SiteRules("Harbour", "Europe/Berlin", "eu_2003_88", workweek_day=0)
    write_settings(made.settings_file, replace(made.settings, sites={"Harbour": rules}))

    def says(day: date) -> list[str]:
        findings = find_today(made, datetime(2026, 10, 14, 12, tzinfo=UTC), day).findings
        return [line for one in findings if one.code == "working_time" for line in one.evidence]

    nights = [line for line in says(MONDAY) if "night" in line]
    assert [line.split(", of")[0] for line in nights] == [
        f"8.50 h in 24 on average in the week of {monday}" for monday in ("Mon 14 Sep 2026", "Mon 21 Sep 2026")
    ]
    rest = "8 h 30 min of rest from Mon 28 Sep 2026, 06:30"
    assert not [line for line in says(MONDAY) if line.startswith(rest)]
    assert [line for line in says(date(2026, 9, 28)) if line.startswith(rest)]
    made.close()
