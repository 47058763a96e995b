"""Each punch is stored once, whatever files bring it."""

import uuid
from collections import Counter
from pathlib import Path

import polars as pl
import pytest
import sqlalchemy as sa
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from evenhand.store import Store, frames, open_store
from evenhand.terms.tables import RECORDED
from tests.store.rows import MORNING, list_readers, punch, take


def recorded(store: Store, since: int | None = None, until: int | None = None) -> pl.DataFrame:
    with store.reading() as conn:
        return RECORDED.check(frames.recorded(conn, since, until))


def test_a_punch_comes_back_as_it_was_recorded(store: Store) -> None:
    list_readers(store)
    row = punch(0, number="0041", direction="out", outcome="refused", score=87.5)
    kept = take(store, "punches", [row])
    (stored,) = recorded(store).iter_rows(named=True)
    # Taking 2 (the readers were the first), line 2 of its file.
    assert stored == {"punch": (2 << 32) + 2, **row}
    assert (kept.taken, kept.known) == (1, 0)


def test_what_a_log_does_not_say_stays_unsaid_but_that_hands_were_accepted(store: Store) -> None:
    list_readers(store)
    take(store, "punches", [punch(0, direction=None)])
    (stored,) = recorded(store).iter_rows(named=True)
    # A log that does not say whether hands were accepted holds accepted punches only.
    assert (stored["direction"], stored["outcome"], stored["score"]) == (None, "accepted", None)


def test_the_same_punches_a_second_time_add_nothing(store: Store) -> None:
    list_readers(store)
    rows = [punch(0), punch(1, direction=None), punch(1, "2077")]
    take(store, "punches", rows)
    before = recorded(store)
    again = take(store, "punches", rows)
    assert (again.taken, again.known) == (0, 3)
    assert recorded(store).equals(before)


def test_a_hand_laid_down_twice_within_a_minute_is_two_punches(store: Store) -> None:
    list_readers(store)
    assert take(store, "punches", [punch(0), punch(0), punch(1)]).taken == 3


def test_two_overlapping_exports_in_one_file_add_nothing_twice(store: Store) -> None:
    list_readers(store)
    # Monday to Wednesday, then Tuesday to Thursday, written one after the other; time steps back once.
    day = 24 * 60
    first = [punch(0), punch(day), punch(day), punch(2 * day)]
    second = [punch(day), punch(day), punch(2 * day), punch(3 * day)]
    kept = take(store, "punches", [*first, *second])
    assert (kept.taken, kept.known) == (5, 3)


def test_a_later_export_that_overlaps_adds_only_what_is_new(store: Store) -> None:
    list_readers(store)
    take(store, "punches", [punch(0), punch(5), punch(5), punch(9)])
    kept = take(store, "punches", [punch(5), punch(5), punch(9), punch(12)])
    assert (kept.taken, kept.known) == (1, 3)


def test_readers_that_alternate_in_one_file_do_not_end_each_others_runs(store: Store) -> None:
    list_readers(store)
    # DOCK's clock runs ten minutes behind GATE's; neither log steps back.
    rows = [punch(10), punch(0, reader="DOCK"), punch(10), punch(0, reader="DOCK")]
    assert take(store, "punches", rows).taken == 4


def test_punches_are_found_by_a_half_open_span_of_time(store: Store) -> None:
    list_readers(store)
    take(store, "punches", [punch(0), punch(1), punch(2), punch(1, reader="DOCK")])
    found = recorded(store, MORNING + 60, MORNING + 120)
    assert found.select("reader", "at").rows() == [("DOCK", MORNING + 60), ("GATE", MORNING + 60)]
    assert recorded(store, since=MORNING + 120).height == 1
    assert recorded(store, until=MORNING).height == 0


@pytest.mark.parametrize("statement", ["UPDATE {} SET {}", "DELETE FROM {}"])
@pytest.mark.parametrize("table", ["punches", "corrections", "settled", "handoffs", "changes"])
def test_the_store_itself_refuses_to_change_what_is_never_changed(store: Store, statement: str, table: str) -> None:
    list_readers(store)
    take(store, "readers", [{"reader": "GATE", "site": "Mill", "zone": "America/Denver"}])  # makes a change
    take(store, "punches", [punch(0)])
    values = {
        "corrections": "(action, person, author, reason, made_at) VALUES ('add', 'P1', 'Ada', 'forgot', 1)",
        "settled": "(finding, author, reason, made_at) VALUES ('missing_punch/P1', 'Ada', 'was ill', 1)",
        "handoffs": "(first_day, last_day, file, digest, totals, despite, author, made_at) "
        "VALUES ('2026-01-04', '2026-01-10', 'week.csv', 'd', '{}', '[]', 'Ada', 1)",
    }
    if table in values:
        with store.writing() as conn:
            conn.execute(sa.text(f"INSERT INTO {table} {values[table]}"))
    columns = {"punches": "at = at + 60", "changes": "was = ''", "handoffs": "digest = ''"}
    with pytest.raises(sa.exc.DBAPIError, match="never changed"), store.writing() as conn:
        conn.execute(sa.text(statement.format(table, columns.get(table, "reason = ''"))))


def test_replacing_a_punch_is_refused_like_changing_it(tmp_path) -> None:
    from evenhand.store import open_store

    store = open_store(tmp_path / "evenhand.sqlite")
    list_readers(store)
    take(store, "punches", [punch(0)])
    with pytest.raises(sa.exc.DBAPIError, match="never changed"), store.writing() as conn:
        conn.execute(sa.text("INSERT OR REPLACE INTO punches SELECT * FROM punches"))
    store.close()


LOG = st.lists(
    st.tuples(st.sampled_from(["GATE", "DOCK"]), st.integers(0, 3), st.sampled_from(["7", "07"])), max_size=25
)


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(LOG)
def test_a_number_has_as_many_punches_in_a_minute_as_the_run_that_tells_most(
    tmp_path: Path, log: list[tuple[str, int, str]]
) -> None:
    rows = [punch(minute, number, reader=reader) for reader, minute, number in log]
    # The slow way: walk each reader's log and count what is alike in each run.
    expected: Counter[tuple[str, int, str]] = Counter()
    for name in ("GATE", "DOCK"):
        own = [row for row in log if row[0] == name]
        steps = sum((one[1] > other[1]) - (one[1] < other[1]) for one, other in zip(own[1:], own, strict=False))
        run: Counter[tuple[str, int, str]] = Counter()
        last = -1
        for row in own if steps >= 0 else own[::-1]:
            run = Counter() if row[1] < last else run
            last = row[1]
            run[row] += 1
            expected |= run
    store = open_store(tmp_path / f"{uuid.uuid4().hex}.sqlite")
    list_readers(store)
    kept = take(store, "punches", rows)
    assert (kept.taken, kept.known) == (expected.total(), len(log) - expected.total())
    got = Counter(recorded(store).select("reader", (pl.col("at") - MORNING) // 60, "number").iter_rows())
    assert got == expected
    store.close()
