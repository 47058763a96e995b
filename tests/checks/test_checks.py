"""Every check: silent where nothing is wrong, a finding where something is, and the borderline between."""

from __future__ import annotations

import tomllib
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from evenhand.checks import enrolments, files, find_all, hands, hours, pay, readers, whole
from evenhand.checks.find import finders, urgency
from evenhand.checks.standing import DISAGREEMENTS
from evenhand.terms.records import Finding, Stake
from evenhand.terms.rooms import rooms_of
from evenhand.terms.tables import DISCREPANCIES
from tests.checks.check_cases import facts_of

HERE = Path(__file__).parent
DOCS = (HERE.parents[1] / "docs" / "checks.md").read_text(encoding="utf-8")
CHECKS = finders()


def cases():
    return list(_cases())


def _cases():
    for path in sorted(HERE.glob("*.toml")):
        for case in tomllib.loads(path.read_text(encoding="utf-8"))["case"]:
            yield pytest.param(path.stem, case, id=f"{path.stem}-{case['name'].replace(' ', '_')}")


@pytest.mark.parametrize(("code", "case"), cases())
def test_a_check_finds_what_its_case_says(code, case):
    check, find = CHECKS[code]
    assert check.code == code
    found = list(find(facts_of(case)))
    expected = case.get("expect", [])
    assert [one.key for one in found] == [f"{code}/{one['key']}" for one in expected]
    for finding, told in zip(found, expected, strict=True):
        assert finding.code == code
        assert finding.blocks_pay == told.get("blocks_pay", False)
        assert finding.stake.minutes == told.get("minutes", 0)
        assert finding.stake.people == told.get("people", 1)
        for words in told.get("says", []):
            assert words in "\n".join((finding.says, *finding.evidence, finding.next_step))


@pytest.mark.parametrize("code", CHECKS)
def test_every_check_has_a_silent_case_a_finding_and_a_borderline(code):
    written = tomllib.loads((HERE / f"{code}.toml").read_text(encoding="utf-8"))["case"]
    assert {case["kind"] for case in written} == {"silent", "finding", "borderline"}
    assert all("expect" not in case for case in written if case["kind"] == "silent")
    assert all(case["expect"] for case in written if case["kind"] == "finding")


@pytest.mark.parametrize("code", CHECKS)
def test_every_check_is_documented_and_tells_why_and_what_next(code):
    check, _ = CHECKS[code]
    assert f"`{code}`" in DOCS
    assert check.title in DOCS
    assert check.why
    assert check.next_step


def test_every_check_in_a_module_of_its_own_is_named_after_it():
    for package in (enrolments, files, hands, hours, pay, readers, whole):
        for room in rooms_of(package, ("CHECK", "find")):
            assert room.__name__.endswith(f".{room.CHECK.code}")
            assert room.__doc__


def test_every_kind_of_discrepancy_has_its_check():
    assert set(DISCREPANCIES.column("kind").allowed) <= set(CHECKS)
    assert {one.code for one in DISAGREEMENTS} <= set(DISCREPANCIES.column("kind").allowed)


def test_nothing_is_wrong_with_an_empty_workplace():
    assert find_all(facts_of({"readers": []})) == []


def test_what_somebody_settled_is_not_found_again():
    case = {"people": [{"person": "P1", "name": "Ana Ruiz"}], "readers": []}
    assert [one.key for one in find_all(facts_of(case))] == ["no_number/P1"]
    assert find_all(facts_of(case | {"settled": ["no_number/P1"]})) == []


def test_a_near_deadline_outranks_minutes_minutes_outrank_people_and_the_key_decides_last():
    now = datetime(2026, 3, 9, 15, tzinfo=UTC)

    def finding(subject, **stake):
        return Finding("x", subject, "says", (), Stake(**stake), "do")

    ranked = [
        finding("tomorrow", deadline=now + timedelta(days=1)),
        finding("in three days", deadline=now + timedelta(days=3), minutes=900),
        finding("far off", deadline=now + timedelta(days=10), minutes=480),
        finding("pay", minutes=60),
        finding("many", people=40),
        finding("a"),
        finding("b"),
    ]
    shuffled = [*ranked[3:], *ranked[:3]]
    assert sorted(shuffled, key=lambda one: urgency(one, now)) == ranked


def test_a_module_without_its_agreed_names_is_refused_by_file():
    with pytest.raises(ImportError, match=r"attribution_overtaken\.py has no MISSING"):
        rooms_of(hours, ("MISSING",))


def test_a_finding_keeps_its_key_when_its_wording_changes():
    finding = Finding("x", "s", "says", (), Stake(), "do")
    assert replace(finding, says="else").key == finding.key == "x/s"
