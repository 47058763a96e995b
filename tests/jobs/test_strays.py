"""A hand enrolled under swapped digits: found, confirmed, paid, and given back, on a mill's own files."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from evenhand.cli import evenhand
from evenhand.jobs.numbers import allocate_numbers, design_numbers, plan_migration
from evenhand.jobs.stray_decisions import (
    LEAST_THRESHOLD,
    confirm_above,
    confirm_stray,
    reject_candidate,
    take_back_rejection,
    undo_stray,
)
from evenhand.jobs.stray_proposals import rough_word, said_roughly, why_rough
from evenhand.jobs.strays import proposal_of
from evenhand.jobs.take import Receipt, take_files
from evenhand.jobs.workspace import Workspace, create_workspace
from evenhand.store import frames
from evenhand.terms.records import Refusal
from tests.jobs.asked import confusable_now, decide, find_strays, person_hours, preview_confirmation
from tests.jobs.workplaces import copied

READERS = """reader,site,place,zone,max_digits,capacity
GATE,Mill,Main gate,America/New_York,4,100
"""
OTHERS = [(f"P{at}", f"Person Number{at}", str(5003 + 211 * at)) for at in range(4, 16)]
PEOPLE = "person,name,number,site,is_supervisor,hired_on,left_on\n" + "".join(
    f"{person},{name},{number},Mill,no,2020-01-01,{left}\n"
    for person, name, number, left in (
        ("P1", "Ida Marlow", "4821", ""),
        ("P2", "Rui Okoro", "7315", ""),
        ("P3", "Lena Fisk", "2290", "2026-11-03"),
        *((*other, "") for other in OTHERS),
    )
)
# Ida's hand stands at the gate under 4281, two digits of 4821 swapped.
ENROLMENTS = "reader,number,name\n" + "".join(
    f"GATE,{number},\n" for number in ("4281", "7315", "2290", *(number for _, _, number in OTHERS))
)
DAYS = range(2, 7)
SCHEDULES = "person,starts_at,ends_at\n" + "".join(
    f"{person},2026-11-{day:02d} 08:00,2026-11-{day:02d} 17:00\n"
    for person in ("P1", "P2", "P3", *(other[0] for other in OTHERS))
    for day in DAYS
)
AS_OF = datetime(2026, 11, 9, 13, tzinfo=UTC)
SAID = {"author": "Kim", "reason": "saw the hand laid", "as_of": AS_OF}


def day_of(number: str, day: int) -> list[str]:
    acts = (("07:56", "in"), ("12:00", "out"), ("12:30", "in"), ("17:01", "out"))
    return [f"GATE,{number},2026-11-{day:02d} {at}:00,{way}" for at, way in acts]


def taken(folder: Path, store: str = "") -> Workspace:
    return _take(folder, store) if store else copied(folder, "strays", _take)


def _take(folder: Path, store: str = "", *, schedules: bool = True) -> Workspace:
    # Lena left on Tuesday the third and punches once more on Wednesday.
    punches = [
        line for number in ("4281", "7315", *(o[2] for o in OTHERS)) for day in DAYS for line in day_of(number, day)
    ]
    punches += [line for day in (2, 3, 4) for line in day_of("2290", day)]
    files = {
        "readers": READERS,
        "people": PEOPLE,
        "enrolments": ENROLMENTS,
        **({"schedules": SCHEDULES} if schedules else {}),
        "punches": "reader,number,at,direction\n"
        + "".join(f"{line}\n" for line in sorted(punches, key=lambda row: row.split(",")[2])),
    }
    folder.mkdir(exist_ok=True)
    workspace = create_workspace(folder / "mill", "Mill", store=store, is_invented=True)
    for name, text in files.items():
        (folder / f"{name}.csv").write_text(text)
    for receipt in take_files(workspace, [folder / f"{name}.csv" for name in files]):
        assert isinstance(receipt, Receipt), receipt
        assert receipt.rejected == 0
    return workspace


@pytest.fixture
def mill(tmp_path: Path) -> Workspace:
    return taken(tmp_path)


def paid_s(workspace: Workspace, person: str) -> int:
    day = AS_OF.date() - timedelta(days=8)
    return int(person_hours(workspace, person, day, day).weeks["ordinary_s"].sum())


def test_probabilities_are_rough_where_few_strays_are_plain_or_not_everybody_was_looked_at(mill: Workspace) -> None:
    sure = proposal_of(find_strays(mill, AS_OF), "GATE/4281")
    assert sure.best is not None
    assert sure.best.probability >= 0.99
    open_ = replace(sure, nobody=0.4, candidates=(replace(sure.best, probability=0.6),))
    nobodys = replace(sure, nobody=0.995, candidates=())
    assert why_rough([]) == why_rough([sure, nobodys]) == why_rough([sure, open_]) == ""
    assert why_rough([sure, open_, open_]).startswith("Most of these strays fit several people or nobody")
    assert "too many" in why_rough([sure, replace(sure, others=0.02)])
    assert why_rough([sure], scheduled=0.6) == why_rough([], scheduled=0.0) == ""
    assert why_rough([sure], scheduled=0.4).startswith("Most people have no schedule")


def test_every_stray_says_that_it_is_rough_where_the_list_does(tmp_path: Path) -> None:
    assert [one.is_rough for one in find_strays(taken(tmp_path), AS_OF).proposals] == [False, False]
    bare = _take(tmp_path / "bare", schedules=False)
    found = find_strays(bare, AS_OF)
    assert found.why_rough.startswith("Most people have no schedule")
    assert {one.is_rough for one in found.proposals} == {True}


def test_a_word_stands_for_a_rough_probability_but_not_for_a_plain_one() -> None:
    assert [rough_word(chance) for chance in (0.02, 0.05, 0.9, 0.99, 0.9989, 0.999)] == [
        "hardly",
        "may be",
        "may be",
        "may be",
        "may be",
        "",
    ]


def test_where_probabilities_are_rough_nobody_on_the_roster_is_never_as_good_as_certain(tmp_path: Path) -> None:
    # Lena's number after her last day: as good as nobody's by schedules, and without them no more than it may be
    assert proposal_of(find_strays(taken(tmp_path), AS_OF), "GATE/2290").nobody > 0.999
    bare = _take(tmp_path / "bare", schedules=False)
    found = proposal_of(find_strays(bare, AS_OF), "GATE/2290")
    assert found.nobody == 0.95
    assert found.best is None
    asked = ["-w", str(bare.directory), "strays", "--as-of", AS_OF.isoformat()]
    told = CliRunner().invoke(evenhand, [*asked, "show", "GATE/2290"]).output
    assert "may be  nobody on the roster" in told
    assert "ask before you confirm or leave punches to nobody" in " ".join(told.split())
    assert "99" not in told.partition("Why")[0].replace("below 99.9 %", "")
    given = json.loads(CliRunner().invoke(evenhand, [*asked, "show", "GATE/2290", "--json"]).output)
    assert (given["nobody"], given["is_rough"]) == (0.95, True)
    with pytest.raises(Refusal, match=r"a threshold of 0\.99 confirms what is not sure; give one from 0\.999 to 1"):
        decide(confirm_above, bare, 0.99, **SAID)
    assert [one.stray for one in decide(confirm_above, bare, 0.999, **SAID)] == ["GATE/4281"]


def test_where_probabilities_are_rough_a_person_is_plain_from_999_in_a_thousand_on(mill: Workspace) -> None:
    one = proposal_of(find_strays(mill, AS_OF), "GATE/4281")
    assert one.best is not None
    at = [replace(one, candidates=(replace(one.best, probability=chance),)) for chance in (0.989, 0.99, 0.998, 0.999)]
    assert [each.is_plain for each in at] == [False, True, True, True]
    assert [said_roughly(each).is_plain for each in at] == [False, False, False, True]


def test_somebody_not_looked_at_is_never_as_good_as_certain_either(mill: Workspace) -> None:
    one = replace(proposal_of(find_strays(mill, AS_OF), "GATE/2290"), nobody=0.001, others=0.998)
    roughly = said_roughly(one)
    assert (roughly.others, roughly.nobody, roughly.is_rough) == (0.95, 0.001, True)


def test_the_right_person_is_proposed_with_evidence_that_adds_up(mill: Workspace) -> None:
    proposal = proposal_of(find_strays(mill, AS_OF), "GATE/4281")
    assert proposal.best is not None
    assert proposal.best.name == "Ida Marlow"
    assert proposal.best.probability > 0.95
    assert sum(part.bits for part in proposal.best.parts) == pytest.approx(proposal.best.bits)
    assert "4821 with two digits swapped" in " ".join(part.says for part in proposal.best.parts)
    assert len(proposal.punches) == 20


def test_a_leavers_punches_are_nobodys_and_the_note_says_whose_number_it_was(mill: Workspace) -> None:
    proposal = proposal_of(find_strays(mill, AS_OF), "GATE/2290")
    assert proposal.best is None
    assert "Lena Fisk" in proposal.note
    with pytest.raises(Refusal, match="none of the punches"):
        preview_confirmation(mill, "GATE/2290", "P3", as_of=AS_OF)


def test_what_came_between_two_holders_of_a_number_is_asked_about_however_long_ago(mill: Workspace) -> None:
    """Eleven weeks later nobody would ask any more, and neither holder's hours have it."""
    later = datetime(2027, 1, 25, 13, tzinfo=UTC)
    said = {**SAID, "as_of": later}
    assert "GATE/2290" not in [one.stray for one in find_strays(mill, later).proposals]
    newer = mill.directory.parent / "newer.csv"
    newer.write_text(PEOPLE + "P99,Eve Gray,2290,Mill,no,2027-01-04,\n")
    take_files(mill, [newer])
    found = find_strays(mill, later)
    assert [(one.stray, len(one.punches)) for one in found.proposals] == [("GATE/2290", 4)]
    assert decide(confirm_stray, mill, "GATE/2290", "P1", **said).punches
    assert [one.stray for one in find_strays(mill, later).decided] == ["GATE/2290"]
    assert len(decide(undo_stray, mill, "GATE/2290", **said)) == 4


