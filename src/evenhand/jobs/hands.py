"""Look at hands and readers through scores and refusals: what changed, whom to enrol again, what cannot be known."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from functools import cached_property
from pathlib import Path
from typing import Any

import numpy as np
import polars as pl

from evenhand import reconcile, scores
from evenhand.jobs.workspace import Workspace
from evenhand.store import frames
from evenhand.terms.columns import Frame
from evenhand.terms.records import Finding, Refusal, Stake
from evenhand.terms.zones import DAY_S, offsets_of

__all__ = ["Hands", "PersonHands", "export", "findings", "look_at_hands", "person_hands", "tables_of"]

HISTORY = timedelta(weeks=26)
WORTH = 3.0
"""Refused presentations a month from which a new enrolment is proposed as a finding."""
PUNCH_SHIFT = 32  # a stored punch's number holds the taking it came with above these bits


@dataclass(frozen=True)
class Hands:
    """What the log says as of an instant. `model` is None where there are too few scores to fit."""

    as_of: datetime
    budget: float
    limit: float
    presented: Frame
    screened: scores.Screened
    model: scores.ScoreModel | None
    design: scores.Design | None
    alarms: Frame
    forecasts: Frame
    health: Frame
    names: dict[str, str]
    sites: dict[str, str]

    @cached_property
    def rates(self) -> Frame:
        """Return the error rates (ERROR_RATES), computed when first asked for."""
        return scores.error_rates(self.presented, self.sites)

    @cached_property
    def explained(self) -> Frame:
        """Return what each score is made of (EXPLAINED), computed when first asked for."""
        return scores.explain(self.model) if self.model is not None else scores.EXPLAINED.empty()


@dataclass(frozen=True)
class PersonHands:
    """One person's part: the level by day, alarms, forecast, and what each score is made of."""

    person: str
    name: str
    daily: Frame
    alarms: Frame
    forecast: dict[str, Any] | None
    rates: Frame
    explained: Frame
    enrolled: tuple[Any, ...]


