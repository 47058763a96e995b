"""Two people decide about the same punches, weeks or findings at once: one decision is made, the other is told."""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterator
from contextlib import suppress
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from evenhand.cli import evenhand
from evenhand.jobs.correct import CorrectionRequest, correct, preview_correction
from evenhand.jobs.reckoning import Reckoning, reckon_period
from evenhand.jobs.settling import settle
from evenhand.jobs.stray_decisions import (
    confirm_above,
    confirm_stray,
    reject_candidate,
    take_back_rejection,
    undo_stray,
)
from evenhand.jobs.strays import find_strays
from evenhand.jobs.today import find_today
from evenhand.jobs.workspace import Workspace
from evenhand.store import decisions, frames
from evenhand.terms.records import Refusal
from tests.jobs import test_strays as strays
from tests.jobs.asked import without_pay
from tests.jobs.test_decisions import NOW, punch_at

ANN: dict[str, Any] = {**strays.SAID, "author": "Ann"}
BOB: dict[str, Any] = {**strays.SAID, "author": "Bob"}
IDAS = "GATE/4281"


@pytest.fixture
def mill(tmp_path: Path, address: str | Path) -> Iterator[Workspace]:
    opened = strays.taken(tmp_path, address if isinstance(address, str) else "")
    yield opened
    opened.close()


def seen_by_both(workspace: Workspace) -> Reckoning:
    return reckon_period(workspace, strays.AS_OF)


def written(workspace: Workspace) -> tuple[int, int]:
    with workspace.store.reading() as conn:
        return frames.corrections(conn).height, frames.rejected_attributions(conn).height


def at_once(monkeypatch: pytest.MonkeyPatch, reads: str, *decisions: Callable[[], object]) -> list[str]:
    """What each refused decision said.

    After reading what decides (the table called `reads`), each waits until the other has read it too, if it can.
    """
    looked = threading.Barrier(len(decisions))
    read: Callable[[Any], Any] = getattr(frames, reads)
    refused = []

    def read_and_wait(conn: Any) -> Any:
        found = read(conn)
        with suppress(threading.BrokenBarrierError):
            looked.wait(1)
        return found

    def decide(decision: Callable[[], object]) -> None:
        try:
            decision()
        except Refusal as refusal:
            refused.append(str(refusal))

    people = [threading.Thread(target=decide, args=(decision,)) for decision in decisions]
    with monkeypatch.context() as patched:
        patched.setattr(frames, reads, read_and_wait)
        for person in people:
            person.start()
        for person in people:
            person.join(60)
    return refused


def test_of_two_who_confirm_a_stray_at_once_one_is_told_of_the_other(
    mill: Workspace, monkeypatch: pytest.MonkeyPatch
) -> None:
    seen = seen_by_both(mill)
    find_strays(seen)
    [refused] = at_once(
        monkeypatch,
        "rejected_attributions",
        lambda: confirm_stray(mill, seen, IDAS, "P1", **ANN),
        lambda: confirm_stray(mill, seen, IDAS, "P2", **BOB, same_times=True),
    )
    with mill.store.reading() as conn:
        made = frames.corrections(conn)
    [author], [person] = made["author"].unique(), made["person"].unique()
    assert made.height == 20
    assert (author, person) in {("Ann", "P1"), ("Bob", "P2")}
    assert refused == (
        f"{author} has decided about GATE/4281 meanwhile; nothing was changed, look at it again before you decide."
    )


def test_of_two_who_reject_and_confirm_at_once_one_is_told_of_the_other(
    mill: Workspace, monkeypatch: pytest.MonkeyPatch
) -> None:
    seen = seen_by_both(mill)
    find_strays(seen)
    [refused] = at_once(
        monkeypatch,
        "rejected_attributions",
        lambda: reject_candidate(mill, seen, IDAS, "P1", **ANN),
        lambda: confirm_stray(mill, seen, IDAS, "P1", **BOB),
    )
    assert (written(mill), refused.split()[0]) in [((0, 1), "Ann"), ((20, 0), "Bob")]


