"""Measure hours over many punches, as ratios in one run, on invented punches.

    python bench/hours.py --rows 10000000 [--largest 50000000]

Ours is Parquet in to frames out by `compute_hours` on all cores, as every command and page calls it, under the federal
rules with quarter-hour rounding and under California's (workdays, seventh days, meal periods, split shifts, and the
federal limit): everybody's weeks, as `evenhand hours` lists them, and all frames that a page takes. Beside it, in the
same run: Polars reading and sorting the same columns by person and time, once as they are and once with numbers in
place of their texts, which sorts faster; and the federal rules as a pandas groupby-apply on a sample of people, scaled
up. Each figure is the best of five, in a process of its own.
"""

from __future__ import annotations

import argparse
import json
import resource
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

import numpy as np
import polars as pl

from evenhand.jobs.cores import on_all_cores
from evenhand.law import PARTS_FOR_ALL, Hours, compute_hours
from evenhand.terms.settings import Policy, SiteRules
from evenhand.terms.tables import ATTRIBUTED

COLUMNS = ("punch", "person", "zone", "at", "direction")
ZONES = ("America/Chicago", "America/New_York", "America/Denver")
RULES = SiteRules("invented", "America/Chicago", rounding_s=900)
JURISDICTIONS = {"federal": RULES, "california": SiteRules("invented", "America/Los_Angeles", "california")}
TARGETS = {"federal": 0.4, "california": 0.6}  # of the time in which Polars reads and sorts the same columns
POLICY = Policy()
FIRST = 1_767_592_800  # 2026-01-05T00:00 in Chicago, a Monday
DAYS = 250
SAMPLE = 40


SEED = 1
"""What punches are drawn from."""


