"""Whether findings of one cause stand as one case, and whether a case holds one cause alone: by what the twin planted.

Each finding of an invented workplace is given the cause that the twin's truth has for it: the enrolment under a wrong
number that its punches came under, the hand never enrolled, the leaver, the dirty plate, the hand that changed, the
reader that went quiet, the site whose people were away, or the one punch that somebody forgot. Purity is the part of
findings that stand with others of the cause that most of their case is of; completeness is the part that stands in the
case where most of their cause stand.
"""

from __future__ import annotations

import argparse
import tempfile
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import numpy as np
import polars as pl

from evenhand import twin
from evenhand.jobs.reckoning import reckon_period
from evenhand.jobs.today import Today, find_today
from evenhand.jobs.workspace import create_workspace
from evenhand.store.taking import FileTaken, taking
from evenhand.terms.records import Finding
from evenhand.terms.settings import PayPeriod
from evenhand.terms.sources import CONSENT, ENROLMENTS, PEOPLE, PUNCHES, READERS, SCHEDULES

FIRST, WEEKS, STAFF = date(2026, 10, 4), 4, 150

Label = tuple[str, ...]


@dataclass(frozen=True)
class Measured:
    """What was found at one workplace: how many findings and cases, and how many stand as they should.

    `planted` are the wrong numbers with any finding, `whole` those whose findings are one case and nothing else.
    """

    findings: int
    cases: int
    judged: int
    pure: int
    complete: int
    planted: int
    whole: int


def measure(seed: int, directory: Path, *, people: int = STAFF, weeks: int = WEEKS) -> Measured:
    """Return how the findings of one invented workplace's last whole week are gathered."""
    place = twin.workplace(seed, first=FIRST, weeks=weeks, people=people)
    today = today_of(place, directory, FIRST + timedelta(weeks=weeks))
    return judge(today, place)


def today_of(place: twin.Workplace, directory: Path, ends: date) -> Today:
    """Return Today of an invented workplace, on the Monday after its last week."""
    as_of = datetime(ends.year, ends.month, ends.day, 13, tzinfo=UTC) + timedelta(days=1)
    workspace = create_workspace(directory, place.name, period=PayPeriod(FIRST))
    try:
        for table in (READERS, PEOPLE, ENROLMENTS, SCHEDULES, CONSENT, PUNCHES):
            frame = getattr(place, table.name)
            source = FileTaken(f"{table.name}.csv", table.name, "", int(as_of.timestamp()))
            with taking(workspace.store, source, table, frame, np.arange(frame.height) + 2):
                pass
        return find_today(reckon_period(workspace, as_of))
    finally:
        workspace.close()


def judge(today: Today, place: twin.Workplace) -> Measured:
    """Return how the cases of Today stand to what is true."""
    labels = labels_of(today, place)
    in_case = {finding.key: case.key for case in today.cases for finding in case.findings}
    pairs = Counter((label, in_case[key]) for key, label in labels.items())
    pure, complete = (
        sum(max(count for pair, count in pairs.items() if pair[side] == one) for one in {pair[side] for pair in pairs})
        for side in (1, 0)
    )
    wrong = {label for label in labels.values() if label[0] == "wrong_number"}
    whole = sum(
        len({case for label, case in pairs if label == one}) == 1
        and len({label for label, case in pairs if case in {c for other, c in pairs if other == one}}) == 1
        for one in wrong
    )
    return Measured(len(today.findings), len(today.cases), len(labels), pure, complete, len(wrong), whole)


def labels_of(today: Today, place: twin.Workplace) -> dict[str, Label]:
    """Return the true cause of each finding that the truth can tell, by the finding's key."""
    true = _True(today, place)
    return {finding.key: label for finding in today.findings if (label := true.cause(finding)) is not None}