def test_whatever_was_decided_since_they_looked_stops_whoever_did_not_see_it(mill: Workspace) -> None:
    before = seen_by_both(mill)
    confirm_stray(mill, before, IDAS, "P1", **ANN)
    for decision, what in (
        (confirm_stray, (IDAS, "P1")),
        (confirm_above, (0.9,)),
        (reject_candidate, (IDAS, "P1")),
        (take_back_rejection, (IDAS, "P2")),
    ):
        with pytest.raises(Refusal, match=r"^Ann has decided about GATE/4281 meanwhile"):
            decision(mill, before, *what, **BOB)  # type: ignore[operator]
    confirmed = seen_by_both(mill)
    undo_stray(mill, confirmed, IDAS, **BOB)
    with pytest.raises(Refusal, match=r"^Bob has decided about GATE/4281 meanwhile"):
        undo_stray(mill, confirmed, IDAS, **ANN)
    assert written(mill) == (40, 0)
    # whoever looks again may decide again
    confirm_stray(mill, seen_by_both(mill), IDAS, "P2", **ANN, same_times=True)
    assert written(mill) == (60, 0)


def test_a_rejection_stops_decisions_about_the_same_person_alone(mill: Workspace) -> None:
    before = seen_by_both(mill)
    reject_candidate(mill, before, IDAS, "P1", **ANN)
    for decision in (confirm_stray, reject_candidate, take_back_rejection):
        with pytest.raises(Refusal, match=r"^Ann has decided about GATE/4281 meanwhile"):
            decision(mill, before, IDAS, "P1", **BOB)
    reject_candidate(mill, before, IDAS, "P2", **BOB)
    confirm_stray(mill, before, IDAS, "P4", **BOB, same_times=True)
    assert written(mill) == (20, 2)


def test_a_correction_of_one_of_the_punches_stops_and_one_of_others_does_not(mill: Workspace) -> None:
    before = seen_by_both(mill)
    others = before.attribution.attributed["punch"][0]
    person = before.attribution.attributed["person"][0]
    correct(mill, before, CorrectionRequest("leave_out", person, "Ann", "twice", punch=others), as_of=strays.AS_OF)
    confirm_stray(mill, before, IDAS, "P1", **BOB)
    given = seen_by_both(mill)
    [decided] = find_strays(given).decided
    one = CorrectionRequest("leave_out", "P1", "Ann", "twice", punch=decided.punches[-1])
    correct(mill, given, one, as_of=strays.AS_OF)
    with pytest.raises(Refusal, match=r"^Ann has decided about GATE/4281 meanwhile"):
        undo_stray(mill, given, IDAS, **BOB)


def test_of_two_who_make_the_same_correction_at_once_one_is_told(
    mill: Workspace, monkeypatch: pytest.MonkeyPatch
) -> None:
    seen = seen_by_both(mill)
    punch, person = (seen.attribution.attributed[name][0] for name in ("punch", "person"))
    asked = CorrectionRequest("leave_out", person, "Ann", "twice", punch=punch)
    seen.person_hours(person)
    [sentence] = at_once(monkeypatch, "corrections", *[lambda: correct(mill, seen, asked, as_of=strays.AS_OF)] * 2)
    assert "says this already; nothing was changed." in sentence
    assert written(mill) == (1, 0)


def added(day: int, hour: int, minute: int = 0, *, author: str, person: str = "P4", way: str = "in") -> Any:
    """A punch that somebody adds for a person of the gate in November, in New York's winter time."""
    at = datetime(2026, 11, day, hour + 5, minute, tzinfo=UTC)
    return CorrectionRequest("add", person, author, "forgot", at=at, direction=way)


def test_of_two_who_correct_one_week_of_a_person_at_once_one_is_told(
    mill: Workspace, monkeypatch: pytest.MonkeyPatch
) -> None:
    seen = seen_by_both(mill)
    by_ann, by_bob = added(3, 6, author="Ann"), added(4, 7, author="Bob")
    seen.person_hours("P4")
    [refused] = at_once(
        monkeypatch,
        "corrections",
        lambda: correct(mill, seen, by_ann, as_of=strays.AS_OF),
        lambda: correct(mill, seen, by_bob, as_of=strays.AS_OF),
    )
    with mill.store.reading() as conn:
        [author] = frames.corrections(conn)["author"]
    day = {"Ann": "3 November", "Bob": "4 November"}[author]
    assert refused == (f"{author} has corrected P4's {day} meanwhile; nothing was changed, look at the day again.")