def invent_punches(rows: int, seed: int) -> pl.DataFrame:
    """Return about `rows` punches of invented people over 250 workdays, nearly in order of time.

    Four a day, one person in five at night, half of them without marks; 4 in 1,000 missing, 1 in 100 doubled.
    """
    rng = np.random.default_rng(seed)
    people = max(1, rows // (4 * DAYS))
    day = np.repeat(np.arange(DAYS), people)
    person = np.tile(np.arange(people, dtype=np.int32), DAYS)
    start = np.where(person % 5 == 0, 19 * 3600, 7 * 3600) + person % 8 * 900
    begins = FIRST + (day // 5 * 7 + day % 5) * 86_400 + start + rng.normal(0, 240, len(day)).astype(np.int64)
    bounds = (0, 4 * 3600, 4 * 3600 + 1500, 8 * 3600 + 1800)
    at = np.concatenate([begins + bound + rng.integers(-300, 300, len(day)) for bound in bounds])
    who = np.tile(person, 4)
    way = np.where(who % 2 == 0, np.repeat(np.array([1, 2, 1, 2], dtype=np.int8), len(day)), 0).astype(np.int8)
    kept, doubled = rng.random(len(at)) > 0.004, np.flatnonzero(rng.random(len(at)) < 0.01)
    at = np.concatenate([at[kept], at[doubled] + 7])
    who, way = np.concatenate([who[kept], who[doubled]]), np.concatenate([way[kept], way[doubled]])
    arrival = np.argsort(at + rng.exponential(600, len(at)).astype(np.int64), kind="stable")
    who, at, way = who[arrival], at[arrival], way[arrival]
    names = pl.Series([f"P{person:06}" for person in range(people)])
    return ATTRIBUTED.frame(
        {
            "punch": np.arange(len(at)),
            "person": names.gather(who),
            "reader": pl.Series([f"R{number:02}" for number in range(40)]).gather(who % 40),
            "zone": pl.Series(ZONES).gather(who % 3),
            "at": at,
            "direction": pl.Series([None, "in", "out"]).gather(way),
        }
    )


def read_and_compute(path: Path, rules: SiteRules, parts: Sequence[str]) -> Hours:
    """Ours: Parquet in, frames out."""
    attributed = pl.read_parquet(path, columns=list(COLUMNS))
    return compute_hours(attributed, rules, POLICY, keep_steps=False, parts=parts, each=on_all_cores)


def read_and_sort(path: Path) -> int:
    """The yardstick: Polars reads the same columns and sorts them by person and time."""
    return pl.read_parquet(path, columns=list(COLUMNS)).sort("person", "at").height


def sort_numbers(path: Path) -> int:
    """The yardstick with numbers in place of texts, from a file of its own."""
    return pl.read_parquet(numbered(path)).sort("person", "at").height


def numbered(path: Path) -> Path:
    return path.with_name(f"numbered_{path.name}")


def write_both(rows: int, path: Path) -> None:
    attributed = invent_punches(rows, SEED)
    attributed.write_parquet(path)
    attributed.select(
        pl.col("person").rank("dense").cast(pl.Int32),
        "at",
        mark=pl.col("direction").replace_strict({"in": 1, "out": 2}, default=0, return_dtype=pl.Int8),
        zone=pl.col("zone").replace_strict({zone: k for k, zone in enumerate(ZONES)}, return_dtype=pl.Int8),
    ).write_parquet(numbered(path))


def class_with_pandas(path: Path) -> tuple[float, int]:
    """Return the seconds a groupby-apply takes for a sample of people, and their punches."""
    import pandas as pd

    frame = pl.read_parquet(numbered(path)).filter(pl.col("person") <= SAMPLE)
    sample = pd.DataFrame({name: frame[name].to_numpy() for name in frame.columns})
    begins = time.perf_counter()
    sample.groupby("person")[["at", "mark", "zone"]].apply(pandas_weeks)
    return time.perf_counter() - begins, len(sample)


def pandas_weeks(punches: Any) -> Any:
    """One person's workweeks, as one would write it with pandas.

    It follows marks or plain alternation within a stretch; choosing among readings of an odd stretch is left out,
    in favour of pandas.
    """
    import pandas as pd

    punches = punches.sort_values("at")
    punches = punches[punches["at"].diff().fillna(10**9) >= POLICY.repeat_gap_s]
    times = [
        pd.Timestamp(row.at, unit="s", tz="UTC").tz_convert(ZONES[row.zone]) for row in punches.itertuples(index=False)
    ]
    marks = punches["mark"].tolist()
    spans, k = [], 0
    while k + 1 < len(times):
        apart = (times[k + 1] - times[k]).total_seconds()
        if marks[k] != 2 and marks[k + 1] != 1 and apart <= POLICY.longest_span_s:
            if spans and (times[k] - spans[-1][1]).total_seconds() < POLICY.meal_s:
                spans[-1][1] = times[k + 1]
            else:
                spans.append([times[k], times[k + 1]])
            k += 2
        else:
            k += 1
    paid: dict[Any, float] = {}
    for starts, ends in spans:
        now, stop = starts.round("15min").tz_convert(RULES.zone), ends.round("15min").tz_convert(RULES.zone)
        while now < stop:
            week = now.normalize() - pd.Timedelta(days=(now.weekday() + 1) % 7)
            cut = min(stop, (week + pd.DateOffset(days=7)))
            paid[week] = paid.get(week, 0.0) + (cut - now).total_seconds()
            now = cut
    total = pd.Series(paid)
    return pd.DataFrame({"ordinary_s": total.clip(upper=144_000), "overtime_s": (total - 144_000).clip(lower=0)})


def best_of(work: Callable[[], Any], repeats: int = 5, clock: Callable[[], float] = time.perf_counter) -> float:
    taken = []
    for _ in range(repeats):
        begins = clock()
        work()
        taken.append(clock() - begins)
    return min(taken)


def peak_bytes() -> int:
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * 1024


def measure(what: str, path: Path) -> dict[str, float]:
    """Measure one thing in this process."""
    if what.isdigit():
        write_both(int(what), path)
        return {}
    if what == "sort":
        return {"s": best_of(lambda: read_and_sort(path), 3), "numbers_s": best_of(lambda: sort_numbers(path))}
    if what == "pandas":
        seconds, punches = class_with_pandas(path)
        return {"s": seconds, "punches": punches}
    small, rules = path.with_name("small.parquet"), JURISDICTIONS[what]
    begins = time.perf_counter()
    read_and_compute(small, rules, ())
    cold = time.perf_counter() - begins
    warm = best_of(lambda: read_and_compute(small, rules, ()))
    before = peak_bytes()
    once = best_of(lambda: read_and_compute(path, rules, ()))
    peak = peak_bytes() - before
    # What else runs on the machine stretches wall time more over a long run than over a short one.
    cpu = best_of(lambda: read_and_compute(path, rules, ()), 2, time.process_time)
    every = best_of(lambda: read_and_compute(path, rules, PARTS_FOR_ALL), 2)
    return {"s": once, "all_s": every, "cpu_s": cpu, "compile_s": cold - warm, "peak": peak}


def apart(what: str, path: Path) -> dict[str, float]:
    """Measure in a process of its own, so that one measurement's memory is not another's."""
    command = [sys.executable, __file__, "--measure", what, "--file", str(path)]
    done = subprocess.run(command, check=True, capture_output=True, text=True)
    found: dict[str, float] = json.loads(done.stdout)
    return found


def write_punches(directory: Path, rows: int) -> Path:
    path = directory / f"punches_{rows}.parquet"
    if not path.exists():
        # A child begins with the peak memory its parent had, so the parent must stay small.
        apart(str(rows), path)
    return path


def compare(directory: Path, rows: int) -> dict[str, tuple[float, float]]:
    """Print what is measured on `rows` punches; return our seconds a punch, by the wall and of the processor."""
    path = write_punches(directory, rows)
    height = pl.scan_parquet(path).select(pl.len()).collect().item()
    sort = apart("sort", path)
    read = pl.read_parquet(path, columns=list(COLUMNS)).estimated_size()
    print(f"{height:,} punches")
    print(f"  Polars, read and sort           {sort['s']:8.2f} s")
    print(f"  the same with numbers for texts {sort['numbers_s']:8.2f} s")
    found = {}
    for name in JURISDICTIONS:
        ours = apart(name, path)
        print(f"  {name}")
        print_ours(ours, sort, height, read, TARGETS[name])
        found[name] = (ours["s"] / height, ours["cpu_s"] / height)
    return found


def print_ours(ours: dict[str, float], sort: dict[str, float], height: int, read: int, target: float) -> None:
    for what, seconds in (("weeks", "s"), ("all frames", "all_s")):
        times, numbers = ours[seconds] / sort["s"], ours[seconds] / sort["numbers_s"]
        held = f" (target <= {target})" if seconds == "s" else ""
        print(
            f"    {what:12}                  {ours[seconds]:8.2f} s   {times:.2f} x{held}, {numbers:.2f} x with numbers"
        )
    print(f"    compiling, first run only     {ours['compile_s']:8.2f} s   (loads its cache when there is one)")
    print(f"    processor time a punch        {ours['cpu_s'] / height * 1e9:8.0f} ns")
    print(f"    peak memory above start       {ours['peak'] / read:8.2f} x the columns read (target <= 3)", flush=True)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.partition("\n")[0] if __doc__ else None)
    parser.add_argument("--rows", type=int, default=10_000_000, help="punches to compare on")
    parser.add_argument("--largest", type=int, default=0, help="also show the growth up to so many punches")
    parser.add_argument("--measure", help=argparse.SUPPRESS)
    parser.add_argument("--file", type=Path, help=argparse.SUPPRESS)
    options = parser.parse_args()
    if options.measure:
        print(json.dumps(measure(options.measure, options.file)))
        return
    print(f"seed {SEED}")
    with tempfile.TemporaryDirectory() as name:
        directory = Path(name)
        shutil.copy(write_punches(directory, 300_000), directory / "small.parquet")
        each = [compare(directory, rows) for rows in sorted({1_000_000, options.rows, options.largest} - {0})]
        for jurisdiction in JURISDICTIONS:
            cpu = [found[jurisdiction][1] for found in each]
            growth = max(cpu) / min(cpu)
            print(
                f"growth, {jurisdiction}: processor time a punch, slowest over fastest {growth:.2f} x (target <= 1.5)"
            )
        pandas = apart("pandas", write_punches(directory, 1_000_000))
        ratio = pandas["s"] / pandas["punches"] / each[-1]["federal"][0]
        print(
            f"pandas groupby-apply, {SAMPLE} people ({pandas['punches']:,} punches) in {pandas['s']:.1f} s, "
            f"extrapolated per punch: {ratio:,.0f} x ours, federal, on one thread (target >= 1,000)"
        )


if __name__ == "__main__":
    main()
