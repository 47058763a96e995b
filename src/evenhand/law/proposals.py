"""When a missing punch may have been: a proposal from the person's own habits and schedule, never applied.

Source: common practice, no source; 29 CFR 516.2(a)(7) wants the hours that were worked, which only the person knows.
Where the person was scheduled, past punches of that way are compared with the schedule they belonged to; else past
shifts are compared by how long they were, and by the clock. Of these habits the one that strays least is used.
"""

from __future__ import annotations

import polars as pl

from evenhand.terms.columns import Frame
from evenhand.terms.hours import PROPOSALS
from evenhand.terms.zones import DAY_S, Offsets, offsets_of

__all__ = ["propose_punches"]

CLOSE_S = 15 * 60
NEAR_S = 4 * 3600
FEWEST = 3
"""A habit is a habit from three past punches on."""

IS_END = pl.col("kind") == "missing_out"
KEYS = ("question", "habit")
DEVIATION = pl.col("deviation")


def propose_punches(questions: Frame, classed: Frame, schedules: Frame, zone: str) -> Frame:
    """Return a proposal (PROPOSALS) for each missing punch in `questions` (QUESTIONS) that a habit speaks to.

    `classed` (CLASSED) and `schedules` (SCHEDULES) should reach some weeks back; `zone` is where the clock is read.
    Questions without at least three past punches to go by get none.
    """
    missing = questions.filter(pl.col("kind").is_in(["missing_in", "missing_out"]))
    asked = missing.select("person", "kind", "punch", "at").with_row_index("question")
    past = _past(asked, _clear_shifts(classed, questions))
    if past.is_empty():
        return PROPOSALS.empty()
    local = offsets_of(zone)
    habits = pl.concat([_by_length(past), _by_clock(past, local), _by_schedule(past, schedules)])
    return _proposals(asked, habits)


def _clear_shifts(classed: Frame, questions: Frame) -> Frame:
    """Return the shifts (person, starts, ends) of whoever is asked about, without those that a question touches."""
    theirs = classed.join(questions.select("person").unique(), on="person", how="semi")
    shifts = theirs.group_by("person", "shift").agg(pl.col("starts").min(), pl.col("ends").max())
    touched = shifts.join(questions.select("person", "at").unique(), on="person").filter(
        pl.col("at").is_between(pl.col("starts") - NEAR_S, pl.col("ends") + NEAR_S)
    )
    return shifts.join(touched, on=["person", "shift"], how="anti").select("person", "starts", "ends")


def _past(asked: Frame, shifts: Frame) -> Frame:
    """Return each question beside clear shifts: `known` is like the punch there is, `sought` like the missing one."""
    beside = asked.join(shifts, on="person").with_columns(
        known=pl.when(IS_END).then("starts").otherwise("ends"),
        sought=pl.when(IS_END).then("ends").otherwise("starts"),
    )
    return beside.filter(pl.len().over("question") >= FEWEST)


def _by_length(past: Frame) -> Frame:
    """How long past shifts were, from the punch that is there."""
    return _habit(past, 0, guess=pl.col("at"), deviation=pl.col("sought") - pl.col("known"))