def test_corrections_of_other_people_do_not_hinder_even_at_once(
    mill: Workspace, monkeypatch: pytest.MonkeyPatch
) -> None:
    seen = seen_by_both(mill)
    seen.person_hours("P4"), seen.person_hours("P5")
    refused = at_once(
        monkeypatch,
        "corrections",
        lambda: correct(mill, seen, added(3, 6, author="Ann"), as_of=strays.AS_OF),
        lambda: correct(mill, seen, added(3, 6, author="Bob", person="P5"), as_of=strays.AS_OF),
    )
    assert (refused, written(mill)) == ([], (2, 0))


def test_a_stray_given_to_somebody_stops_corrections_of_their_week_and_of_whose_it_was(mill: Workspace) -> None:
    before = seen_by_both(mill)
    confirm_stray(mill, before, IDAS, "P1", **ANN)
    forgot = added(3, 6, author="Bob", person="P1")
    with pytest.raises(Refusal, match=r"^Ann has corrected P1's 2 November meanwhile"):
        correct(mill, before, forgot, as_of=strays.AS_OF)
    given = seen_by_both(mill)
    with mill.store.writing() as conn:  # Ida's first punch goes to Rui
        [decided] = find_strays(given).decided
        said: dict[str, Any] = {"author": "Cy", "reason": "seen", "made_at": 0, "at": None, "direction": None}
        decisions.add_corrections(conn, [{"action": "attribute", "person": "P2", "punch": decided.punches[0], **said}])
    for person in ("P1", "P2"):
        with pytest.raises(Refusal, match=rf"^Cy has corrected {person}'s 2 November meanwhile"):
            correct(mill, given, replace(forgot, person=person), as_of=strays.AS_OF)
    assert correct(mill, given, replace(forgot, person="P3"), as_of=strays.AS_OF).number == 22


def test_a_week_that_a_preview_did_not_speak_of_hinders_only_where_it_changes_what_the_preview_said(
    workspace: Workspace,
) -> None:
    # Rui works from Saturday 31 October, 23:00, into Sunday, on which the next workweek begins.
    seen = reckon_period(workspace, NOW)
    last = punch_at(workspace, "P2", "2026-11-01T07:30")
    asked = CorrectionRequest("leave_out", "P2", "Bob", "a slip", punch=last)
    week_before = replace(asked, action="add", author="Ann", punch=None, direction="in")
    for hour in (8, 9):
        at = datetime(2026, 10, 27, hour + 4, tzinfo=UTC)
        way = "in" if hour == 8 else "out"
        correct(workspace, reckon_period(workspace, NOW), replace(week_before, at=at, direction=way), as_of=NOW)
    made = correct(workspace, seen, asked, as_of=NOW)
    fresh = reckon_period(workspace, NOW)
    assert made.after.snapshot.corrections.equals(fresh.snapshot.corrections)
    assert made.after.person_hours("P2").weeks.equals(fresh.person_hours("P2").weeks)

    begins = punch_at(workspace, "P2", "2026-10-31T23:00")
    correct(workspace, fresh, replace(asked, author="Ann", punch=begins), as_of=NOW)
    again = replace(asked, punch=punch_at(workspace, "P2", "2026-11-01T03:30"))
    with pytest.raises(Refusal, match=r"^Ann has corrected P2's 31 October meanwhile"):
        correct(workspace, fresh, again, as_of=NOW)
    assert written(workspace) == (4, 0)


def test_a_correction_is_held_to_what_its_preview_had_seen(workspace: Workspace) -> None:
    last = punch_at(workspace, "P1", "2026-11-02T17:00")
    asked = CorrectionRequest("leave_out", "P1", "Bob", "a slip", punch=last)
    previewed = reckon_period(workspace, NOW).snapshot.last_correction
    others = CorrectionRequest("leave_out", "P3", "Ann", "a slip", punch=punch_at(workspace, "P3", "2026-11-03T16:00"))
    correct(workspace, reckon_period(workspace, NOW), others, as_of=NOW)
    theirs = replace(asked, author="Ann", punch=punch_at(workspace, "P1", "2026-11-05T17:00"))
    correct(workspace, reckon_period(workspace, NOW), theirs, as_of=NOW)
    now = reckon_period(workspace, NOW)
    for seen in (previewed, 1):
        with pytest.raises(Refusal) as refused:
            correct(workspace, now, asked, as_of=NOW, last_seen=seen)
        assert str(refused.value) == (
            "Ann has corrected P1's 5 November meanwhile; nothing was changed, look at the day again."
        )
    # what the correction speaks of was left out meanwhile: the same is told
    directed = replace(theirs, action="direct", author="Bob", direction="in")
    with pytest.raises(Refusal, match=r"^Ann has corrected P1's 5 November meanwhile"):
        correct(workspace, now, directed, as_of=NOW, last_seen=previewed)
    assert written(workspace) == (2, 0)
    # whoever has seen all of it may go on, and so may whoever does not say
    assert correct(workspace, now, asked, as_of=NOW, last_seen=2).number == 3
    assert correct(workspace, reckon_period(workspace, NOW), directed, as_of=NOW).number == 4


