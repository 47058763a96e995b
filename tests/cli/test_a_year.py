"""A year lived through at the command line: joined, agreed, enrolled, drifted, left, removed, proved, erased.

The workplace is invented. At each stage the ledger is proved, and in the end nobody can be found who was erased.
"""

from __future__ import annotations

import gzip
import json
import shlex
import zipfile
from collections.abc import Iterator, Sequence
from datetime import date, datetime, timedelta
from pathlib import Path

import numpy as np
import pytest
from click.testing import CliRunner

from evenhand.cli import evenhand
from evenhand.terms.records import Refusal

PEOPLE = (
    ("P01", "Ada Ash", "1041", True),
    ("P02", "Bo Birch", "2052", True),
    ("P03", "Cleo Cole", "3063", False),
    ("P04", "Dara Dunn", "4074", False),
    ("K-0505", "Emil Elm", "508517", False),
    ("P06", "Fay Frost", "6096", False),
)
READERS = ("GATE", "DOCK")
LEAVES = date(2025, 7, 18)
NEEDLES = ("Emil Elm", "508517", "K-0505")


class Workplace:
    """The workspace, and the files that its readers and its office write."""

    def __init__(self, folder: Path) -> None:
        self.folder, self.mill, self._rng = folder, folder / "mill", np.random.default_rng(4)
        self.do("new", str(self.mill), "--workplace", "Mill works", at=None, within=False)
        settings = self.mill / "evenhand.toml"
        lines = settings.read_text().replace("[workplace]\n", "[workplace]\ninvented = true\n")  # in a time of its own
        settings.write_text(lines + '\n[retention]\nplace = "US-IL"\n')

    def do(self, *words: str, at: str | None, code: int = 0, within: bool = True) -> str:
        """Run a command, given as words or as they are typed, as of a day's noon, and return what it prints."""
        words = tuple(shlex.split(words[0])) if len(words) == 1 else words
        when = ["--as-of", f"{at}T12:00-06:00"] if at else []
        # in this process, since starting the program forty times takes longer than what it does
        found = CliRunner().invoke(evenhand, [*(["-w", str(self.mill)] if within else []), *words, *when])
        assert found.exit_code == code, (words, found.output, found.exception)
        return found.output

    def refused(self, *words: str) -> str:
        """Run a command that is refused, and return why."""
        found = CliRunner().invoke(evenhand, ["-w", str(self.mill), *words])
        assert isinstance(found.exception, Refusal), found.output
        return str(found.exception)

    def take(self, name: str, rows: Sequence[Sequence[object]]) -> None:
        """Write a file and take it in."""
        (self.folder / name).write_text("".join(",".join(map(str, row)) + "\n" for row in rows))
        self.do("take", "--yes", str(self.folder / name), at=None)

    def roster(self, name: str, left: date | None = None) -> None:
        """Take the roster, with the last day of the one who leaves."""
        header = ("person", "name", "number", "site", "is_supervisor", "hired_on", "left_on", "hourly_rate")
        rows = [
            (person, called, number, "Mill", "yes" if leads else "no", "2025-01-05", left or "", "20.00")
            if person == "K-0505"
            else (person, called, number, "Mill", "yes" if leads else "no", "2025-01-05", "", "20.00")
            for person, called, number, leads in PEOPLE
        ]
        self.take(name, [header, *rows])

    def lists(self, name: str, without: str = "") -> None:
        """Take what both readers say they hold."""
        header = ("reader", "number", "name", "is_supervisor", "enrolled_on")
        rows = [
            (reader, number, called, "yes" if leads else "no", "2025-01-08")
            for reader in READERS
            for person, called, number, leads in PEOPLE
            if person != without
        ]
        self.take(name, [header, *rows])

    def log(self, name: str, first: date, days: int, drift: float = 0.0) -> None:
        """Take the logs of some days: in at eight, out at four, and P04's hand drifting from the first of May on."""
        rows: list[tuple[str, str, datetime, str, str, float]] = []
        for day in (first + timedelta(days=n) for n in range(days)):
            for person, _, number, _ in PEOPLE:
                for hour, way in ((8, "in"), (16, "out")):
                    if day.weekday() > 4 or (person == "K-0505" and day > LEAVES):
                        continue
                    at = datetime(day.year, day.month, day.day, hour) + timedelta(seconds=int(self._rng.integers(300)))
                    level = drift * max((day - date(2025, 5, 1)).days, 0) if person == "P04" else 0.0
                    score = 20 * float(np.exp(self._rng.normal(level, 0.35)))
                    if score > 75:
                        rows.append(("", number, at, way, "refused", score))
                        at, score = at + timedelta(seconds=6), 60.0
                    rows.append(("", number, at, way, "accepted", score))
        told = [(READERS[n % 2], *row[1:5], f"{row[5]:.1f}") for n, row in enumerate(rows)]
        header = ("reader", "number", "at", "direction", "outcome", "score")
        self.take(name, [header, *sorted(told, key=lambda row: (row[0], row[2]))])

    def proved(self) -> None:
        """The ledger proves that nothing was altered."""
        assert "Nothing was altered" in self.do("ledger", "verify", at=None)

    def texts(self) -> Iterator[tuple[Path, bytes]]:
        """Everything that stands in any file of the workspace, also within what is packed."""
        for path in self.mill.rglob("*"):
            if path.is_file():
                content = path.read_bytes()
                yield path, content
                if path.suffix == ".gz":
                    yield path, gzip.decompress(content)
                if zipfile.is_zipfile(path):
                    with zipfile.ZipFile(path) as packed:
                        yield from ((path, packed.read(name)) for name in packed.namelist())

    def found(self) -> list[tuple[Path, str]]:
        """Where the one who left can still be found."""
        needles = [(needle, coded) for needle in NEEDLES for coded in (needle.encode(), needle.encode("utf-16-le"))]
        return [(path, needle) for path, text in self.texts() for needle, coded in needles if coded in text]