def test_a_preview_writes_nothing_and_tells_the_hours_to_come(mill: Workspace) -> None:
    confirmation = preview_confirmation(mill, "GATE/4281", "Ida Marlow", as_of=AS_OF)
    # five days from 07:56 to 17:01 less half an hour: 8 h 35 min each
    assert [(one.person, one.before_s, one.after_s) for one in confirmation.changes] == [
        ("P1", 0, 5 * (8 * 60 + 35) * 60)
    ]
    assert confirmation.steps[0] == "At GATE, enrol Ida Marlow under 4821, with three presentations."
    assert confirmation.steps[-1] == "At GATE, remove the enrolment under 4281."
    assert paid_s(mill, "P1") == 0


def test_confirming_pays_the_person_and_leaves_the_punches_as_they_are(mill: Workspace) -> None:
    with mill.store.reading() as conn:
        before = frames.recorded(conn)
    decide(confirm_stray, mill, "GATE/4281", "P1", **SAID)
    # 42 h 55 min, of which 40 are ordinary
    assert paid_s(mill, "P1") == 40 * 3600
    with mill.store.reading() as conn:
        assert frames.recorded(conn).equals(before)
        assert frames.corrections(conn)["action"].unique().to_list() == ["attribute"]
    found = find_strays(mill, AS_OF)
    assert "GATE/4281" not in [one.stray for one in found.proposals]
    assert [(one.stray, one.person, len(one.punches)) for one in found.decided] == [("GATE/4281", "P1", 20)]