def test_what_is_made_after_others_corrections_is_what_follows_from_all_of_them(workspace: Workspace) -> None:
    asked = CorrectionRequest("leave_out", "P1", "Bob", "a slip", punch=punch_at(workspace, "P1", "2026-11-02T17:00"))
    untouched = reckon_period(workspace, NOW)
    in_october = CorrectionRequest("add", "P1", "Ann", "forgot", at=datetime(2026, 10, 20, 12, tzinfo=UTC))
    correct(workspace, reckon_period(workspace, NOW), replace(in_october, direction="in"), as_of=NOW)
    foreseen = preview_correction(reckon_period(workspace, NOW), asked, as_of=NOW)
    made = correct(workspace, reckon_period(workspace, NOW), asked, as_of=NOW, last_seen=0)
    assert made.foreseen == without_pay(foreseen)
    fresh = reckon_period(workspace, NOW)
    first = fresh.following(fresh.snapshot.up_to(0), NOW)
    assert first.snapshot.last_correction == 0
    for of in ("P1", "P3"):
        assert first.person_hours(of).weeks.equals(untouched.person_hours(of).weeks)
    assert not first.person_hours("P1").weeks.equals(fresh.person_hours("P1").weeks)
    assert made.after.hours.weeks.sort("person", "workweek").equals(fresh.hours.weeks.sort("person", "workweek"))


def test_a_correction_that_stands_already_has_no_preview(workspace: Workspace) -> None:
    asked = CorrectionRequest("leave_out", "P1", "Bob", "a slip", punch=punch_at(workspace, "P1", "2026-11-02T17:00"))
    correct(workspace, reckon_period(workspace, NOW), asked, as_of=NOW)
    with pytest.raises(Refusal) as refused:
        preview_correction(reckon_period(workspace, NOW), asked, as_of=NOW)
    assert str(refused.value) == "correction 1 says this already; nothing was changed."


def test_a_command_that_waits_for_its_answer_is_told_of_what_was_corrected_meanwhile(
    workspace: Workspace, monkeypatch: pytest.MonkeyPatch
) -> None:
    def answered_late(*_: object, **__: object) -> bool:
        at = datetime(2026, 11, 4, 12, tzinfo=UTC)
        colleagues = CorrectionRequest("add", "P3", "Zoe", "forgot", at=at, direction="in")
        correct(workspace, reckon_period(workspace, NOW), colleagues, as_of=NOW)
        return True

    monkeypatch.setattr("evenhand.cli.asked.ask", answered_late)
    words = ("correct", "add", "P3", "--at", "2026-11-04T16:00", "--direction", "out", "--reason", "forgot")
    answer = CliRunner().invoke(evenhand, ["-w", str(workspace.directory), *words, "--author", "Ada"])
    assert isinstance(answer.exception, Refusal)
    assert str(answer.exception) == (
        "Zoe has corrected P3's 4 November meanwhile; nothing was changed, look at the day again."
    )
    assert written(workspace) == (1, 0)


def test_of_two_who_settle_one_finding_at_once_one_is_told(mill: Workspace, monkeypatch: pytest.MonkeyPatch) -> None:
    seen = seen_by_both(mill)
    first, other = find_today(seen).findings[:2]
    said: dict[str, Any] = {"reason": "known", "as_of": strays.AS_OF}
    refused = at_once(
        monkeypatch,
        "settled",
        lambda: settle(mill, seen, [first.key], author="Ann", **said),
        lambda: settle(mill, seen, [first.key], author="Bob", **said),
        lambda: settle(mill, seen, [other.key], author="Cy", **said),
    )
    with mill.store.reading() as conn:
        assert sorted(frames.settled(conn)["finding"]) == sorted([first.key, other.key])
    with pytest.raises(Refusal) as later:
        settle(mill, seen_by_both(mill), [first.key], author="Bob", **said)
    assert refused == [str(later.value)]
