"""A presentation is one punch, whatever the exports tell of it, in whatever order they are taken."""

import itertools
from collections import Counter
from dataclasses import dataclass
from typing import Any

import polars as pl
import sqlalchemy as sa
from hypothesis import event, given, settings
from hypothesis import strategies as st

from evenhand.store import Store, frames
from evenhand.store.revision import revision
from evenhand.store.same_punch import DETAILS, lay_over, match
from evenhand.terms.sources import PUNCHES
from evenhand.terms.tables import RECORDED
from tests.store.rows import MORNING, list_readers, punch, take

TOLD = ("direction", "outcome", "score")


def recorded(store: Store, **bounds: int) -> pl.DataFrame:
    with store.reading() as conn:
        return RECORDED.check(frames.recorded(conn, **bounds))


def said(store: Store) -> list[tuple[Any, ...]]:
    """Return what is known of each punch, by time."""
    return recorded(store).select(pl.col("at") - MORNING, *TOLD).sort("at", "direction", "score").rows()


def at(second: int, **others: Any) -> dict[str, Any]:
    """Return a punch of which a log tells when, under which number, and no more than `others`."""
    return punch(0, at=MORNING + second, direction=None) | others


# ---- one punch that knows more


def test_a_log_without_directions_and_then_the_same_with_them_are_the_same_punches(store: Store) -> None:
    list_readers(store)
    take(store, "punches", [at(5), at(70)])
    kept = take(store, "punches", [at(5, direction="in"), at(70, direction="out", score=12.5)])
    assert (kept.taken, kept.known, kept.enriched, kept.differing) == (0, 2, 2, 0)
    assert said(store) == [(5, "in", "accepted", None), (70, "out", "accepted", 12.5)]


def test_a_log_that_says_less_adds_nothing_and_takes_nothing_away(store: Store) -> None:
    list_readers(store)
    take(store, "punches", [at(5, direction="in", outcome="accepted", score=12.5)])
    kept = take(store, "punches", [at(5)])
    assert (kept.taken, kept.known, kept.enriched) == (0, 1, 0)
    assert said(store) == [(5, "in", "accepted", 12.5)]


def test_an_export_with_seconds_moves_a_punch_within_its_minute(store: Store) -> None:
    list_readers(store)
    take(store, "punches", [at(0), at(60)], to_minute=True)
    kept = take(store, "punches", [at(37, score=8.0), at(98)])
    assert (kept.taken, kept.known, kept.enriched) == (0, 2, 2)
    assert [row[0] for row in said(store)] == [37, 98]
    # Found where it lies now, on both sides of a bound, and under its own number.
    assert recorded(store, until=MORNING + 30).is_empty()
    assert recorded(store, since=MORNING + 30, until=MORNING + 60)["at"].to_list() == [MORNING + 37]
    assert recorded(store, since=MORNING + 98)["at"].to_list() == [MORNING + 98]
    with store.reading() as conn:
        [first, _] = frames.recorded(conn)["punch"]
        assert frames.recorded_punch(conn, first).select("at", "score").rows() == [(MORNING + 37, 8.0)]


def test_punches_that_were_moved_are_read_in_order_of_time(store: Store) -> None:
    list_readers(store)
    take(store, "punches", [at(0, number="7"), at(0, number="8")], to_minute=True)
    take(store, "punches", [at(20, number="8"), at(40, number="7")])
    assert recorded(store)["number"].to_list() == ["8", "7"]


def test_an_export_without_seconds_is_known_from_one_that_has_them(store: Store) -> None:
    list_readers(store)
    take(store, "punches", [at(37), at(98)])
    kept = take(store, "punches", [at(0, direction="in"), at(60)], to_minute=True)
    assert (kept.taken, kept.known, kept.enriched) == (0, 2, 1)
    assert said(store) == [(37, "in", "accepted", None), (98, None, "accepted", None)]


def test_an_outcome_that_a_log_did_not_say_may_turn_out_to_be_a_refusal(store: Store) -> None:
    list_readers(store)
    take(store, "punches", [at(5), at(9)])
    take(store, "punches", [at(5, outcome="refused", score=140.0), at(9, outcome="accepted")])
    assert [row[2] for row in said(store)] == ["refused", "accepted"]


