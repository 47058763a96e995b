"""Whoever clocks another way is enrolled nowhere, and comes off every reader without leaving one unguarded."""

from __future__ import annotations

from datetime import date

from evenhand import reconcile
from evenhand.terms.sources import ENROLMENTS, PEOPLE, READERS
from evenhand.terms.tables import RECORDED, SEEN

TODAY = date(2026, 3, 9)
READER = READERS.rows([{"reader": "North", "site": "Mill", "zone": "America/Chicago"}])
SAID = {"P1": "chose another way to clock on Mon 2 Mar 2026"}


def compared(people, enrolments, said=SAID):
    people = PEOPLE.rows({"site": "Mill", "name": row["person"], **row} for row in people)
    listed = ENROLMENTS.rows({"reader": "North", **row} for row in enrolments)
    unattributed = RECORDED.empty()
    found = reconcile.compare(people, READER, listed, SEEN.empty(), unattributed, as_of=TODAY)
    found = reconcile.with_releases(found, people, listed, said, as_of=TODAY)
    steps = reconcile.reader_steps(people, READER, listed, found, as_of=TODAY, another_way=said.keys())
    return set(found["kind"]), steps.select("action", "number").rows()


def test_nobody_of_them_is_missing_at_a_reader() -> None:
    ada = {"person": "P9", "number": "9090", "is_supervisor": True}
    people = [{"person": "P1", "number": "4821"}, {"person": "P2", "number": "1357"}, ada]
    listed = [{"number": "9090", "is_supervisor": True}]
    kinds, steps = compared(people, listed)
    assert [number for _, number in compared(people, listed, said={})[1]] == ["1357", "4821"]
    assert kinds == {"not_enrolled", "few_supervisors", "unproved"}
    assert [number for _, number in steps] == ["1357"]


def test_their_number_comes_off_also_where_it_is_the_wrong_one() -> None:
    ana = {"person": "P1", "name": "Ana Ruiz", "number": "4821", "phone": "555 0100 7714"}
    for number in ("4821", "7714"):
        ada = {"person": "P9", "number": "9090", "is_supervisor": True}
        listed = [{"number": "9090", "is_supervisor": True}, {"number": number, "name": "ANA RUIZ"}]
        kinds, steps = compared([ana, ada], listed)
        assert "release_ended" in kinds
        assert not kinds & {"wrong_number", "not_enrolled"}
        assert steps == [("remove", number)]


def test_the_last_supervisor_stays_until_another_stands() -> None:
    ana = {"person": "P1", "number": "4821", "is_supervisor": True}
    ben = {"person": "P2", "number": "1357", "is_supervisor": True}
    listed = [{"number": "4821", "is_supervisor": True}]
    kinds, steps = compared([ana], listed)
    assert "release_ended" in kinds
    assert steps == []
    assert compared([ana, ben], listed)[1] == [("enrol_supervisor", "1357"), ("remove", "4821")]


def test_a_supervisor_who_chose_another_way_is_not_called_to_stand() -> None:
    ana = {"person": "P1", "number": "4821", "is_supervisor": True}
    assert compared([ana], [])[1] == []
    assert compared([ana], [], said={})[1] == [("enrol_supervisor", "4821")]
