"""What is read comes whole, exact, and from one instant of the store."""

import threading

import polars as pl
import pytest
import sqlalchemy as sa
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from evenhand.store import Store, decisions, frames, open_store, parts
from evenhand.store.database import write
from evenhand.store.revision import revision
from evenhand.store.tables import KEYED, STORED
from evenhand.store.whole_columns import read_columns
from evenhand.terms.columns import Column, Table
from evenhand.terms.tables import RECORDED
from tests.store.rows import MORNING, list_readers, punch, take

PERSON = {"person": "P1", "name": "Ana Ruiz", "number": "0041"}


def recorded(store: Store, **bounds: int) -> pl.DataFrame:
    with store.reading() as conn:
        return RECORDED.check(frames.recorded(conn, **bounds))


def test_what_is_committed_between_two_reads_is_not_seen_by_the_second(store: Store) -> None:
    list_readers(store)
    with store.reading() as conn:
        before = revision(conn)
        # Another connection writes to every kind of table, and the log is long enough to grow past what is in memory.
        take(store, "people", [PERSON])
        take(store, "punches", [punch(minute) for minute in range(30_000)])
        with store.writing() as other:
            decisions.add_settled(other, finding="f", author="Ada", reason="r", made_at=1)
        if store.is_embedded:
            with sa.create_engine(store.engine.url).connect() as other:
                other.exec_driver_sql("PRAGMA wal_checkpoint(PASSIVE)")
        assert frames.people(conn).is_empty()
        assert frames.recorded(conn).is_empty()
        assert frames.settled(conn).is_empty()
        assert revision(conn) == before
    with store.reading() as conn:
        assert frames.people(conn).height == 1
        assert frames.recorded(conn).height == 30_000
        assert revision(conn).changed_since(before) == {"people", "punches", "settled", "takes"}


def test_reading_does_not_wait_for_a_writer(store: Store) -> None:
    list_readers(store)
    take(store, "punches", [punch(0)])
    seen: list[int] = []
    with store.writing() as conn:
        decisions.add_settled(conn, finding="f", author="Ada", reason="r", made_at=1)
        reader = threading.Thread(target=lambda: seen.append(recorded(store).height))
        reader.start()
        reader.join(timeout=10)
        assert seen == [1]


def test_texts_dates_amounts_and_answers_come_back_as_they_were_given(store: Store) -> None:
    odd = 'Zoë "Ann" O’Neil\t\\n, [Mill] 木 👋'
    take(
        store,
        "people",
        [
            {"person": "P1", "name": odd, "number": "0041", "hired_on": "2024-02-29", "hourly_rate": "21.0050"},
            {"person": "P2", "name": "null", "department": "", "is_supervisor": False},
            {"person": "P3", "name": " ", "department": "[]", "is_supervisor": True, "left_on": "2025-12-31"},
        ],
    )
    with store.reading() as conn:
        people = KEYED["people"].check(frames.people(conn))
    assert people["name"].to_list() == [odd, "null", " "]
    assert people["number"].to_list() == ["0041", None, None]
    assert people["department"].to_list() == [None, "", "[]"]
    assert people["is_supervisor"].to_list() == [None, False, True]
    assert people["hired_on"].cast(pl.String).to_list() == ["2024-02-29", None, None]
    assert people["left_on"].cast(pl.String).to_list() == [None, None, "2025-12-31"]
    assert people["hourly_rate"].cast(pl.String).to_list() == ["21.0050", None, None]


def test_a_table_without_rows_is_a_frame_with_its_declared_columns(store: Store) -> None:
    with store.reading() as conn:
        for table in KEYED.values():
            assert table.check(frames.keyed(conn, table)).is_empty()
        assert RECORDED.check(frames.recorded(conn)).is_empty()