def test_a_log_of_accepted_hands_lacks_the_refusals_that_another_tells(store: Store) -> None:
    list_readers(store)
    take(store, "punches", [at(0, score=11.0)], to_minute=True)
    full = [at(0, outcome="refused", score=140.0), at(0, outcome="accepted", score=11.0)]
    kept = take(store, "punches", full, to_minute=True)
    assert (kept.taken, kept.known, kept.enriched) == (1, 1, 1)
    assert Counter(said(store)) == Counter([(0, None, "refused", 140.0), (0, None, "accepted", 11.0)])


def test_what_is_told_a_third_time_is_told_once(store: Store) -> None:
    list_readers(store)
    take(store, "punches", [at(5)])
    take(store, "punches", [at(5, direction="in")])
    kept = take(store, "punches", [at(5, direction="in", score=3.0)])
    assert kept.enriched == 1
    assert take(store, "punches", [at(5, direction="in", score=3.0)]).enriched == 0
    with store.reading() as conn:
        details = conn.execute(sa.text("SELECT take, direction, score FROM punch_details ORDER BY take")).all()
    assert [tuple(row) for row in details] == [(3, "in", None), (4, None, 3.0)]


def test_what_a_take_adds_is_counted_in_its_row_and_seen_as_a_change(store: Store) -> None:
    list_readers(store)
    take(store, "punches", [at(5)])
    with store.reading() as conn:
        before = revision(conn)
    take(store, "punches", [at(5, direction="in")])
    with store.reading() as conn:
        assert frames.takes(conn)["enriched"].to_list() == [0, 0, 1]
        assert "punches" in revision(conn).changed_since(before)


# ---- two punches


def test_hands_laid_down_twice_in_a_minute_match_in_order(store: Store) -> None:
    list_readers(store)
    take(store, "punches", [at(10, direction="in"), at(40, direction="out")])
    kept = take(store, "punches", [at(0, score=1.0), at(0, score=2.0)], to_minute=True)
    assert (kept.taken, kept.enriched) == (0, 2)
    assert said(store) == [(10, "in", "accepted", 1.0), (40, "out", "accepted", 2.0)]


def test_a_log_with_the_last_row_first_matches_in_order_of_time(store: Store) -> None:
    list_readers(store)
    log = [at(0, direction="in"), at(0, direction="out"), at(600, direction="in")]
    take(store, "punches", log[::-1], to_minute=True)
    take(store, "punches", [at(10), at(40), at(630)])
    assert said(store) == [
        (10, "in", "accepted", None),
        (40, "out", "accepted", None),
        (630, "in", "accepted", None),
    ]


def test_a_log_with_the_last_row_first_is_seen_by_its_times_where_nobody_punches_at_two(store: Store) -> None:
    list_readers(store)
    log = [at(0, direction="in"), at(0, direction="out"), at(600, number="7")]
    take(store, "punches", log[::-1], to_minute=True)
    take(store, "punches", [at(10), at(40)])
    assert said(store)[:2] == [(10, "in", "accepted", None), (40, "out", "accepted", None)]


def test_a_row_is_the_punch_with_which_it_agrees_most(store: Store) -> None:
    list_readers(store)
    take(store, "punches", [at(0), at(0, direction="in")], to_minute=True)
    take(store, "punches", [at(0, direction="in", score=3.0)], to_minute=True)
    assert Counter(said(store)) == Counter([(0, None, "accepted", None), (0, "in", "accepted", 3.0)])


def test_rows_that_are_fewer_than_the_punches_they_may_be_keep_their_order(store: Store) -> None:
    list_readers(store)
    take(store, "punches", [at(10), at(30), at(50)])
    take(store, "punches", [at(0, score=1.0), at(0, score=2.0)], to_minute=True)
    assert [row[3] for row in said(store)] == [1.0, 2.0, None]


