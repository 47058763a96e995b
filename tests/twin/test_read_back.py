"""What the files hold, read as anybody's files are, is what the workplace reported."""

import polars as pl
import pytest

from evenhand.layouts import KnownCells, Rows, SourceFile, propose, read
from evenhand.twin import Workplace

from .planted import planted


def read_back(place: Workplace, name: str, content: bytes) -> Rows:
    zones = dict(place.readers.select("reader", "zone").rows())
    people = {person: place.zones[site] for person, site in place.people.select("person", "site").rows()}
    file = SourceFile(name, content)
    layout = propose(file, known=KnownCells(readers=list(zones))).layout
    return read(file, layout, zones=zones, site_zones=place.zones, person_zones=people)


@pytest.fixture(scope="module")
def rows(place: Workplace, written: dict[str, bytes]) -> dict[str, Rows]:
    return {name: read_back(place, name, content) for name, content in written.items()}


def assert_same(got: pl.DataFrame, reported: pl.DataFrame) -> None:
    assert got.columns == reported.columns
    assert got.height == reported.height
    different = [name for name in got.columns if not got[name].equals(reported[name])]
    assert not different, f"{different}: {got.head(3)} {reported.head(3)}"


def test_rosters_come_back(place: Workplace, rows: dict[str, Rows]) -> None:
    for site in place.zones:
        suffix = "xlsx" if site == "Greyfen" else "csv"
        assert_same(rows[f"roster_{site.lower()}.{suffix}"].frame, place.people.filter(pl.col("site") == site))


def test_readers_and_consent_come_back(place: Workplace, rows: dict[str, Rows]) -> None:
    assert_same(rows["readers.csv"].frame, place.readers)
    assert_same(rows["consent.csv"].frame, place.consent)


def test_schedules_come_back(place: Workplace, rows: dict[str, Rows]) -> None:
    for site in place.zones:
        here = place.people.filter(pl.col("site") == site)["person"].to_list()
        planned = place.schedules.filter(pl.col("person").is_in(here))
        assert_same(rows[f"schedule_{site.lower()}.csv"].frame, planned)


def test_enrolments_come_back(place: Workplace, rows: dict[str, Rows]) -> None:
    for reader in place.readers["reader"]:
        name = next(name for name in rows if name.startswith(f"enrolled_{reader}."))
        assert_same(rows[name].frame, place.enrolments.filter(pl.col("reader") == reader))


def test_punches_come_back(place: Workplace, rows: dict[str, Rows]) -> None:
    for reader in place.hung:
        parts = [each.frame for name, each in sorted(rows.items()) if name.startswith(f"punches_{reader.name}")]
        # a log that says nothing of the outcome holds accepted punches alone
        got = pl.concat(parts).with_columns(pl.col("outcome").fill_null("accepted")).unique(maintain_order=True)
        reported = place.punches.filter(pl.col("reader") == reader.name)
        assert_same(got.drop("at"), reported.drop("at"))
        off = (got["at"] - reported["at"]).to_list()
        told = [
            note for name, each in rows.items() if name.startswith(f"punches_{reader.name}") for note in each.notices
        ]
        # where a log never steps back, nothing says which pass through the repeated hour a time belongs to: the
        # notice says so, and at most the few punches of that hour are an hour early
        assert set(off) <= {0, -3600}
        assert sum(map(bool, off)) <= 12
        assert not any(off) or any("occurs twice" in note for note in told)


def test_only_the_planted_lines_are_refused(place: Workplace, rows: dict[str, Rows]) -> None:
    broken = planted(place, "broken_line")
    refused = {name: each.rejects.height for name, each in rows.items() if each.rejects.height}
    # a line of totals below the rows is no punch either
    refused.pop("punches_BM-OVEN.csv", None)
    assert refused == {f"punches_{broken['reader'][0]}.csv": broken.height}
    assert rows["punches_BM-OVEN.csv"].rejects.height <= 1