class _True:
    """The truth, arranged to be asked."""

    def __init__(self, today: Today, place: twin.Workplace) -> None:
        truth = place.truth
        mistakes = truth.mistakes.to_dicts()
        self.zones: dict[str, str] = dict(today.readers.select("reader", "zone").iter_rows())
        sites = dict(today.readers.select("site", "zone").iter_rows())
        self.person_zone = {row["person"]: sites[row["site"]] for row in today.people.to_dicts()}
        self.number = {row["person"]: row["number"] for row in today.people.to_dicts()}
        self.site = {row["person"]: row["site"] for row in today.people.to_dicts()}
        self.wrong = {
            (row["reader"], row["number"]): row["person"] for row in mistakes if row["kind"] == "wrong_number"
        }
        self.hands = {row["person"] for row in mistakes if row["kind"] in ("hand_drifts", "hand_steps")}
        self.never = {row["person"] for row in mistakes if row["kind"] == "not_enrolled"}
        self.leavers = {row["person"] for row in mistakes if row["kind"] in ("leaver_enrolled", "leaver_punches")}
        self.leavers |= {row["person"] for row in mistakes if row["kind"] == "consent_withdrawn"}
        self.dirty = {row["reader"] for row in mistakes if row["kind"] == "plate_dirty"}
        self.quiet = {row["reader"] for row in mistakes if row["kind"] == "reader_quiet"}
        lost = [row for row in mistakes if row["kind"] == "missed_punch"]
        logged = pl.concat([place.truth.owners, place.punches.select("reader", "number", "outcome")], how="horizontal")
        accepted = logged.filter(pl.col("outcome") != "refused")
        self.events: dict[str, list[tuple[int, str, str, str]]] = {}
        for row in accepted.select("person", "at", "reader", "number").iter_rows():
            self.events.setdefault(row[0], []).append((row[1], "punch", row[2], row[3]))
        for row in lost:
            self.events.setdefault(row["person"], []).append((row["starts"], row["detail"], row["reader"], ""))
        for events in self.events.values():
            events.sort()
        self.spans: dict[str, list[int]] = {}
        for person, starts in truth.spans.select("person", "starts").iter_rows():
            self.spans.setdefault(person, []).append(starts)

    def cause(self, one: Finding) -> Label | None:
        match one.code:
            case "unattributed_punches" | "wrong_number" | "shared_number":
                place = (one.reader or "", one.number or "")
                return ("wrong_number", self.wrong[place]) if place in self.wrong else None
            case "lost_zeros":
                places = [(reader, one.number or "") for reader in one.details["readers"]]
                return next((("wrong_number", self.wrong[place]) for place in places if place in self.wrong), None)
            case "not_enrolled":
                return ("not_enrolled", one.person or "")
            case "leaver_enrolled" | "hand_overdue" | "release_ended":
                return ("leaver", one.person or "") if one.person in self.leavers else None
            case "reader_changed" | "refusal_burst" | "reader_scores_high":
                return ("dirty", one.reader or "") if one.reader in self.dirty else None
            case "hand_changed" | "enrol_again":
                return ("hand", one.person or "") if one.person in self.hands else None
            case "many_refusals":
                if one.person in self.hands:
                    return ("hand", one.person or "")
                return ("dirty", one.reader or "") if one.reader in self.dirty else None
            case "log_missing" | "log_ends_early" | "reader_quiet":
                return ("quiet", one.reader or "") if one.reader in self.quiet else None
            case "no_punches":
                return self._absence(one)
            case "missing_punch":
                return self._missing(one)
        return None

    def _absence(self, one: Finding) -> Label:
        assert one.person is not None
        assert one.day is not None
        until, zone = date.fromisoformat(one.details["until"]), ZoneInfo(self.person_zone[one.person])

        def lies_within(at: int) -> bool:
            return one.day <= datetime.fromtimestamp(at, zone).date() <= until  # type: ignore[operator]

        if not any(lies_within(at) for at in self.spans.get(one.person, ())):
            return ("away", self.site[one.person])
        if one.person in self.never:
            return ("not_enrolled", one.person)
        if any((reader, number) in self.wrong for at, _, reader, number in self.events[one.person] if lies_within(at)):
            return ("wrong_number", one.person)
        if one.person in self.hands and any(
            kind.startswith("refused") for at, kind, _, _ in self.events[one.person] if lies_within(at)
        ):
            return ("hand", one.person)
        return ("missed", one.person)

    def _missing(self, one: Finding) -> Label:
        """The cause of the event beside the punch that stands alone: logged elsewhere, refused, or forgotten."""
        assert one.person is not None
        if (other := self._mixed_in(one)) is not None:
            return ("wrong_number", other)
        beside = list(self._beside(one))
        for kind, reader, number in beside:
            if kind == "punch" and (reader, number) in self.wrong:
                return ("wrong_number", self.wrong[reader, number])
            if kind.startswith("refused") and one.person in self.hands:
                return ("hand", one.person)
            if kind.startswith("refused") and reader in self.dirty:
                return ("dirty", reader)
        return ("missed", one.person)

    def _mixed_in(self, one: Finding) -> str | None:
        """Whose punches came under this person's number within half a day of one that stands alone, if anybody's."""
        own = self.number.get(one.person or "")
        for (reader, number), other in self.wrong.items():
            if number == own:
                theirs = (at for at, _, place, under in self.events[other] if (place, under) == (reader, number))
                if any(abs(at - alone) < 12 * 3600 for at in theirs for alone in one.details["at"]):
                    return other
        return None

    def _beside(self, one: Finding) -> Iterator[tuple[str, str, str]]:
        events = self.events.get(one.person or "", [])
        for at, way in zip(one.details["at"], one.details["missing"], strict=True):
            before = [event for event in events if event[0] < at - 120]
            after = [event for event in events if event[0] > at + 120]
            chosen = before[-1:] if way == "in" else after[:1]
            yield from ((kind, reader, number) for _, kind, reader, number in chosen)


def main(arguments: Sequence[str] | None = None) -> None:
    """Print what was measured over some seeds."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--seeds", type=int, default=4)
    asked = parser.parse_args(arguments)
    print("seed  findings  cases  judged  pure   complete  wrong numbers whole")
    every = []
    for seed in range(1, asked.seeds + 1):
        with tempfile.TemporaryDirectory() as directory:
            one = measure(seed, Path(directory) / "workspace")
        every.append(one)
        print(
            f"{seed:4}  {one.findings:8}  {one.cases:5}  {one.judged:6}  {one.pure / one.judged:.3f}  "
            f"{one.complete / one.judged:.3f}     {one.whole} of {one.planted}",
            flush=True,
        )
    judged = sum(one.judged for one in every)
    print(
        f" all  {sum(one.findings for one in every):8}  {sum(one.cases for one in every):5}  {judged:6}  "
        f"{sum(one.pure for one in every) / judged:.3f}  {sum(one.complete for one in every) / judged:.3f}     "
        f"{sum(one.whole for one in every)} of {sum(one.planted for one in every)}"
    )


if __name__ == "__main__":
    main()
