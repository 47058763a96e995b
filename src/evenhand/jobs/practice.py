"""The round to practise on: read it with its drawings, and keep the results that people send or read out."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from functools import cache
from importlib import resources
from typing import Any

import polars as pl

from evenhand.enrolment.paper.drawings import drawing
from evenhand.enrolment.teaching.results import Result, read_result
from evenhand.enrolment.teaching.scenario import Scenario, Text, parse_scenario, sent_along
from evenhand.jobs.own_steps import own_steps_now
from evenhand.jobs.workspace import Workspace
from evenhand.records.codes import read_code
from evenhand.store import frames
from evenhand.store.decisions import add_row, decide_alone
from evenhand.terms.columns import Frame
from evenhand.terms.languages import LANGUAGES, told
from evenhand.terms.records import Refusal, Unknown

__all__ = [
    "PracticeKept",
    "Scenario",
    "Text",
    "drawings",
    "keep_practice",
    "practice_round",
    "practice_steps",
    "sent_along",
    "standing_practices",
    "take_practice_back",
    "theme_names",
]

AHEAD = timedelta(days=1)
"""By how much a phone's day may be ahead of ours: elsewhere it is tomorrow already."""


@cache
def practice_round() -> Scenario:
    """Return the round to practise on."""
    beside = resources.files("evenhand.enrolment.teaching")
    return parse_scenario(beside.joinpath("scenario.toml").read_text(encoding="utf-8"))


@cache
def drawings() -> Mapping[str, str]:
    """Return the drawings of the round, by name, as SVG."""
    return {name: drawing(name) for name in practice_round().pictures}


def practice_steps(workspace: Workspace) -> dict[str, dict[str, list[dict[str, Any]]]]:
    """Return the workplace's own steps at its kinds of reader: by heading and language, kind by kind.

    Each kind has its `title` and its `steps`, each with its `text` and, where it must be quick, its `seconds`. One that
    is not written in a language stands in the one it is written in.
    """
    found: dict[str, dict[str, list[dict[str, Any]]]] = {}
    for kind, kept in sorted(own_steps_now(workspace).items()):
        for language in LANGUAGES:
            for heading, steps in kept.steps.words[kept.steps.spoken(language)].items():
                quick = kept.steps.quick.get(heading)
                lines = [
                    {"text": text, "seconds": quick.seconds if quick and quick.step == place else None}
                    for place, text in enumerate(steps, start=1)
                ]
                if lines:
                    found.setdefault(heading, {}).setdefault(language, []).append({"title": kind, "steps": lines})
    return found


def theme_names(themes: str, language: str = "en") -> list[str]:
    """Return what themes are called that stand with spaces between; one of an earlier edition by its short name."""
    known = practice_round().themes
    return [known[theme][language] if theme in known else theme for theme in themes.split()]


@dataclass(frozen=True)
class PracticeKept:
    """A practice as it is kept; `is_new` is false for one that was known, which is kept once."""

    practice: int
    person: str
    name: str
    day: date
    well: int
    of: int
    is_new: bool


def keep_practice(
    workspace: Workspace, person: str, keyed: str, *, way: str, author: str, as_of: datetime
) -> PracticeKept:
    """Keep the result that a code tells of somebody's practice; the same code for the same person is kept once.

    Raises Refusal where the code is none or tells of a day to come, and where the person is nobody on the roster.
    """
    if not author.strip():
        raise Refusal(told("a practice is kept by somebody; say who."))
    code, result = _read(keyed)
    if result.day > as_of.astimezone(UTC).date() + AHEAD:
        raise Refusal(
            told(
                "the code says that {day} was the day of the practice, which is still to come; nothing was kept: set "
                "the phone's clock and practise again.",
                day=result.day,
            )
        )
    themes = practice_round().themes
    row = {
        "person": person,
        "code": code,
        "day": result.day.isoformat(),
        "edition": result.edition,
        "well": " ".join(result.well),
        "not_well": " ".join(theme for theme in themes if theme not in result.well),
        "way": way,
        "takes_back": None,
        "author": author,
        "made_at": int(as_of.timestamp()),
    }
    with workspace.store.writing() as conn:
        decide_alone(conn)
        names = dict(frames.people(conn).select("person", "name").iter_rows())
        if person not in names:
            raise Unknown(told('"{name}" is nobody on the roster; `evenhand people` lists everybody.', name=person))
        known = standing_practices(frames.practices(conn)).filter(person=person, code=code)
        number = add_row(conn, "practices", row) if known.is_empty() else int(known["practice"][0])
    return PracticeKept(
        number, person, names[person] or person, result.day, len(result.well), len(themes), known.is_empty()
    )


def _read(keyed: str) -> tuple[str, Result]:
    code = read_code(keyed)
    if code is None:
        raise Refusal(
            told(
                'the code "{code}" is not whole: a letter is wrong or missing; nothing was kept. Look at it again on '
                "the phone.",
                code=keyed.strip(),
            )
        )
    scenario = practice_round()
    result = read_result(code.replace("-", "")[:-1], tuple(scenario.themes))
    if result is None or result.edition != scenario.edition:
        raise Refusal(
            told(
                "the code {code} is of another edition of the round, or no code of a practice; nothing was kept. "
                "Practise with the round as it is now.",
                code=code,
            )
        )
    return code, result


def take_practice_back(workspace: Workspace, practice: int, *, author: str, as_of: datetime) -> PracticeKept:
    """Take back a practice that was kept by mistake, as under another's name; raises Refusal where none stands."""
    if not author.strip():
        raise Refusal(told("a practice is taken back by somebody; say who."))
    with workspace.store.writing() as conn:
        decide_alone(conn)
        found = standing_practices(frames.practices(conn)).filter(practice=practice)
        if found.is_empty():
            raise Unknown(told("no practice {number} stands; the page Teaching lists them.", number=practice))
        row = found.row(0, named=True)
        back = {**row, "day": row["day"].isoformat(), "takes_back": practice, "author": author}
        del back["practice"]
        number = add_row(conn, "practices", {**back, "made_at": int(as_of.timestamp())})
        names = dict(frames.people(conn).select("person", "name").iter_rows())
    well, not_well = row["well"].split(), row["not_well"].split()
    person = row["person"]
    return PracticeKept(
        number, person, names.get(person) or person, row["day"], len(well), len(well) + len(not_well), is_new=False
    )


def standing_practices(practices: Frame) -> Frame:
    """Return the practices (PRACTICES) that nobody took back."""
    back = practices["takes_back"].drop_nulls().implode()
    return practices.filter(pl.col("takes_back").is_null(), ~pl.col("practice").is_in(back))
