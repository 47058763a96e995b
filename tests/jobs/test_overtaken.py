"""Two people decide about the same punches at once: one decision is made, the other is told of it."""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterator
from contextlib import suppress
from pathlib import Path
from typing import Any

import pytest

from evenhand.jobs.correct import CorrectionRequest, correct
from evenhand.jobs.reckoning import Reckoning, reckon_period
from evenhand.jobs.stray_decisions import (
    confirm_above,
    confirm_stray,
    reject_candidate,
    take_back_rejection,
    undo_stray,
)
from evenhand.jobs.strays import find_strays
from evenhand.jobs.workspace import Workspace
from evenhand.store import frames
from evenhand.terms.records import Refusal
from tests.jobs import test_strays as strays

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
        lambda: confirm_stray(mill, seen, IDAS, "P2", **BOB),
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
    confirm_stray(mill, seen_by_both(mill), IDAS, "P2", **ANN)
    assert written(mill) == (60, 0)


def test_a_rejection_stops_decisions_about_the_same_person_alone(mill: Workspace) -> None:
    before = seen_by_both(mill)
    reject_candidate(mill, before, IDAS, "P1", **ANN)
    for decision in (confirm_stray, reject_candidate, take_back_rejection):
        with pytest.raises(Refusal, match=r"^Ann has decided about GATE/4281 meanwhile"):
            decision(mill, before, IDAS, "P1", **BOB)
    reject_candidate(mill, before, IDAS, "P2", **BOB)
    confirm_stray(mill, before, IDAS, "P4", **BOB)
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