def look_at_hands(
    workspace: Workspace, as_of: datetime, *, budget: float = 1.0, limit: float = 0.05, history: timedelta = HISTORY
) -> Hands:
    """Return what scores and refusals of the last weeks tell; nothing is written.

    `budget` is how many false alarms a month all charts together may make, `limit` the share of refused
    presentations that is too much. Raises Refusal for a budget or a limit that cannot be.
    """
    if not 0 < limit < 1:
        raise Refusal(f"a limit of {limit:g} is no share of presentations; give one between 0 and 1, such as 0.05.")
    presented, taken_at, people, readers = _read(workspace, as_of, history)
    screened = scores.screen_scores(presented)
    credible, suspect = scores.separate_suspects(screened.presented)
    screened = replace(screened, presented=credible.sort("at", "punch"), issues=(*screened.issues, *_suspects(suspect)))
    model = scores.fit_scores(screened.presented)
    design = scores.design_for(model, screened.presented, budget) if presented.height else None
    health = [
        scores.quiet_readers(presented, int(as_of.timestamp())),
        scores.refusal_bursts(presented),
        scores.clock_offsets(presented),
        scores.ahead_of_file(presented.with_columns(take=pl.col("punch") // 2**PUNCH_SHIFT), taken_at),
    ]
    if model is not None:
        health.append(scores.reader_offsets(model))
    return Hands(
        as_of=as_of,
        budget=budget,
        limit=limit,
        presented=presented,
        screened=screened,
        model=model,
        design=design,
        alarms=scores.find_alarms(model, screened.presented, design) if design is not None else scores.ALARMS.empty(),
        forecasts=scores.forecast(model, limit=limit) if model is not None else scores.FORECASTS.empty(),
        health=pl.concat(health).sort("reader", "kind", "since"),
        names=dict(people.select("person", "name").iter_rows()),
        sites=dict(readers.select("reader", "site").iter_rows()),
    )


def _read(workspace: Workspace, as_of: datetime, history: timedelta) -> tuple[Frame, dict[int, int], Frame, Frame]:
    """Read the presentations of people with a sole number, whichever way they ended, in civil time."""
    now = int(as_of.timestamp())
    with workspace.store.reading() as conn:
        people, readers = frames.people(conn), frames.readers(conn)
        recorded = frames.recorded(conn, since=now - int(history.total_seconds()), until=now + DAY_S)
        said = frames.corrections(conn).filter(pl.col("action") == "attribute")
        takes = frames.takes(conn)
    # the owner of a number is found as for hours; refused presentations have one just the same
    everything = recorded.with_columns(outcome=pl.lit("accepted"))
    owned = reconcile.attribute(everything, people, readers, said).owned.select("punch", "person", "zone")
    placed = recorded.join(owned, on="punch", how="inner").sort("at", "punch")
    local = np.zeros(placed.height, dtype=np.int64)
    at, zones = placed["at"].to_numpy(), placed["zone"].to_numpy()
    for zone in placed["zone"].unique().to_list():
        there = zones == zone
        local[there] = offsets_of(zone).to_local(at[there])
    presented = scores.PRESENTED.frame(
        {
            **{name: placed[name] for name in ("punch", "person", "reader", "at", "direction", "score")},
            "day": pl.Series(local // DAY_S).cast(pl.Int32).cast(pl.Date),
            "clock_s": local % DAY_S,
            "is_refused": (placed["outcome"] == "refused").fill_null(value=False),
        }
    )
    return presented, dict(takes.select("take", "taken_at").iter_rows()), people, readers


def _suspects(suspect: Frame) -> list[scores.DataIssue]:
    if not suspect.height:
        return []
    says = (
        f"{suspect.height:,} refused presentations were probably another hand, or a number keyed by a slip: far beyond "
        "the person's own scores, which were as ever before and after. They are set apart and not counted."
    )
    return [scores.DataIssue("suspect_claims", None, suspect.height, says)]


def person_hands(workspace: Workspace, hands: Hands, person: str) -> PersonHands:
    """Return one person's part of what was seen; `person` is an identifier of the roster."""
    who = pl.col("person") == person
    with workspace.store.reading() as conn:
        numbers = frames.people(conn).filter(who)["number"].to_list()
        enrolled = frames.enrolments(conn).filter(pl.col("number").is_in(numbers), pl.col("enrolled_on").is_not_null())
    mine = hands.presented.filter(who)
    daily = (
        mine.group_by("day", "reader")
        .agg(
            presentations=pl.len(),
            refused=pl.col("is_refused").sum(),
            median=pl.col("score").median(),
            highest=pl.col("score").max(),
        )
        .sort("day", "reader")
    )
    forecast = hands.forecasts.filter(who)
    return PersonHands(
        person=person,
        name=hands.names.get(person, person),
        daily=daily,
        alarms=hands.alarms.filter(who),
        forecast=forecast.row(0, named=True) if forecast.height else None,
        rates=hands.rates.filter(pl.col("of") == "person", pl.col("name") == person),
        explained=hands.explained.filter(who),
        enrolled=tuple(enrolled.select("enrolled_on", "reader").sort("enrolled_on").rows()),
    )


def findings(hands: Hands) -> list[Finding]:
    """Return what needs somebody, for the Hands page: open alarms, people to enrol again, readers to see to."""
    last = hands.alarms.filter(pl.col("until").is_null()).unique(("person", "reader"), keep="last", maintain_order=True)
    found = [_alarm_finding(hands, row) for row in last.iter_rows(named=True)]
    for row in hands.forecasts.filter(pl.col("saved") >= WORTH).iter_rows(named=True):
        who = f"{hands.names.get(row['person'], row['person'])} ({row['person']})"
        found.append(
            Finding(
                code="enrol_again",
                subject=row["person"],
                person=row["person"],
                says=f"{who}: {row['says']}",
                evidence=(f"A new enrolment would save about {row['saved']:.0f} refused presentations a month.",),
                stake=Stake(people=1),
                next_step=f"Enrol {who} again, or offer another way to clock.",
            )
        )
    for row in hands.health.iter_rows(named=True):
        found.append(
            Finding(
                code=f"reader_{row['kind']}",
                subject=row["reader"],
                reader=row["reader"],
                says=row["says"],
                evidence=(),
                stake=Stake(),
                next_step=row["proposal"],
            )
        )
    return found


STEPS = {
    "hand": "Ask whether a ring, a bandage or a swelling explains it; if not, enrol again.",
    "reader": "Clean the platen; if that does not help, calibrate the reader.",
    "both": "Clean the platen first; then see whether the hand still scores high.",
    "cannot_tell": "Ask for one presentation at another reader.",
    "neither": "Look again in a few days.",
}


def _alarm_finding(hands: Hands, row: dict[str, Any]) -> Finding:
    is_hand = row["person"] is not None
    subject = row["person"] if is_hand else row["reader"]
    name = f"{hands.names.get(subject, subject)} ({subject})" if is_hand else subject
    cause = row["cause"] or ("hand" if is_hand else "reader")
    return Finding(
        code="hand_changed" if is_hand else "reader_changed",
        subject=subject,
        person=row["person"],
        reader=row["reader"],
        day=row["on"],
        says=f"{name}: {row['says']}",
        evidence=(f"Since {row['since']:%d %B}, noticed on {row['on']:%d %B}.",),
        stake=Stake(people=1 if is_hand else 0),
        next_step=STEPS["reader" if row["size"] < 0 else cause],
    )


def tables_of(hands: Hands) -> dict[str, Frame]:
    """Return the data behind every table and picture, by name."""
    daily = (
        hands.presented.group_by("person", "reader", "day")
        .agg(presentations=pl.len(), refused=pl.col("is_refused").sum(), median_score=pl.col("score").median())
        .sort("person", "reader", "day")
    )
    return {
        "alarms": hands.alarms,
        "forecasts": hands.forecasts,
        "reader_health": hands.health,
        "error_rates": hands.rates,
        "explained": hands.explained,
        "daily": daily,
    }


def export(hands: Hands, directory: Path) -> list[Path]:
    """Write the data behind every table and picture as CSV into `directory`, and return the files."""
    written = []
    directory.mkdir(parents=True, exist_ok=True)
    for name, frame in tables_of(hands).items():
        path = directory / f"{name}.csv"
        path.write_text(frame.write_csv())
        written.append(path)
    return written
