"""How often whose a stray is is found on invented workplaces, beside two yardsticks, and how long many take.

    python -m bench.strays --seeds 12
    python -m bench.strays --strays 10000 --people 100000
    python -m bench.strays --only workplace

Every workplace is the twin's, with more wrong numbers planted by kinds the model does not know the shares of. Hard
ones are two weeks long, without schedules, without names beside the numbers, with half the telephones and addresses
unknown, more numbers that nothing explains, and people who are on no roster at all.
"""

from __future__ import annotations

import argparse
import time
from dataclasses import dataclass, fields
from datetime import UTC, datetime, timedelta

import numpy as np
import polars as pl
from bench.calibration import calibration
from rapidfuzz.distance import OSA

from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.snapshot import Snapshot
from evenhand.jobs.strays import find_strays
from evenhand.linkage import Linkage, link, roster_of
from evenhand.linkage.tables import DECIDED
from evenhand.reconcile import attribute
from evenhand.terms.columns import Frame
from evenhand.terms.files_told import FORMER_NUMBERS, GONE_PEOPLE, ROSTER_TOLD, ROSTERS_TAKEN
from evenhand.terms.likeness.explain import explain
from evenhand.terms.likeness.known_numbers import known_numbers
from evenhand.terms.likeness.slips import likelihoods, one_slip_away
from evenhand.terms.settings import PayPeriod, Policy, Settings
from evenhand.terms.sources import ENROLMENTS, PEOPLE, READERS, SCHEDULES
from evenhand.terms.tables import ATTRIBUTED, CORRECTIONS, RECORDED, REJECTED_ATTRIBUTIONS
from evenhand.twin import workplace

NOBODY = "nobody"
PLANTED = 14
OF_MANY, OF_WORKPLACE = 3, 1
"""Seeds of the many strays, and of the workplaces that are timed."""
KINDS = ("single", "adjacent", "dropped", "doubled", "by heart", "by heart", "other")


@dataclass(frozen=True)
class Scene:
    """What the workplace knows, and whose each punch truly is."""

    people: Frame
    readers: Frame
    enrolments: Frame
    schedules: Frame
    recorded: Frame
    truth: dict[int, str]


def invent(seed: int, *, hard: bool) -> Scene:
    """Return the twin's workplace of that seed with more wrong numbers planted."""
    rng = np.random.default_rng([seed, 77])
    world = workplace(seed, weeks=2 if hard else 6)
    columns = {name: world.punches[name] for name in world.punches.columns}
    recorded = RECORDED.frame({"punch": range(world.punches.height), **columns})
    truth = dict(zip(recorded["punch"].to_list(), world.truth.owners["person"].to_list(), strict=True))
    people, enrolments = world.people, world.enrolments
    recorded, enrolments = _mistyped(rng, recorded, people, enrolments, truth, hard=hard)
    if hard:
        unknown = rng.random(people.height) < 0.5
        people = people.with_columns(
            pl.when(pl.Series(~unknown)).then(pl.col(name)).alias(name) for name in ("phone", "address")
        )
        enrolments = enrolments.with_columns(name=pl.lit(None, pl.String))
        gone = set(rng.choice(people["person"].to_list(), 8, replace=False).tolist())
        people = people.filter(~pl.col("person").is_in(list(gone)))
    last = world.first + timedelta(days=world.days)
    here = set(people.filter(pl.col("left_on").is_null() | (pl.col("left_on") >= last))["person"].to_list())
    return Scene(
        people,
        world.readers,
        enrolments,
        SCHEDULES.empty() if hard else world.schedules,
        recorded,
        {punch: owner if owner in here else NOBODY for punch, owner in truth.items()},
    )