def test_undoing_returns_every_punch_to_nobody(mill: Workspace) -> None:
    decide(confirm_stray, mill, "GATE/4281", "P1", **SAID)
    assert len(decide(undo_stray, mill, "GATE/4281", **SAID)) == 20
    assert paid_s(mill, "P1") == 0
    assert proposal_of(find_strays(mill, AS_OF), "GATE/4281").best is not None
    with pytest.raises(Refusal, match="nothing is confirmed"):
        decide(undo_stray, mill, "GATE/4281", **SAID)


def test_somebody_rejected_is_not_proposed_until_that_is_taken_back(mill: Workspace) -> None:
    decide(reject_candidate, mill, "GATE/4281", "P1", **SAID)
    after = proposal_of(find_strays(mill, AS_OF), "GATE/4281")
    assert "P1" not in [one.person for one in after.candidates]
    # Payroll's note lists what is settled; who somebody's punches are not is no answer to a finding.
    with mill.store.reading() as conn:
        assert frames.settled(conn).is_empty()
        assert frames.rejected_attributions(conn).select("reader", "number", "person").rows() == [
            ("GATE", "4281", "P1")
        ]
    decide(take_back_rejection, mill, "GATE/4281", "P1", **SAID)
    again = proposal_of(find_strays(mill, AS_OF), "GATE/4281")
    assert again.best is not None
    assert again.best.person == "P1"