SCORES = Table("scores", "Scores", (Column("score", "score", "A score"),))


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=30, deadline=None)
@given(st.lists(st.floats(allow_nan=False, allow_infinity=False, allow_subnormal=False) | st.none(), max_size=20))
def test_scores_are_read_to_the_last_bit(store: Store, scores: list[float | None]) -> None:
    real = STORED["punches"].c.score.type
    rows = sa.union_all(
        *(sa.select(sa.cast(sa.literal(score, real), real).label("score")) for score in [None, *scores])
    )
    with store.reading() as conn:
        read = read_columns(conn, SCORES, sa.select(rows.subquery()))
    assert sorted(read["score"].drop_nulls()) == sorted(score for score in scores if score is not None)
    assert read.height == len(scores) + 1


# ---- punches as columns beside their rows


def log(first: int, last: int) -> list[dict[str, object]]:
    """Return a punch a minute, in turn at both readers, with every third score and direction left out."""
    return [
        punch(minute, str(1000 + minute % 7), reader=("GATE", "DOCK")[minute % 2])
        | {"score": None if minute % 3 == 0 else minute / 7, "direction": None if minute % 3 == 1 else "out"}
        for minute in range(first, last)
    ]


def from_rows(store: Store) -> pl.DataFrame:
    """Return all punches as their rows say, which is what the columns beside them stand for."""
    query = (
        "SELECT take * 4294967296 + line, reader, number, at, nullif(direction, ''),"
        " coalesce(nullif(outcome, ''), 'accepted'), score FROM punches"
    )
    with store.reading() as conn:
        rows = [tuple(row) for row in conn.exec_driver_sql(query)]
    return pl.DataFrame(rows, schema=RECORDED.schema, orient="row").sort("reader", "at", "punch")


def test_the_columns_hold_what_the_rows_hold_whatever_is_known_already(store: Store) -> None:
    list_readers(store)
    take(store, "punches", log(0, 20_000))
    assert recorded(store).equals(from_rows(store))
    take(store, "punches", log(19_000, 22_000))
    take(store, "punches", log(21_000, 22_000))
    assert recorded(store).equals(from_rows(store))
    assert recorded(store).height == 22_000


def test_files_that_bring_older_punches_later_are_still_read_in_order_of_time(store: Store) -> None:
    list_readers(store)
    take(store, "punches", log(100, 200))
    take(store, "punches", log(0, 100))
    # one instant in three files: the order of taking and of lines decides
    take(store, "punches", [punch(0, "7"), punch(0, "3"), punch(250)])
    take(store, "punches", [punch(0, "5"), punch(120, "5"), punch(300)])
    read = recorded(store)
    assert read.equals(from_rows(store))
    first = read.filter(pl.col("at") == MORNING)
    assert first["number"].to_list() == ["1000", "7", "3", "5"]


def test_a_span_of_time_is_read_to_the_second(store: Store) -> None:
    list_readers(store)
    take(store, "punches", log(0, 20_000))
    since, until = MORNING + 9_000 * 60, MORNING + 9_100 * 60
    found = recorded(store, since=since, until=until)
    assert found["at"].sort().to_list() == list(range(since, until, 60))


@pytest.mark.parametrize("lost", ["DELETE FROM punch_parts", "DELETE FROM punch_parts WHERE part % 2 = 0"])
def test_columns_that_are_missing_are_read_from_the_rows_and_made_anew_at_the_next_opening(
    store: Store, lost: str
) -> None:
    list_readers(store)
    take(store, "punches", log(0, 20_000))
    take(store, "punches", log(19_990, 20_010))
    whole = recorded(store)
    with store.writing() as conn:
        conn.execute(sa.text(lost))
    assert recorded(store).equals(whole)
    again = open_store(store.engine.url.render_as_string(hide_password=False) if not store.is_embedded else store.where)
    with again.reading() as conn:
        held = conn.scalar(sa.select(sa.func.sum(STORED["punch_parts"].c.height)))
    assert held == whole.height
    assert recorded(again).equals(whole)
    assert again.mended == (2, 3)
    again.close()


def test_nothing_of_a_take_that_was_undone_is_left_in_the_columns(store: Store) -> None:
    list_readers(store)
    with pytest.raises(RuntimeError), store.engine.connect() as conn, write(conn):
        parts.add_parts(conn, RECORDED.rows([{"punch": (1 << 32) + 2, **punch(0)}]))
        raise RuntimeError
    assert recorded(store).is_empty()
