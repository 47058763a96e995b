"""Measure the room of scores: times against grouping and by size, intervals' coverage, delays on the twin's truth.

    OPENBLAS_NUM_THREADS=1 python -m bench.scores --rows 10000000 --sites 6

Everything is invented. A figure is good for this generator only, and is printed with how many runs it rests on.
"""

from __future__ import annotations

import argparse
import time
from collections.abc import Callable
from datetime import date, timedelta
from typing import Any

import numpy as np
import polars as pl

from evenhand import reconcile, scores, twin
from evenhand.scores.effects.fit import fit_effects
from evenhand.terms.sources import PUNCHES
from evenhand.twin.hands import draw_hands, present

FIRST = date(2026, 1, 5)
FIRST_AT = 1_767_571_200
PEOPLE, READERS, DAYS, BEGINS = 120, 4, 130, 70
MONTH = 30.4375


def spent(work: Callable[[], Any]) -> tuple[float, float, Any]:
    """Return wall and processor seconds of a piece of work, and what it gave."""
    wall, processor = time.perf_counter(), time.process_time()
    found = work()
    return time.perf_counter() - wall, time.process_time() - processor, found


def measure_fit(rows: int) -> None:
    """Fit person, reader and pair effects with errors, beside grouping the same scores into cells."""
    rng = np.random.default_rng(1)
    people, readers = max(rows // 100, 100), 500 if rows >= 1_000_000 else 50
    home = rng.integers(0, readers, (people, 4))
    person = rng.integers(0, people, rows).astype(np.int32)
    reader = home[person, rng.integers(0, 4, rows)].astype(np.int32)
    truth_person, truth_reader = rng.normal(0, 0.3, people), rng.normal(0, 0.1, readers)
    y = 2 + truth_person[person] + truth_reader[reader] + rng.normal(0, 0.45, rows)
    y[rng.random(rows) < 0.02] += 3
    frame = pl.DataFrame({"person": person, "reader": reader, "y": y})
    fit_effects(person[:600_000], reader[:600_000], y[:600_000], people, readers)  # compiled before timing
    group, group_processor, _ = spent(
        lambda: frame.group_by("person", "reader").agg(pl.len(), mean=pl.col("y").mean(), spread=pl.col("y").var())
    )
    fit, fit_processor, found = spent(lambda: fit_effects(person, reader, y, people, readers))
    inside = np.mean(np.abs(found.person - truth_person) < 1.96 * found.person_error)
    print(f"fit with errors, {rows:,} scores, {people:,} people, {readers} readers: {fit:.1f} s")
    print(f"  grouping into cells {group:.1f} s; ratio {fit / group:.2f} by the clock, target 2")
    print(f"  ratio by processor time {fit_processor / group_processor:.2f}")
    print(f"  95 % intervals of people hold the truth {100 * inside:.1f} % of the time, with 2 % outliers")


def measure_watch(people: int, weeks: int) -> None:
    """Watch an invented workplace: what readers' logs tell, and the charts, from presentations as recorded."""
    place = twin.workplace(OF_WATCH, first=FIRST, weeks=weeks, people=people, readers=max(8, people // 250))
    logged = place.punches.with_row_index("punch").select(pl.col("punch").cast(pl.Int64), *PUNCHES.names)
    recorded = logged.sort("reader", "at")
    held = reconcile.holders(recorded, place.people, place.readers)
    unknown = pl.Series([None], dtype=pl.Int64).new_from_index(0, recorded.height)
    presented = scores.presentations_of(recorded, held, place.readers, unknown)
    sites = dict(place.readers.select("reader", "site").iter_rows())
    as_of, today = int(recorded["at"].max()), FIRST + timedelta(weeks=weeks)  # type: ignore[arg-type]
    for turn in ("first", "again"):
        logs, charts = scores.ReaderLogs(presented, sites, as_of, today), scores.Charts(presented, sites, as_of)
        health, health_processor, _ = spent(lambda logs=logs: (logs.health, logs.refused_hands))
        charted, charted_processor, _ = spent(
            lambda charts=charts: (charts.alarms, charts.forecasts, charts.offsets, charts.rates)
        )
        print(
            f"watch, {people:,} people, {weeks} weeks, {recorded.height:,} presentations, {turn}: readers' logs "
            f"{health:.2f} s ({health_processor:.2f} s by processor), charts and rates {charted:.2f} s "
            f"({charted_processor:.2f} s)"
        )


def measure_coverage(sets: int) -> None:
    """Simulation-based calibration: draw effects from the prior, fit, and see where the truth falls."""
    held: dict[str, list[float]] = {"person": [], "reader": []}
    for seed in range(sets):
        rng = np.random.default_rng(seed)
        home = rng.integers(0, 20, (200, 2))
        person = rng.integers(0, 200, 8000)
        reader = home[person, rng.integers(0, 2, 8000)]
        a, b = rng.normal(0, 0.3, 200), rng.normal(0, 0.1, 20)
        y = a[person] + b[reader] + rng.normal(0, 0.45, 8000)
        found = fit_effects(person, reader, y, 200, 20)
        held["person"].append(np.abs(found.person - a) / found.person_error)
        held["reader"].append(np.abs(found.reader - b) / found.reader_error)
    print(f"coverage of effects' intervals, {sets} sets of 8,000 scores")
    for name, away in held.items():
        shares = [100 * np.mean(np.concatenate(away) < z) for z in (0.674, 1.282, 1.960)]
        print(f"  {name}: 50 % {shares[0]:.1f}, 80 % {shares[1]:.1f}, 95 % {shares[2]:.1f}")


AT_REST, OF_WATCH = 1000, 5
"""Seeds: the first of the sites at rest, and that of the workplace whose watch is timed."""


def site(seed: int, drifting: int, dirty: int) -> pl.DataFrame:
    """A site of the twin's hands: from day 70 on, `drifting` hands change faster and `dirty` platens gather dirt."""
    rng = np.random.default_rng(seed)
    shift, dirt = np.zeros((PEOPLE, DAYS)), np.zeros((READERS, DAYS))
    since = np.clip(np.arange(DAYS) - BEGINS, 0, None)
    shift[:drifting] = 16 * (since / 40) ** 2
    dirt[:dirty] = np.minimum(since * 3.0 / 20, 3.0)
    hands = draw_hands(rng, shift, dirt)
    day = np.repeat(np.arange(DAYS), PEOPLE * 4)
    day = day[day % 7 < 5]
    turn = np.tile(np.repeat(np.arange(4), PEOPLE), len(day) // (PEOPLE * 4))
    person = np.tile(np.arange(PEOPLE), len(day) // PEOPLE)
    reader = np.where(rng.random(len(day)) < 0.7, person % READERS, (person + 1) % READERS)
    answer = present(rng, hands, person, reader, day)
    visit, attempt = np.nonzero(~np.isnan(answer.scores))
    at = FIRST_AT + day[visit] * 86_400 + 25_000 + turn[visit] * 7200 + person[visit] * 20 + 6 * attempt
    last = attempt == answer.tries[visit] - 1
    return scores.PRESENTED.frame(
        {
            "punch": np.arange(len(visit)),
            "person": [f"P{p:03d}" for p in person[visit].tolist()],
            "reader": [f"R{r}" for r in reader[visit].tolist()],
            "at": at,
            "day": [FIRST + timedelta(days=d) for d in day[visit].tolist()],
            "clock_s": at % 86_400,
            "is_refused": ~(last & answer.is_accepted[visit]),
            "score": answer.scores[visit, attempt].round(1),
        }
    )


def daily_means(frame: pl.DataFrame, by: str) -> tuple[list[str], np.ndarray]:
    """The mean raw score per day of each person or reader (series, days), nan without presentations."""
    names = frame[by].unique().sort().to_list()
    means = frame.group_by(by, "day").agg(pl.col("score").mean())
    table = np.full((len(names), DAYS), np.nan)
    rows = means[by].replace_strict(names, list(range(len(names))), return_dtype=pl.Int64).to_numpy()
    table[rows, (means["day"] - FIRST).dt.total_days().to_numpy()] = means["score"].to_numpy()
    return names, table


def sigmas(table: np.ndarray) -> np.ndarray:
    """Plain chart: each series against its own mean and spread over the days before day 70."""
    base = table[:, :BEGINS]
    return (table - np.nanmean(base, axis=1, keepdims=True)) / np.nanstd(base, axis=1, ddof=1, keepdims=True)


def limit_for(values: list[np.ndarray], months: float) -> float:
    """The limit that is passed once in two months, over all series, where nothing changes.

    People and readers each get half of the one false alarm a month that a whole site accepts.
    """
    pooled = np.sort(np.concatenate([v[~np.isnan(v)] for v in values]))
    return float(pooled[-max(round(months / 2), 1)])


def first_over(row: np.ndarray, limit: float) -> float:
    over = np.flatnonzero(row[BEGINS:] > limit)
    return float(over[0]) if len(over) else np.inf


def measure_delays(sites: int) -> None:
    """Days until a drifting hand and a dirtying reader are noticed, at one false alarm a month for the whole site."""
    quiet = [site(AT_REST + seed, 0, 0) for seed in range(sites)]
    months = sites * (DAYS - BEGINS) / MONTH
    limits = {}
    for by in ("person", "reader"):
        tables = [daily_means(frame, by)[1] for frame in quiet]
        limits[by, "raw"] = limit_for([table[:, BEGINS:] for table in tables], months)
        limits[by, "sigma"] = limit_for([sigmas(table)[:, BEGINS:] for table in tables], months)
    false = 0
    for frame in quiet:
        model = scores.fit_scores(frame)
        alarms = scores.find_alarms(model, scores.design_for(model, frame, 1.0))
        false += alarms.height
    print(
        f"false alarms where nothing changes: {false / (sites * DAYS / MONTH):.2f} a month, 1 accepted ({sites} sites)"
    )
    delays: dict[tuple[str, str], list[float]] = {}
    right: dict[str, list[bool]] = {"person": [], "reader": []}
    for seed in range(sites):
        for by, frame in (("person", site(seed, 4, 0)), ("reader", site(seed, 0, 1))):
            names, table = daily_means(frame, by)
            sigma = sigmas(table)
            model = scores.fit_scores(frame)
            alarms = scores.find_alarms(model, scores.design_for(model, frame, 1.0))
            for i in range(4 if by == "person" else 1):
                mine = alarms.filter(pl.col(by) == names[i], pl.col("on") >= FIRST + timedelta(days=BEGINS)).sort("on")
                ours = (mine["on"][0] - FIRST).days - BEGINS if mine.height else np.inf
                delays.setdefault((by, "ours"), []).append(ours)
                delays.setdefault((by, "raw score over a fixed limit"), []).append(
                    first_over(table[i], limits[by, "raw"])
                )
                delays.setdefault((by, "plain 3-sigma chart, limit widened"), []).append(
                    first_over(sigma[i], limits[by, "sigma"])
                )
                told = mine.filter(
                    pl.col("chart").is_in(["hand", "reader", "reader_drift"]), pl.col("cause") != "neither"
                )
                if told.height:
                    right[by].append(told["cause"][-1] == ("hand" if by == "person" else "reader"))
    for by, what in (("person", "drifting hand"), ("reader", "dirtying reader")):
        print(f"days to notice a {what}, median (never), {len(delays[by, 'ours'])} of them")
        for (which, method), days in delays.items():
            if which == by:
                print(f"  {method}: {np.median(days):.0f} ({np.sum(np.isinf(days))})")
        print(f"  right cause: {100 * np.mean(right[by]) if right[by] else 0:.0f} % of {len(right[by])} that name one")


def measure_forecasts(sets: int) -> None:
    """Dates of a hand whose level rises evenly on the log scale, forecast on day 60; 90 % intervals."""
    held, dated, undated = 0, 0, 0
    for seed in range(sets):
        rng = np.random.default_rng(seed)
        person = np.repeat(np.arange(60), 61 * 4)
        day = np.tile(np.repeat(np.arange(61), 4), 60)
        slope = np.zeros(60)
        slope[:6] = rng.uniform(0.008, 0.03, 6)
        level = 1.4 + rng.normal(0, 0.15, 60)
        y = level[person] + slope[person] * np.clip(day - 25, 0, None) + rng.normal(0, 0.45, len(person))
        frame = scores.PRESENTED.frame(
            {
                "punch": np.arange(len(y)),
                "person": [f"P{p:02d}" for p in person.tolist()],
                "reader": [f"R{r}" for r in rng.integers(0, 3, len(y)).tolist()],
                "at": FIRST_AT + day * 86_400 + np.tile(np.arange(4) * 7200, 60 * 61) + 25_000,
                "day": [FIRST + timedelta(days=d) for d in day.tolist()],
                "is_refused": y > np.log(18.0),
                "score": np.exp(y),
            }
        )
        model = scores.fit_scores(frame)
        assert model is not None
        named = {row["person"]: row for row in scores.forecast(model, int(model.at.max())).iter_rows(named=True)}
        for i in range(6):
            crosses = 25 + (np.log(18.0) - 1.645 * 0.45 - level[i]) / slope[i]
            row = named.get(f"P{i:02d}")
            if crosses < 62 or crosses > 365:
                continue
            if row is None or row["likely"] is None:
                undated += 1
                continue
            dated += 1
            low, high = ((row[end] - FIRST).days if row[end] else 10_000 for end in ("soonest", "latest"))
            held += low <= crosses <= high
    print(f"forecasts: {dated} dated, {undated} not sure enough for a date")
    share = 100 * held / max(dated, 1)
    print(f"  the day on which 5 % are refused lies between soonest and latest {share:.0f} %, wanted 90 %")


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--rows", type=int, default=10_000_000)
    parser.add_argument("--sites", type=int, default=6)
    parser.add_argument("--weeks", type=int, nargs="+", default=[12, 26], help="how long the watched logs are")
    parser.add_argument("--people", type=int, nargs="+", default=[300, 10_000], help="at how many people they are")
    options = parser.parse_args()
    print(
        f"seeds: fit 1, watch {OF_WATCH}, coverage and forecasts 0 to {5 * options.sites - 1}, "
        f"delays 0 to {options.sites - 1}, at rest {AT_REST} to {AT_REST + options.sites - 1}"
    )
    measure_fit(options.rows)
    for people in options.people:
        for weeks in options.weeks:
            measure_watch(people, weeks)
    measure_coverage(5 * options.sites)
    measure_delays(options.sites)
    measure_forecasts(5 * options.sites)


if __name__ == "__main__":
    main()
