"""A store that an earlier version wrote opens with everything it held."""

from pathlib import Path

import polars as pl
import pytest
import sqlalchemy as sa
from alembic import command

from evenhand.store import Store, frames, open_store
from evenhand.store.migrations.upgrade import config

SETTLED = (
    (1, "unproved/North", "Ida", "known", 5),
    (2, "stray_rejected/GATE\t4281\tP1", "Ada", "was away", 6),
    (3, "stray_rejected/DOCK\t0041\tP/2", "Ben", "left in May", 7),
    (4, "stray_taken_back/GATE\t4281\tP1", "Ada", "was here", 8),
    (5, "strays_rejected/none", "Cy", "no such finding", 9),
    (6, "unowned_punches/GATE/0041", "Ada", "a test of the reader", 10),
    (7, "unowned_punchesX/GATE/0041", "Ada", "no such finding either", 11),
)


@pytest.fixture
def address_of_before(address: str | Path) -> str | Path:
    """Return the address of a store at version 0003, with settled findings of which some are rejections."""
    engine = sa.create_engine(f"sqlite:///{address}" if isinstance(address, Path) else address)
    with engine.begin() as conn:
        settings = config()
        settings.attributes["connection"] = conn
        command.upgrade(settings, "0003")
        for row in SETTLED:
            named = dict(zip(("settlement", "finding", "author", "reason", "made_at"), row, strict=True))
            conn.execute(
                sa.text("INSERT INTO settled VALUES (:settlement, :finding, :author, :reason, :made_at)"), named
            )
        conn.execute(sa.text("INSERT INTO takes VALUES (1, 'readers.csv', 'a', 'readers', '', 1, 1, 0, 0, 0, 5)"))
        conn.execute(sa.text("INSERT INTO takes VALUES (2, 'log.csv', 'b', 'punches', '', 3, 3, 0, 0, 0, 5)"))
        conn.execute(sa.text("INSERT INTO readers VALUES ('GATE', 'Mill', NULL, 'UTC', NULL, NULL, 1)"))
        for line, score in ((2, 12.3), (3, None), (4, 0.1 + 0.2)):
            row = {"line": line, "at": 1000 - line, "score": score}
            conn.execute(
                sa.text("INSERT INTO punches VALUES ('GATE', :at, '0041', 'in', '', 0, :score, :line, 2)"), row
            )
    engine.dispose()
    return address


@pytest.fixture
def opened(address_of_before: str | Path) -> Store:
    return open_store(address_of_before)


def test_rejections_move_out_of_the_settled_findings_and_nothing_else_does(opened: Store) -> None:
    with opened.reading() as conn:
        kept = frames.settled(conn)["finding"].to_list()
        assert [key for key in kept if "punches" not in key] == ["unproved/North", "strays_rejected/none"]
        assert frames.rejected_attributions(conn).rows() == [
            (1, "GATE", "4281", "P1", False, "Ada", "was away", 6),
            (2, "DOCK", "0041", "P/2", False, "Ben", "left in May", 7),
            (3, "GATE", "4281", "P1", True, "Ada", "was here", 8),
        ]
    opened.close()


def test_what_was_settled_of_a_check_stays_settled_under_its_name_of_now(opened: Store) -> None:
    with opened.reading() as conn:
        rows = (
            frames.settled(conn).filter(pl.col("finding").str.contains("punches")).select("finding", "author", "reason")
        )
    assert rows.rows() == [
        ("unattributed_punches/GATE/0041", "Ada", "a test of the reader"),
        ("unowned_punchesX/GATE/0041", "Ada", "no such finding either"),
    ]
    opened.close()


@pytest.mark.parametrize("table", ["settled", "rejected_attributions"])
@pytest.mark.parametrize("change", ["DELETE FROM {table}", "UPDATE {table} SET reason = 'other'"])
def test_what_was_decided_is_never_changed_afterwards_either(opened: Store, table: str, change: str) -> None:
    with pytest.raises(sa.exc.DBAPIError, match="never changed"), opened.writing() as conn:
        conn.execute(sa.text(change.format(table=table)))
    opened.close()


def test_punches_of_before_are_read_to_the_last_bit_of_their_scores(opened: Store) -> None:
    with opened.reading() as conn:
        assert frames.recorded(conn).select("punch", "number", "at", "direction", "outcome", "score").rows() == [
            ((2 << 32) + 4, "0041", 996, "in", "accepted", 0.1 + 0.2),
            ((2 << 32) + 3, "0041", 997, "in", "accepted", None),
            ((2 << 32) + 2, "0041", 998, "in", "accepted", 12.3),
        ]
        held = conn.scalar(sa.text("SELECT sum(height) FROM punch_parts"))
    assert held == 3
    opened.close()


def test_people_who_have_an_identifier_since_are_told_by_it(address: str | Path) -> None:
    engine = sa.create_engine(f"sqlite:///{address}" if isinstance(address, Path) else address)
    with engine.begin() as conn:
        settings = config()
        settings.attributes["connection"] = conn
        command.upgrade(settings, "0011")
        take = (
            'INSERT INTO takes (take, file, sha256, "table", layout, rows_read, taken, known, enriched, refused, gone, '
            "taken_at) VALUES (1, 'people.csv', 'a', 'people', '', 1, 1, 0, 0, 0, 0, 5)"
        )
        conn.execute(sa.text(take))
        # 0042 is gone for another reason: nobody of that name has the number.
        for person, name, number, gone in (
            ("0041", "Quill, Ada", None, 1),
            ("0042", "Ben Rook", None, 1),
            ("P1", "Ada Quill", "0041", None),
            ("P2", "Eve Lund", "0042", None),
        ):
            row = {"person": person, "name": name, "number": number, "gone": gone}
            conn.execute(
                sa.text(
                    "INSERT INTO people (person, name, number, is_supervisor, take, gone) "
                    "VALUES (:person, :name, :number, 0, 1, :gone)"
                ),
                row,
            )
        rate = "INSERT INTO consent (person, given_on, take) VALUES ('{}', '2026-01-01', 1)"
        for person in ("0041", "0042"):
            conn.execute(sa.text(rate.format(person)))
    engine.dispose()
    opened = open_store(address)
    with opened.reading() as conn:
        assert frames.consent(conn)["person"].to_list() == ["0042", "P1"]
    opened.close()