def test_a_year_from_the_first_day_to_erasure(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    mill = Workplace(tmp_path)
    mill.take("readers.csv", [("reader", "site", "zone"), *((name, "Mill", "America/Chicago") for name in READERS)])
    mill.roster("roster.csv")

    # nobody gives a hand before the policy is there and they have agreed
    plan = ("enrol", "plan", "2025-01-08", "--author", "Ira", "--search-seconds", "1")
    assert "has no release in force" in mill.refused(*plan, "--as-of", "2025-01-06T12:00-06:00")
    example = mill.do("consent policy example", at=None, within=False)
    (tmp_path / "hands.toml").write_text(example.replace("forms = []", 'forms = ["H-1"]'))
    mill.do(f"consent policy add {tmp_path / 'hands.toml'} --from 2025-01-06 --author Ira --yes", at="2025-01-06")
    signed = [(person, "2025-01-06", "H-1") for person, *_ in PEOPLE if person != "K-0505"]
    mill.take("consent.csv", [("person", "given_on", "form"), *signed])
    mill.do("consent say agree K-0505 --on 2025-01-06 --author Ira --yes", at="2025-01-06")
    # the readers hold nobody yet: two supervisors at each come first
    assert mill.do(*plan, at="2025-01-06").count("enrol supervisor") == 4
    mill.lists("listed.csv")
    mill.proved()

    # a hand drifts, is seen, and is planned to be enrolled again
    mill.log("winter.csv", date(2025, 1, 9), 112)
    mill.log("spring.csv", date(2025, 5, 1), 61, drift=0.02)
    assert "The hand changed" in mill.do("hands", at="2025-07-01")
    again = mill.do("enrol plan 2025-07-02 --enrol-again P04 --author Ira --search-seconds 1", at="2025-07-01")
    assert again.count("enrol again") == 2

    # hours are handed off; whoever alters the file afterwards is found out
    mill.do("handoff --period 2025-06-24 --author Ira --despite-findings", at="2025-06-30")
    (told,) = (mill.mill / "handoff").glob("*.csv")
    mill.do("ledger", "verify", "--file", str(told), at=None)
    altered = tmp_path / told.name
    altered.write_text(told.read_text().replace("508517", "508518").replace("40", "41"))
    mill.do("ledger", "verify", "--file", str(altered), at=None, code=2)
    assert "--head is empty" in mill.refused("ledger", "verify", "--head", "")

    # K-0505 leaves: a round takes the hand off, and only the readers' own lists prove it
    mill.roster("roster_july.csv", LEAVES)
    mill.log("july.csv", date(2025, 7, 1), 18)
    assert "K-0505" in mill.do("leavers", "round", "--author", "Ira", at="2025-07-21")
    assert mill.do("leavers", "show", "K-0505", at="2025-07-22").count("still shows it") == 2
    mill.lists("listed_july.csv", without="K-0505")
    assert mill.do("leavers", "show", "K-0505", at="2025-07-25").count("proved by take") == 2

    # time records stay as long as somebody may ask for them; a hold keeps them longer
    erasing = ("erase", "K-0505", "--yes", "--author", "Ira", "--reason", "their time is over")
    kept = mill.do(*erasing, at="2025-07-25")
    assert "stays: hours" in kept
    assert mill.found()
    mill.do("hold place K-0505 --author Ira --reason suit", at="2026-01-05")
    assert "under a legal hold" in mill.do("erase", "K-0505", "--preview", at="2032-01-05")
    mill.do("hold lift K-0505 --author Ira --reason closed", at="2032-01-05")
    mill.proved()

    # what was theirs is told to them whole, then nothing of them is left, and the rest is as it was
    mill.do("access", "K-0505", "--out", str(tmp_path / "p05.json"), at="2032-01-06")
    assert json.loads((tmp_path / "p05.json").read_text())
    # not before that day has come by the machine's own clock, whatever the command is asked to look as of
    assert "later than now" in mill.refused(*erasing, "--as-of", "2032-01-07T12:00-06:00")
    assert mill.found()
    monkeypatch.setattr("evenhand.cli.asked.clock_now", lambda: datetime.fromisoformat("2032-01-07T12:00-06:00"))
    assert "done" in mill.do(*erasing, at="2032-01-07")
    assert mill.found() == []
    mill.proved()
    assert "every row is as it was" in mill.do("rebuild", "--try", at=None)
    people = mill.do("people", at=None)
    assert ("Emil" in people, "Fay Frost" in people) == (False, True)