def test_bulk_confirmation_stops_at_the_threshold(mill: Workspace) -> None:
    best = proposal_of(find_strays(mill, AS_OF), "GATE/4281").best
    assert best is not None
    assert decide(confirm_above, mill, min(best.probability + 1e-9, 1.0), **SAID) == ()
    with pytest.raises(Refusal) as refused:
        decide(confirm_above, mill, 0.5, **SAID)
    assert str(refused.value) == "a threshold of 0.5 confirms what is not sure; give one from 0.8 to 1."
    assert best.probability >= LEAST_THRESHOLD
    done = decide(confirm_above, mill, best.probability, **SAID)
    assert [(one.stray, one.person) for one in done] == [("GATE/4281", "P1")]
    with mill.store.reading() as conn:
        assert frames.corrections(conn)["punch"].to_list() == list(done[0].punches)


def test_what_is_written_of_a_decision_is_what_was_said(mill: Workspace) -> None:
    said: dict[str, Any] = {"author": " Kim ", "reason": " saw the hand ", "as_of": AS_OF + timedelta(seconds=5)}
    at = int(AS_OF.timestamp()) + 5
    decide(reject_candidate, mill, "GATE/4281", "Rui Okoro", **said)
    decide(take_back_rejection, mill, "GATE/4281", "Rui Okoro", **said)
    done = decide(confirm_stray, mill, "GATE/4281", "Ida Marlow", **said)
    undone = decide(undo_stray, mill, "GATE/4281", **said)
    with mill.store.reading() as conn:
        rejected, corrections = frames.rejected_attributions(conn), frames.corrections(conn)
    assert rejected.drop("rejection").rows() == [
        ("GATE", "4281", "P2", is_withdrawn, "Kim", "saw the hand", at) for is_withdrawn in (False, True)
    ]
    columns = ("action", "punch", "person", "at", "direction", "author", "reason", "made_at")
    assert corrections.select(columns).rows() == [
        ("attribute", punch, person, None, None, "Kim", "saw the hand", at)
        for punches, person in ((done.punches, "P1"), (undone, ""))
        for punch in punches
    ]
    with pytest.raises(Refusal) as refused:
        decide(undo_stray, mill, "GATE/4281", **said)
    assert str(refused.value) == 'nothing is confirmed under "GATE/4281"; `evenhand strays` lists what is.'


def test_a_decision_without_an_author_or_a_reason_is_refused(mill: Workspace) -> None:
    for author, reason in ((" ", "x"), ("Kim", " ")):
        with pytest.raises(Refusal) as refused:
            decide(confirm_stray, mill, "GATE/4281", "P1", author=author, reason=reason, as_of=AS_OF)
        assert str(refused.value) == "a decision is made by somebody and for a reason; give both."


def test_numbers_are_compared_handed_out_and_parted(mill: Workspace) -> None:
    designed = design_numbers(mill, AS_OF)
    assert (designed.people, designed.max_digits) == (14, 4)
    assert designed.options[0].scheme.step == 19
    given = allocate_numbers(mill, 3, AS_OF, seed=1)
    # 4281 is on no roster, but enrolled: it is not handed out either
    assert not {one.number for one in given} & {"4281", "4821", "2290"}
    pairs = confusable_now(mill, AS_OF)
    moved = plan_migration(mill, AS_OF, seed=1)
    assert (pairs.height == 0) == (len(moved.changes) == 0)
    assert moved.after.overall == 0


def test_the_command_line_lists_shows_confirms_and_undoes(mill: Workspace) -> None:
    def run(*words: str) -> str:
        answer = CliRunner().invoke(
            evenhand, ["--workspace", str(mill.directory), "strays", "--as-of", AS_OF.isoformat(), *words]
        )
        assert answer.exit_code == 0, answer.output
        return answer.output

    listed = json.loads(run("list", "--json"))
    assert [one["stray"] for one in listed["proposals"]] == ["GATE/4281", "GATE/2290"]
    assert "Why Ida Marlow" in run("show", "GATE/4281")
    said = ("--reason", "saw the hand", "--author", "Kim")
    assert "before 0:00, after 42:55" in run("confirm", "GATE/4281", *said, "--yes")
    assert "20 punches of GATE/4281 returned by Kim" in run("undo", "GATE/4281", *said)
    assert "confirmed by Kim" in run("confirm", "--least-probability", "0.9", *said, "--yes")