def test_a_punch_whose_second_came_later_has_that_second(store: Store) -> None:
    list_readers(store)
    take(store, "punches", [at(0)], to_minute=True)
    take(store, "punches", [at(37)])
    assert take(store, "punches", [at(52)]).taken == 1
    assert [row[0] for row in said(store)] == [37, 52]


def test_rows_of_one_minute_in_another_order_match_by_what_they_say(store: Store) -> None:
    list_readers(store)
    take(store, "punches", [at(0, direction="in"), at(0, direction="out")], to_minute=True)
    rows = [at(0, score=2.0), at(0, direction="in", score=1.0)]
    assert take(store, "punches", rows, to_minute=True).taken == 0
    assert said(store) == [(0, "in", "accepted", 1.0), (0, "out", "accepted", 2.0)]


def test_no_row_is_left_alone_where_all_can_be_punches_that_are_known(store: Store) -> None:
    list_readers(store)
    known = [at(0, direction="in", score=5.0), at(0, direction="in", score=7.0)]
    take(store, "punches", known, to_minute=True)
    # The first of these may be either of them, the second only the first; the third is another presentation.
    rows = [at(0, direction="in"), at(0, score=5.0), at(0, direction="out")]
    kept = take(store, "punches", rows, to_minute=True)
    assert (kept.taken, kept.known) == (1, 2)


def test_within_a_minute_two_directions_or_two_scores_are_two_presentations(store: Store) -> None:
    list_readers(store)
    take(store, "punches", [at(0, direction="in", score=5.0)], to_minute=True)
    assert take(store, "punches", [at(30, direction="out")]).taken == 1
    assert take(store, "punches", [at(0, direction="in", score=6.0)], to_minute=True).taken == 1


def test_within_a_second_no_hand_is_laid_down_twice_and_what_was_stored_first_stands(store: Store) -> None:
    list_readers(store)
    take(store, "punches", [at(5, direction="in")])
    kept = take(store, "punches", [at(5, direction="out", score=4.0)])
    assert (kept.taken, kept.known, kept.enriched, kept.differing) == (0, 1, 1, 1)
    assert said(store) == [(5, "in", "accepted", 4.0)]


def test_on_a_whole_minute_there_may_be_two(store: Store) -> None:
    list_readers(store)
    take(store, "punches", [at(0, direction="in")])
    assert take(store, "punches", [at(0, direction="out")]).taken == 1


def test_what_one_log_itself_tells_twice_in_a_second_is_two(store: Store) -> None:
    list_readers(store)
    rows = [at(5, direction="in"), at(5, direction="out"), at(5, direction="out")]
    assert take(store, "punches", rows).taken == 3
    assert take(store, "punches", rows[1:]).taken == 0
    assert take(store, "punches", [*rows, at(5, direction="in")]).taken == 1


def test_exports_that_differ_are_the_same_punches_in_one_file_too(store: Store) -> None:
    list_readers(store)
    plain, full = [at(5), at(70), at(300)], [at(70, direction="out", score=3.0), at(300, score=4.0), at(600)]
    kept = take(store, "punches", [*plain, *full])
    assert (kept.taken, kept.known, kept.enriched) == (4, 2, 2)
    assert said(store)[1:3] == [(70, "out", "accepted", 3.0), (300, None, "accepted", 4.0)]


def test_a_log_that_repeats_a_row_without_end_is_matched_in_order(store: Store) -> None:
    list_readers(store)
    assert take(store, "punches", [at(0)] * 2_000, to_minute=True).taken == 2_000
    kept = take(store, "punches", [at(0, direction="in")] * 2_500, to_minute=True)
    assert (kept.taken, kept.enriched) == (500, 2_000)


def test_some_rows_of_a_very_busy_minute_are_found_by_their_seconds(store: Store) -> None:
    list_readers(store)
    take(store, "punches", [at(second) for second in range(1, 31)])
    kept = take(store, "punches", [at(second, direction="in") for second in range(2, 31, 2)])
    assert (kept.taken, kept.enriched) == (0, 15)
    assert [row[1] for row in said(store)] == [None, "in"] * 15