def _mistyped(
    rng: np.random.Generator, recorded: Frame, people: Frame, enrolments: Frame, truth: dict[int, str], *, hard: bool
) -> tuple[Frame, Frame]:
    """Give some people's punches at one reader a wrong number, as if their hand had been enrolled under it."""
    taken = {*people["number"].drop_nulls(), *enrolments["number"]}
    staying = people.filter(pl.col("left_on").is_null(), pl.col("number").is_not_null())
    owners = pl.Series([truth[punch] for punch in recorded["punch"].to_list()])
    recorded = recorded.with_columns(owner=owners)
    for row in staying.sample(PLANTED, seed=int(rng.integers(2**31))).iter_rows(named=True):
        mine = recorded.filter(pl.col("owner") == row["person"], pl.col("number") == row["number"])
        if not mine.height:
            continue
        reader = mine["reader"].mode().sort()[0]
        typed = _typed(rng, row, taken, str(rng.choice(KINDS + (("other",) if hard else ()))))
        taken.add(typed)
        moved = (pl.col("owner") == row["person"]) & (pl.col("reader") == reader) & (pl.col("number") == row["number"])
        recorded = recorded.with_columns(number=pl.when(moved).then(pl.lit(typed)).otherwise("number"))
        listed = (pl.col("reader") == reader) & (pl.col("number") == row["number"])
        enrolments = enrolments.with_columns(number=pl.when(listed).then(pl.lit(typed)).otherwise("number"))
    return recorded.drop("owner"), enrolments


def _typed(rng: np.random.Generator, row: dict[str, object], taken: set[str], kind: str) -> str:
    number = str(row["number"])
    if kind == "by heart":
        known = set(known_numbers(PEOPLE.rows([{"person": "", **row}]))["number"])
        choices = sorted(heart for heart in known if len(heart) == len(number) and heart not in taken)
    elif kind == "other":
        choices = []
    else:
        near = set(one_slip_away(number)) - taken
        choices = sorted(other for other in near if kind in likelihoods(other, number))
    while not choices:
        drawn = str(int(rng.integers(10 ** (len(number) - 1), 10 ** len(number))))
        choices = [drawn] if drawn not in taken else []
    return str(rng.choice(choices))


@dataclass(frozen=True)
class Answered:
    """Whose a stray truly is, and what each method says, with the model's probabilities."""

    truth: str
    model: str
    sure: float
    by_number: str
    by_time: str
    chances: dict[str, float]


def answer(scene: Scene) -> list[Answered]:
    """Return the answers for every unattributed stray of the scene."""
    parted = attribute(scene.recorded, scene.people, scene.readers, CORRECTIONS.empty())
    linkage = linked(scene, parted.attributed, parted.unattributed)
    found = []
    for stray in linkage.strays.iter_rows(named=True):
        rows = linkage.candidates.filter(pl.col("stray") == stray["stray"])
        chances = {**dict(rows.select("person", "probability").iter_rows()), NOBODY: stray["nobody"]}
        owners = [scene.truth[punch] for punch in _punches_of(linkage, stray["stray"])]
        best = max(chances, key=chances.__getitem__)
        found.append(
            Answered(
                max(set(owners), key=owners.count),
                best,
                chances[best],
                _nearest_number(stray["number"], scene),
                _nearest_time(stray, linkage, scene, parted.attributed),
                chances,
            )
        )
    return found


def linked(scene: Scene, attributed: Frame, unattributed: Frame) -> Linkage:
    """Return the linkage of the scene's unattributed punches."""
    return link(
        unattributed.with_columns(holder=pl.lit(None, pl.String)),
        roster=roster_of(scene.people, scene.readers, attributed, scene.schedules),
        readers=scene.readers,
        enrolments=scene.enrolments,
        refused=scene.recorded.filter(pl.col("outcome") == "refused"),
        explanations=explain(unattributed["number"], scene.people),
        policy=Policy(),
        confirmed=DECIDED.empty(),
        rejected=DECIDED.empty(),
    )


def _punches_of(linkage: Linkage, stray: str) -> list[int]:
    return linkage.punches.filter(pl.col("stray") == stray)["punch"].to_list()


