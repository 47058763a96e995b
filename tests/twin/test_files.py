import itertools
import json
import re

import polars as pl

from evenhand.twin import Workplace, files, workplace

from .planted import planted


def log_of(written: dict[str, bytes], reader: str) -> bytes:
    return next(content for name, content in written.items() if name.startswith(f"punches_{reader}."))


def test_the_same_seed_writes_the_same_bytes(written: dict[str, bytes]) -> None:
    assert files(workplace(7)) == written


def test_another_seed_writes_other_bytes(written: dict[str, bytes]) -> None:
    other = files(workplace(8))
    assert other.keys() == written.keys()
    assert all(other[name] != written[name] for name in written if name != "readers.csv")


def test_every_site_reader_and_office_has_its_files(place: Workplace, written: dict[str, bytes]) -> None:
    for reader in place.readers["reader"]:
        assert any(name.startswith(f"punches_{reader}") for name in written)
        assert any(name.startswith(f"enrolled_{reader}") for name in written)
    for site in place.zones:
        assert any(name.startswith(f"roster_{site.lower()}") for name in written)
        assert f"schedule_{site.lower()}.csv" in written
    assert {"readers.csv", "consent.csv"} <= set(written)


def test_punch_logs_come_in_at_least_four_forms(place: Workplace, written: dict[str, bytes]) -> None:
    assert len({reader.form for reader in place.hung}) >= 4
    first = {reader.name: log_of(written, reader.name)[:300] for reader in place.hung if reader.name != "GF-GATE"}
    assert first["BM-OVEN"].decode().splitlines()[1].startswith("Reader,")
    assert first["BM-PACK"].decode().count(";") > 10
    assert first["BM-YARD"].decode().splitlines()[0].split() == [
        "READER",
        "NUMBER",
        "DATE",
        "TIME",
        "WAY",
        "RESULT",
        "SCORE",
    ]
    assert json.loads(first["TB-GATE"].splitlines()[0])["reader"] == "TB-GATE"
    assert first["TB-DOCK"][:2] == b"\xff\xfe"


def test_one_log_stands_between_a_title_and_a_total(place: Workplace, written: dict[str, bytes]) -> None:
    lines = log_of(written, "BM-OVEN").decode().splitlines()
    count = place.punches.filter(pl.col("reader") == "BM-OVEN").height
    assert lines[0].startswith("Punches of")
    assert lines[-1] == f"Total {count} punches"
    assert len(lines) == count + 3


def test_one_log_has_as_many_unreadable_lines_as_the_truth_counts(place: Workplace, written: dict[str, bytes]) -> None:
    reader = planted(place, "broken_line")["reader"].unique().item()
    good = re.compile(rf"{reader},\d+,[0-3]\d/[01]\d/\d{{4}} [0-2]\d:[0-5]\d:[0-5]\d,(entrada|salida),\w+,\d+\.\d")
    lines = log_of(written, reader).decode().splitlines()[1:]
    broken = [line for line in lines if not good.fullmatch(line) or ",31/02" in line]
    assert len(broken) == planted(place, "broken_line").height == 6
    assert len(lines) - len(broken) == place.punches.filter(pl.col("reader") == reader).height


def test_two_exports_of_one_reader_share_about_a_week(place: Workplace, written: dict[str, bytes]) -> None:
    first, second = (written[f"punches_GF-GATE_{part}.txt"].decode().splitlines()[1:] for part in (1, 2))
    shared = set(first) & set(second)
    assert len(set(first) | set(second)) == place.punches.filter(pl.col("reader") == "GF-GATE").height
    assert 0.1 < len(shared) / len(set(first) | set(second)) < 0.25


def test_the_repeated_hour_is_written_twice_in_log_order(written: dict[str, bytes]) -> None:
    times = [line.split(",")[2] for line in log_of(written, "BM-OVEN").decode().splitlines()[2:-1]]
    back = [(a, b) for a, b in itertools.pairwise(times) if b < a]
    assert len(back) == 1
    assert back[0][0].startswith("2026-11-01 01:")
    assert back[0][1].startswith("2026-11-01 01:")


def test_one_roster_keeps_accents_in_windows_1252(place: Workplace, written: dict[str, bytes]) -> None:
    text = written["roster_brindlemoor.csv"].decode("cp1252")
    names = place.people.filter(pl.col("site") == "Brindlemoor")["name"].to_list()
    assert any(not name.isascii() for name in names)
    assert all(name in text for name in names)


def test_no_file_holds_a_measure_of_a_hand(written: dict[str, bytes]) -> None:
    words = re.compile(rb"finger|palm|length|breadth|width|\bmm\b|template|feature", re.IGNORECASE)
    for name, content in written.items():
        if not name.endswith(".xlsx"):
            text = content.decode("utf-16").encode() if content[:2] == b"\xff\xfe" else content
            assert not words.search(text), name