def test_punches_taken_by_others_while_a_file_is_matched_are_seen(store: Store, monkeypatch) -> None:
    from evenhand.store import punches

    list_readers(store)
    prepare, others = punches.prepare, iter([[at(5, direction="in")]])

    def interrupted(*args: Any, **named: Any) -> punches.Prepared:
        prepared = prepare(*args, **named)
        for rows in others:
            take(store, "punches", rows)
        return prepared

    monkeypatch.setattr(punches, "prepare", interrupted)
    kept = take(store, "punches", [at(5, score=2.0), at(9)])
    assert (kept.taken, kept.known, kept.enriched) == (1, 1, 1)
    assert said(store) == [(5, "in", "accepted", 2.0), (9, None, "accepted", None)]


# ---- a true log, and exports of it


@dataclass(frozen=True)
class Export:
    """Which presentations of the true log an export holds, in which order, and what it tells of them."""

    rows: list[int]
    columns: frozenset[str]
    to_minute: bool

    def of(self, log: list[dict[str, Any]]) -> list[dict[str, Any]]:
        return [
            {name: value if name not in TOLD or name in self.columns else None for name, value in log[row].items()}
            | {"at": log[row]["at"] // 60 * 60 if self.to_minute else log[row]["at"]}
            for row in self.rows
        ]


@st.composite
def logs(draw: st.DrawFn) -> list[dict[str, Any]]:
    """Return presentations in order of time; a number is keyed at most once in a second, often again in a minute."""
    seconds = draw(st.lists(st.integers(0, 420), min_size=1, max_size=14, unique=True).map(sorted))
    told = st.fixed_dictionaries(
        {
            "reader": st.sampled_from(["GATE", "DOCK"]),
            "number": st.sampled_from(["7", "07"]),
            "direction": st.sampled_from(["in", "out"]),
            "outcome": st.sampled_from(["accepted", "refused"]),
            "score": st.integers(1, 4).map(float),
        }
    )
    return [{**draw(told), "at": MORNING + second} for second in seconds]


@st.composite
def exports(draw: st.DrawFn, log: list[dict[str, Any]]) -> Export:
    """Draw an export of whole minutes: one span or two that overlap, or by number, or with the last row first."""
    minutes = [(row["at"] - MORNING) // 60 for row in log]
    columns = draw(st.frozensets(st.sampled_from(TOLD)))
    to_minute = draw(st.booleans())

    def span() -> list[int]:
        first, last = sorted((draw(st.integers(0, 7)), draw(st.integers(0, 7))))
        return [row for row, minute in enumerate(minutes) if first <= minute <= last]

    rows = span()
    match draw(st.sampled_from(["plain", "appended", "by number", "of one number", "last first"])):
        case "appended":
            more = span()
            # What lies in one minute only gives no sign where the first export ends and the second begins.
            if all(_steps_back(log, rows, more, reader) for reader in ("GATE", "DOCK")):
                rows = rows + more
        case "by number":
            by_number = sorted(rows, key=lambda row: log[row]["number"])
            # Where nobody has two times, nothing tells it from a log with the last row first.
            if all(_looks_upward(log, by_number, reader) for reader in ("GATE", "DOCK")):
                rows = by_number
        case "of one number":
            rows = [row for row in rows if log[row]["number"] == "7"]
        case "last first":
            own = [{minutes[row] for row in rows if log[row]["reader"] == reader} for reader in ("GATE", "DOCK")]
            if all(len(times) != 1 for times in own):
                rows = rows[::-1]
    return Export(rows, columns, to_minute)


def _looks_upward(log: list[dict[str, Any]], rows: list[int], reader: str) -> bool:
    told = [(log[row]["number"], log[row]["at"] // 60) for row in rows if log[row]["reader"] == reader]
    own = any(one[0] == after[0] and one[1] < after[1] for one, after in itertools.pairwise(told))
    return own or sum((one[1] < after[1]) - (one[1] > after[1]) for one, after in itertools.pairwise(told)) >= 0


def _steps_back(log: list[dict[str, Any]], rows: list[int], more: list[int], reader: str) -> bool:
    minutes = [[log[row]["at"] // 60 for row in part if log[row]["reader"] == reader] for part in (rows, more)]
    first, second = minutes
    is_upward = sum(len(set(part)) - 1 for part in minutes if part) > 1
    return not first or not second or first[-1] < second[0] or (first[-1] > second[0] and is_upward)


def truth(log: list[dict[str, Any]], told: list[Export]) -> Counter[tuple[Any, ...]]:
    """Return what is known of each presentation that any export tells of: everything that one of them says."""
    known: Counter[tuple[Any, ...]] = Counter()
    for place, row in enumerate(log):
        own = [export for export in told if place in export.rows]
        if own:
            columns = frozenset().union(*(export.columns for export in own))
            when = row["at"] // 60 * 60 if all(export.to_minute for export in own) else row["at"]
            unsaid = {"direction": None, "outcome": "accepted", "score": None}
            known[
                row["reader"], row["number"], when, *(row[name] if name in columns else unsaid[name] for name in TOLD)
            ] += 1
    return known


def folded(takes: list[tuple[list[dict[str, Any]], bool]]) -> Counter[tuple[Any, ...]]:
    """Return what is known of each punch once the files are taken, without a store, which takes longer."""
    stored = RECORDED.empty().with_columns(to_minute=pl.lit(value=False))
    details = DETAILS.empty()
    for number, (rows, to_minute) in enumerate(takes, start=1):
        punch = pl.lit(number << 32, pl.Int64) + pl.col("line")
        frame = PUNCHES.rows(rows).with_columns(line=pl.int_range(pl.len(), dtype=pl.Int64))
        matched = match(frame, stored, details, to_minute=to_minute)
        fresh = matched.fresh.with_columns(punch=punch, to_minute=pl.lit(value=to_minute))
        stored = pl.concat([stored, fresh.select(stored.columns)])
        own = pl.when(pl.col("punch") < 1 << 32).then(pl.col("punch") + (number << 32)).otherwise("punch")
        details = pl.concat([details, matched.details.with_columns(punch=own, take=pl.lit(number, pl.Int64))])
        assert not details.select("punch", "take").is_duplicated().any()
    known = lay_over(stored, details).with_columns(pl.col("outcome").fill_null("accepted"))
    return Counter(known.select("reader", "number", "at", *TOLD).iter_rows())


@settings(max_examples=300, deadline=None)
@given(st.data())
def test_every_order_of_exports_gives_the_true_punches_and_all_that_is_told_of_them(
    data: st.DataObject,
) -> None:
    log = data.draw(logs())
    told = data.draw(st.lists(exports(log), min_size=1, max_size=4))
    groups = Counter((row["reader"], row["number"], row["at"] // 60) for row in log)
    event(f"a number twice in a minute: {max(groups.values()) > 1}")
    event(f"seconds told and not told: {len({export.to_minute for export in told}) == 2}")
    ordered = data.draw(st.permutations(told))
    expected = truth(log, told)
    for order in (told, ordered):
        assert folded([(export.of(log), export.to_minute) for export in order]) == expected


@settings(max_examples=100, deadline=None)
@given(st.data())
def test_any_rows_in_any_order_give_the_true_punches_where_no_minute_holds_two(
    data: st.DataObject,
) -> None:
    log = data.draw(logs())
    seen = itertools.groupby(sorted(log, key=lambda row: (row["reader"], row["number"], row["at"])), key=minute_of)
    log = [next(rows) for _, rows in seen]
    some = st.lists(st.integers(0, len(log) - 1), max_size=20, unique=True)
    drawn = st.builds(Export, some, st.frozensets(st.sampled_from(TOLD)), st.booleans())
    told = data.draw(st.lists(drawn, min_size=1, max_size=4))
    for order in (told, data.draw(st.permutations(told))):
        assert folded([(export.of(log), export.to_minute) for export in order]) == truth(log, told)


def minute_of(row: dict[str, Any]) -> tuple[Any, ...]:
    return row["reader"], row["number"], row["at"] // 60