def _by_clock(past: Frame, local: Offsets) -> Frame:
    """What the clock showed in past shifts that began, or ended, at a like time of day."""
    civil = past.with_columns(
        pl.Series(f"{name}_civil", local.to_local(past[name].to_numpy())) for name in ("at", "known", "sought")
    )
    apart = (pl.col("known_civil") - pl.col("at_civil") + DAY_S // 2) % DAY_S - DAY_S // 2
    # Counted from the midnight that stands to the known punch as that of the question's day does to its punch.
    midnight = pl.col("known_civil") - apart - pl.col("at_civil") % DAY_S
    like = civil.filter(apart.abs() <= NEAR_S // 2).with_columns(clock=pl.col("sought_civil") - midnight)
    usual = like.with_columns(usual=pl.col("clock").median().over("question").cast(pl.Int64))
    shown = (usual["at_civil"] - usual["at_civil"] % DAY_S + usual["usual"]).to_numpy()
    guessed = usual.with_columns(guess=pl.Series(local.from_local(shown)[0], dtype=pl.Int64))
    return _habit(guessed, 1, guess=pl.col("guess"), deviation=pl.col("clock") - pl.col("usual"))


def _by_schedule(past: Frame, schedules: Frame) -> Frame:
    """How past punches compare with the schedule they belonged to, where the punch that is there was scheduled."""
    found = []
    for kind, other, bound in (("missing_out", "starts_at", "ends_at"), ("missing_in", "ends_at", "starts_at")):
        mine = past.filter(pl.col("kind") == kind)
        planned = schedules.select("person", "starts_at", "ends_at").join(mine, on="person", how="semi")
        of_punch = _nearest(mine.unique("question").select("question", "person", "at"), planned, "at", other)
        scheduled = of_punch.filter((pl.col(other) - pl.col("at")).abs() <= NEAR_S).select("question", guess=bound)
        compared = _nearest(mine.join(scheduled, on="question"), planned.select("person", bound), "sought", bound)
        deviation = pl.col("sought") - pl.col(bound)
        near = compared.filter(deviation.abs() <= NEAR_S)
        found.append(_habit(near, 2, guess=pl.col("guess"), deviation=deviation))
    return pl.concat(found)


def _nearest(left: Frame, right: Frame, at: str, other: str) -> Frame:
    """Return each row with the person's row of `right` whose `other` lies nearest to `at`."""
    return (
        left.sort(at)
        .join_asof(
            right.sort(other), left_on=at, right_on=other, by="person", strategy="nearest", check_sortedness=False
        )
        .drop_nulls(other)
    )


def _habit(past: Frame, habit: int, *, guess: pl.Expr, deviation: pl.Expr) -> Frame:
    """Return question, habit, guess and deviation [s] of each past punch, where there are enough of them."""
    rows = past.select("question", pl.lit(habit).alias("habit"), guess.alias("guess"), deviation.alias("deviation"))
    return rows.filter(pl.len().over("question") >= FEWEST)


def _proposals(asked: Frame, habits: Frame) -> Frame:
    """Return the proposal by the habit that strays least, for each question."""
    low, middle, high = (
        ((DEVIATION.quantile(at, "linear") / 60).round() * 60).cast(pl.Int64) for at in (0.1, 0.5, 0.9)
    )
    # Few past punches look closer together than they are.
    spread = (DEVIATION.quantile(0.9, "linear") - DEVIATION.quantile(0.1, "linear")) * (1 + 2 / pl.len())
    close = ((DEVIATION - middle).abs() <= CLOSE_S).sum().cast(pl.Int64)
    told = habits.group_by(KEYS).agg(
        pl.col("guess").first(),
        seen=pl.len().cast(pl.Int64),
        low=low,
        middle=middle,
        high=high,
        spread=spread,
        close=close,
    )
    best = told.sort("question", "spread", "habit").unique("question", keep="first", maintain_order=True)
    proposed = asked.join(best, on="question", maintain_order="left")
    rows = proposed.with_columns(
        low=_beside(pl.col("guess") + pl.col("low")),
        at=_beside(pl.col("guess") + pl.col("middle")),
        high=_beside(pl.col("guess") + pl.col("high")),
        # Laplace's rule of succession: from few punches nothing is certain.
        likely=(pl.col("close") + 1) / (pl.col("seen") + 2),
        says=_says(),
    )
    return PROPOSALS.frame(rows.select(PROPOSALS.names).to_dict())


def _beside(guessed: pl.Expr) -> pl.Expr:
    """Return what is guessed, but never on the wrong side of the punch that stands alone."""
    return pl.when(IS_END).then(pl.max_horizontal(guessed, "at")).otherwise(pl.min_horizontal(guessed, "at"))


def _says() -> pl.Expr:
    bound, seen = pl.when(IS_END).then(pl.lit("end")).otherwise(pl.lit("start")), pl.col("seen")
    rests_on = (
        pl.when(pl.col("habit") == 0)
        .then(pl.format("how long the person's last {} shifts were", seen))
        .when(pl.col("habit") == 1)
        .then(pl.format("when the clock showed {} of the person's past {}s", seen, bound))
        .otherwise(pl.format("the scheduled {} and how {} past ones compare with theirs", bound, seen))
    )
    return pl.format("from {}: {} of {} within 15 minutes", rests_on, pl.col("close"), seen)
