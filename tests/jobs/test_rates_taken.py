"""Rates and earnings come in like any other file, and what cannot be paid is refused by its row."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from pathlib import Path

from evenhand.jobs.take import Receipt, take_files
from evenhand.jobs.workspace import Workspace
from evenhand.store import frames


def take(workspace: Workspace, directory: Path, **files: str) -> list[Receipt]:
    paths = []
    for name, text in files.items():
        paths.append(directory / f"{name}.csv")
        paths[-1].write_text(text)
    receipts = take_files(workspace, paths)
    assert all(isinstance(receipt, Receipt) for receipt in receipts), receipts
    return [receipt for receipt in receipts if isinstance(receipt, Receipt)]


def test_rates_and_earnings_are_known_by_their_headers(workspace: Workspace, tmp_path: Path) -> None:
    rates, earned = take(
        workspace,
        tmp_path,
        one="Employee ID,Effective date,Pay rate\nP1,2026-11-01,19.50\nP2,2026-11-01,21.00\n",
        two="Employee ID,Earned from,Earned to,Kind,Amount,Description\n"
        "P1,2026-11-01,2026-11-07,Attendance bonus,15.00,full week\nP2,2026-11-02,2026-11-02,expenses,12.40,boots\n",
    )
    assert (rates.table, rates.taken, rates.rejected) == ("rates", 2, 0)
    assert (earned.table, earned.taken, earned.rejected) == ("earnings", 2, 0)
    with workspace.store.reading() as conn:
        stored = frames.rates(conn).row(0, named=True)
        bonus = frames.earnings(conn).row(0, named=True)
    assert (stored["person"], stored["valid_from"], stored["amount"]) == ("P1", date(2026, 11, 1), Decimal("19.5"))
    assert (stored["reader"], stored["plan"]) == ("", None)
    assert (bonus["kind"], bonus["amount"], bonus["label"]) == ("flat_bonus", Decimal(15), "full week")


def test_a_negative_rate_is_refused_by_its_row_and_the_rest_is_taken(workspace: Workspace, tmp_path: Path) -> None:
    (receipt,) = take(workspace, tmp_path, r="person,valid from,pay rate\nP1,2026-11-01,-4.00\nP2,2026-11-01,20\n")
    assert (receipt.table, receipt.taken, receipt.rejected) == ("rates", 1, 1)
    assert receipt.rejected_path is not None
    assert "an amount below 0 cannot be paid; correct it" in receipt.rejected_path.read_text()


def test_the_same_rates_again_add_nothing_and_a_changed_one_keeps_what_it_said(
    workspace: Workspace, tmp_path: Path
) -> None:
    text = "person,valid from,pay rate,plan\nP1,2026-11-01,19.50,hourly\n"
    take(workspace, tmp_path, first=text)
    (again,) = take(workspace, tmp_path, second=text + "\n")
    assert (again.taken, again.known) == (0, 1)
    (changed,) = take(workspace, tmp_path, third=text.replace("19.50", "19.75"))
    assert changed.taken == 1
    with workspace.store.reading() as conn:
        assert frames.rates(conn)["amount"].to_list() == [Decimal("19.75")]
        assert '"19.5' in frames.changes(conn)["was"][0]
