"""Of an erased person nothing that they signed or disputed is left; what they approved of others stays without them."""

from __future__ import annotations

from datetime import timedelta

from evenhand.jobs.dispute_answers import answer_dispute
from evenhand.jobs.disputes import open_dispute
from evenhand.jobs.reckoning import reckon_period
from evenhand.jobs.signing import confirm
from evenhand.jobs.statement_codes import find_code, issue_code
from evenhand.store import decisions, frames
from tests.jobs.test_erasure import THEN, WEEK, Mill, found_in, ledger_faults, lived
from tests.jobs.test_erasure import mill as mill  # noqa: PLC0414  a fixture


def test_what_an_erased_person_signed_disputed_and_was_answered_is_gone(mill: Mill) -> None:
    later = THEN + timedelta(days=30)
    for person in ("P1001", "P1002"):
        reckoning = reckon_period(mill.workspace, later, WEEK)
        code = issue_code(mill.workspace, reckoning, person, WEEK, as_of=later)
        assert code
        reckoning = reckon_period(mill.workspace, later, WEEK)
        confirm(mill.workspace, reckoning, find_code(mill.workspace, code, as_of=later), way="reader", as_of=later)
        said = f"ask P1002, {person} was there"
        reckoning = reckon_period(mill.workspace, later, WEEK)
        one = open_dispute(
            mill.workspace, reckoning, person, kind="pay", says=said, way="paper", author="Ada", as_of=later
        )
        reckoning = reckon_period(mill.workspace, later, WEEK)
        reason = "Ben Rook says it himself"
        answer_dispute(
            mill.workspace, reckoning, one.dispute, "rejected", reason=reason, author="Ben Rook", as_of=later
        )
    with mill.workspace.store.writing() as conn:
        row = frames.signoffs(conn).filter(person="P1001").row(0, named=True)
        approval = {**row, "action": "approve", "supervisor": "P1002", "author": "Ben Rook"}
        days = {name: row[name].isoformat() for name in ("first_day", "last_day")}
        decisions.add_row(conn, "signoffs", {name: approval[name] for name in row if name != "signoff"} | days)
    lived(mill)
    mill.erase()
    assert found_in(mill.workspace) == set()
    assert ledger_faults(mill.workspace) == []
    with mill.workspace.store.reading() as conn:
        signed = frames.signoffs(conn)
        assert set(signed["person"]) == set(frames.disputes(conn)["person"]) == {"P1001"}
        assert signed.filter(action="approve")["supervisor"].to_list() == [None]
        assert frames.dispute_answers(conn)["dispute"].to_list() == frames.disputes(conn)["dispute"].to_list()
        assert "P1002" not in frames.disputes(conn)["says"][0]
        assert set(frames.statement_codes(conn)["person"]) == {"P1001"}