def _nearest_number(number: str, scene: Scene) -> str:
    rows = scene.people.filter(pl.col("number").is_not_null()).select("person", "number").iter_rows()
    distance, person = min((OSA.distance(number, other), person) for person, other in rows)
    return person if distance <= 2 else NOBODY


def _nearest_time(stray: dict[str, object], linkage: Linkage, scene: Scene, attributed: Frame) -> str:
    """Whoever of the site is most often without a punch of their own on the stray's days, then nearest in time."""
    site = scene.readers.filter(pl.col("reader") == stray["reader"])["site"][0]
    at = scene.recorded.filter(pl.col("punch").is_in(_punches_of(linkage, str(stray["stray"]))))["at"]
    days = (at // 86_400).unique()
    people = scene.people.filter(pl.col("site") == site).select("person")
    present = (
        attributed.with_columns(day=pl.col("at") // 86_400)
        .filter(pl.col("day").is_in(days.implode()))
        .group_by("person")
        .agg(pl.col("day").n_unique().alias("present"))
    )
    planned = scene.schedules.join(people, on="person").with_columns(
        off=pl.col("starts_at").map_elements(lambda start: int((at - start).abs().min()), return_dtype=pl.Int64)
    )
    near = planned.group_by("person").agg(pl.col("off").mean())
    ranked = (
        people.join(present, on="person", how="left")
        .join(near, on="person", how="left")
        .with_columns(pl.col("present").fill_null(0), pl.col("off").fill_null(1e9))
        .sort("present", "off", "person")
    )
    return str(ranked["person"][0]) if ranked.height and ranked["present"][0] < len(days) else NOBODY


def bench_strays(seeds: int = 12) -> None:
    """Print accuracy, what may be confirmed unasked, and calibration, for easy and hard workplaces."""
    for level in ("easy", "hard"):
        found = [one for seed in range(1, seeds + 1) for one in answer(invent(seed, hard=level == "hard"))]
        right = np.array([one.model == one.truth for one in found])
        named = np.array([one.model != NOBODY for one in found])
        sure = np.array([one.sure for one in found])
        attributed = np.array([one.truth != NOBODY for one in found])
        print(f"strays, {level}: {len(found)} on {seeds} workplaces, {int((~attributed).sum())} nobody's")
        for name, says in (
            ("this model", [one.model for one in found]),
            ("nearest number", [one.by_number for one in found]),
            ("nearest in time", [one.by_time for one in found]),
        ):
            hits = np.mean([said == one.truth for said, one in zip(says, found, strict=True)])
            print(f"  top-1 accuracy, {name:<16} {hits:.3f}")
        asked = named & (sure >= 0.99)
        precise = right[asked].mean() if asked.any() else float("nan")
        print(
            f"  confirmable at p >= 0.99: {asked.sum() / max(attributed.sum(), 1):.3f} of them, precise {precise:.4f}"
        )
        print(f"  confirmable while precision stays >= 0.99: {_share_at_precision(right, sure, named, attributed):.3f}")
        every = [(name == one.truth, chance) for one in found for name, chance in one.chances.items() if chance > 1e-6]
        happened, said = zip(*every, strict=True)
        scores = calibration(happened, said, edges=(0.001, 0.05, 0.2, 0.5, 0.8, 0.95, 0.99))
        print(f"  Brier a candidate {scores.brier:.4f}, of the top choice {np.mean((sure - right) ** 2):.4f}")
        print(f"  reliability {scores.reliability:.5f}, expected calibration error {scores.expected_error:.4f}")
        for forecast, size, seen in scores.table:
            print(f"    said {forecast:.4f}  seen {seen:.4f}  ({size})")


def _share_at_precision(right: np.ndarray, sure: np.ndarray, named: np.ndarray, attributed: np.ndarray) -> float:
    order = np.argsort(-sure[named], kind="stable")
    hits = np.cumsum(right[named][order])
    good = np.flatnonzero(hits / np.arange(1, len(hits) + 1) >= 0.99)
    return float((good[-1] + 1) / max(attributed.sum(), 1)) if len(good) else 0.0


def bench_many(strays: int = 10_000, people: int = 100_000) -> None:
    """Print how long `strays` against `people` take, explanations of their numbers included."""
    scene, attributed, unattributed = _crowd(strays, people)
    begins, processor = time.perf_counter(), time.process_time()
    explained = explain(unattributed["number"], scene.people)
    by_number = time.perf_counter()
    linkage = link(
        unattributed.with_columns(holder=pl.lit(None, pl.String)),
        roster=roster_of(scene.people, scene.readers, attributed, scene.schedules),
        readers=scene.readers,
        enrolments=scene.enrolments,
        refused=RECORDED.empty(),
        explanations=explained,
        policy=Policy(),
        confirmed=DECIDED.empty(),
        rejected=DECIDED.empty(),
    )
    ends, spent = time.perf_counter(), time.process_time() - processor
    best = linkage.candidates.filter("is_best").select("stray", "person").iter_rows()
    first = dict(linkage.punches.unique("stray", keep="first").iter_rows())
    right = sum(scene.truth[first[stray]] == person for stray, person in best)
    print(f"{linkage.strays.height:,} strays ({unattributed.height:,} punches) against {people:,} people")
    print(
        f"  {linkage.candidates.height:,} pairs; {spent:.2f} s of a processor, {ends - begins:.2f} s in all, "
        f"of it {by_number - begins:.2f} s for the numbers"
    )
    print(f"  right person {right / linkage.strays.height:.3f}")


def _crowd(strays: int, people: int) -> tuple[Scene, Frame, Frame]:
    """A hundred sites, a week of four punches a day; some people's hands enrolled under wrong numbers."""
    rng = np.random.default_rng(OF_MANY)
    sites, days, digits = 100, 5, 6
    number = np.array([str(value).zfill(digits) for value in rng.permutation(10**digits)[:people]], dtype=object)
    site = np.arange(people) % sites
    starts = 1_772_409_600 + np.array([6, 14, 22])[rng.integers(0, 3, people)] * 3600
    roster = PEOPLE.frame(
        {
            "person": [f"P{who}" for who in range(people)],
            "name": [f"N{who}" for who in range(people)],
            "number": number.tolist(),
            "site": [f"S{place:03d}" for place in site],
            "phone": [f"555{value:07d}" for value in rng.integers(0, 10**7, people)],
        }
    )
    names = [f"S{place:03d}" for place in range(sites)]
    readers = READERS.frame({"reader": [f"{name}-R" for name in names], "site": names, "zone": ["UTC"] * sites})
    who = np.tile(np.repeat(np.arange(people), 4), days)
    day = np.repeat(np.arange(days), 4 * people)
    act = np.tile(np.array([0, 14_400, 16_200, 28_800]), people * days)
    at = starts[who] + 86_400 * day + act + rng.integers(-400, 200, len(who))
    wrong = rng.choice(people, strays, replace=False)
    typed, taken = {}, set(number.tolist())
    for one in wrong.tolist():
        row = {"number": number[one], "phone": roster["phone"][one], "address": None, "hired_on": None}
        typed[one] = _typed(rng, row, taken, str(rng.choice(["single", "adjacent", "dropped", "by heart"])))
        taken.add(typed[one])
    is_wrong, absent = np.isin(who, wrong), rng.random(people * days)[who * days + day] < 0.03
    kept = ~absent
    reader = np.array([f"S{place:03d}-R" for place in site], dtype=object)[who]
    way = np.tile(np.array(["in", "out"], dtype=object), len(who) // 2)
    mine, lost = np.flatnonzero(kept & ~is_wrong), np.flatnonzero(kept & is_wrong)
    attributed = ATTRIBUTED.frame(
        {
            "punch": mine,
            "person": [f"P{one}" for one in who[mine]],
            "reader": reader[mine].tolist(),
            "zone": ["UTC"] * len(mine),
            "at": at[mine],
            "direction": way[mine].tolist(),
        }
    )
    unattributed = RECORDED.frame(
        {
            "punch": lost,
            "reader": reader[lost].tolist(),
            "number": [typed[one] for one in who[lost].tolist()],
            "at": at[lost],
            "direction": way[lost].tolist(),
        }
    )
    person, on = np.repeat(np.arange(people), days), np.tile(np.arange(days), people)
    planned = SCHEDULES.frame(
        {
            "person": [f"P{one}" for one in person],
            "starts_at": starts[person] + 86_400 * on,
            "ends_at": starts[person] + 86_400 * on + 28_800,
        }
    )
    truth = {int(punch): f"P{one}" for punch, one in zip(lost, who[lost].tolist(), strict=True)}
    return Scene(roster, readers, ENROLMENTS.empty(), planned, RECORDED.empty(), truth), attributed, unattributed


def bench_workplace(people: int, weeks: int = 8) -> None:
    """Print how long the strays of a whole workplace take, once its punches are read and attributed."""
    world = workplace(OF_WORKPLACE, weeks=weeks, people=people, readers=max(8, people // 40))
    given: dict[str, object] = dict.fromkeys((field.name for field in fields(Snapshot)), None)
    columns = {name: world.punches[name] for name in world.punches.columns}
    given |= {
        "settings": Settings("Mill", PayPeriod(world.first)),
        "people": world.people,
        "readers": world.readers,
        "enrolments": world.enrolments,
        "schedules": world.schedules,
        "recorded": RECORDED.frame({"punch": range(world.punches.height), **columns}),
        "corrections": CORRECTIONS.empty(),
        "rejected_attributions": REJECTED_ATTRIBUTIONS.empty(),
        "former_numbers": FORMER_NUMBERS.empty(),
        "roster_told": ROSTER_TOLD.empty(),
        "rosters_taken": ROSTERS_TAKEN.empty(),
        "gone_people": GONE_PEOPLE.empty(),
    }
    as_of = datetime.combine(world.first, datetime.min.time(), UTC) + timedelta(weeks=weeks)
    snapshot = Snapshot(**given)  # type: ignore[arg-type]
    spent = []
    for _ in range(4):
        reckoning = Reckoning(snapshot, as_of)
        assert reckoning.attribution.attributed.height
        begins, processor = time.perf_counter(), time.process_time()
        found = find_strays(reckoning)
        spent.append((time.perf_counter() - begins, time.process_time() - processor))
    first, best = spent[0], min(spent[1:])
    print(f"{people:,} people, {weeks} weeks, {world.punches.height:,} punches: {len(found.proposals)} strays")
    print(f"  the first time {first[0]:.2f} s ({first[1]:.2f} of a processor), then {best[0]:.2f} s ({best[1]:.2f})")


def main() -> None:
    """Print what the options ask for, or every measurement."""
    asked = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    asked.add_argument("--seeds", type=int, default=12)
    asked.add_argument("--strays", type=int, default=10_000)
    asked.add_argument("--people", type=int, default=100_000)
    asked.add_argument("--workplaces", type=int, nargs="+", default=[300, 10_000], help="of how many people")
    asked.add_argument("--only", choices=["accuracy", "many", "workplace"])
    given = asked.parse_args()
    print(f"seeds: accuracy 1 to {given.seeds}, many {OF_MANY}, workplaces {OF_WORKPLACE}")
    if given.only in {None, "accuracy"}:
        bench_strays(given.seeds)
    if given.only in {None, "many"}:
        bench_many(given.strays, given.people)
    if given.only in {None, "workplace"}:
        for people in given.workplaces:
            bench_workplace(people)


if __name__ == "__main__":
    main()
