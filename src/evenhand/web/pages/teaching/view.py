"""What Teaching shows: the round to practise on as text, and as one file that needs nothing else."""

from __future__ import annotations

import base64
import hashlib
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from markupsafe import Markup, escape

from evenhand.jobs.at_turn import NAMES
from evenhand.jobs.practice import PracticeKept, Scenario, Text, practice_round
from evenhand.jobs.teaching import SMALL, SupervisorWork
from evenhand.jobs.teaching_cover import ReaderCover, ShiftUncovered
from evenhand.terms.languages import pattern_of, told

__all__ = [
    "NOT_KNOWN",
    "RULE",
    "Back",
    "Texts",
    "Whole",
    "cover_shown",
    "file_name",
    "kept_in_words",
    "language_of",
    "pictures",
    "texts",
    "whole",
    "work_shown",
]


RULE = (
    told("keyed two hands or more under another number"),
    told(
        "had three or more enrolments not proved within two weeks, or hands enrolled again within four: more than "
        "chance would bring one supervisor in a hundred if everybody's work were alike"
    ),
)
"""Whoever did one of these is shown again."""
NOT_KNOWN = told(
    "“Not known yet” is said of somebody without an enrolment proved in the last half year, and without practice "
    "since in which most parts went well. Nothing on file says then that they can, or that they cannot."
)


NOBODY_THERE = told("no supervisor of the site is there then, so name one on the roster")
FIRST = 3


@dataclass(frozen=True)
class Back:
    """Where the page leads back to: a `word` of the round, or a title of the desk's."""

    address: str
    word: str = ""
    title: str = ""


@dataclass(frozen=True)
class Whole:
    """Style and script as they stand within one file, and the policy by which it runs these and fetches nothing."""

    style: Markup
    script: Markup
    policy: str


@dataclass(frozen=True)
class Texts:
    """The round in one language: its words, and its scenes to be read."""

    say: Callable[[str], str]
    scenes: list[dict[str, Any]]


def work_shown(one: SupervisorWork, language: str) -> dict[str, Any]:
    """Return what a page tells of a supervisor's practices and enrolments; parts of the round in its language."""
    work = one.work
    parts = {theme["en"]: theme[language] for theme in practice_round().themes.values()}
    return {
        "who": one.who,
        "reasons": one.reasons,
        "not_known": one.not_known,
        "practices": [
            {
                "practice": row.practice,
                "day": row.day,
                "well": row.well,
                "not_well": [parts.get(part, part) for part in row.not_well],
                "way": told("sent from the phone")
                if row.way == "phone"
                else told("code keyed by {name}", name=row.author),
            }
            for row in one.practices
        ],
        "enrolled": work.enrolled,
        "proved": told("{count} of {of}", count=work.proved, of=work.told) if work.told else told("none to tell yet"),
        "waiting": one.waiting,
        "other_number": work.other_number,
        "again": work.again,
        "is_small": one.is_small and work.enrolled > 0,
        "scores": _scores_in_words(one),
    }


def cover_shown(one: ReaderCover) -> dict[str, Any]:
    """Return what a page tells of who can at a reader; where nobody can, whom to show first, not shift by shift."""
    return {
        "reader": one.reader,
        "can": _some(one.can) or (told("nobody known yet") if one.not_known else told("nobody")),
        "again": _some(one.again) or told("nobody"),
        "not_known": _some(one.not_known) or told("nobody"),
        "lines": list(_uncovered_lines(one)),
    }


def _some(names: Sequence[str], most: int = 6) -> str:
    """Return the first names and how many more there are: of 200 supervisors nobody reads all, reader by reader."""
    if len(names) <= most:
        return "; ".join(names)
    return told("{names} and {count:,} more", names="; ".join(names[:most]), count=len(names) - most)


def _uncovered_lines(one: ReaderCover) -> Iterator[str]:
    if not one.shifts:
        yield told("no schedules on file")
    elif not one.uncovered:
        yield told("none")
    elif one.can:
        for shift in one.uncovered:
            show = told("show {names:or}", names=shift.show) if shift.show else NOBODY_THERE
            yield told(
                "{times}: {count} of {of}; {what}", times=_times(shift), count=shift.alone, of=shift.shifts, what=show
            )
    else:
        most = sorted(one.uncovered, key=lambda shift: -shift.alone)
        first = list(dict.fromkeys(name for shift in most for name in shift.show))
        if one.not_known and not one.again:
            practise = told("let {names:or} practise first", names=first[:FIRST]) if first else NOBODY_THERE
            yield told("not known yet of all {count:,}; {what}", count=one.shifts, what=practise)
            return
        show = told("show {names:or} first", names=first[:FIRST]) if first else NOBODY_THERE
        yield told("all {count:,}; {what}", count=one.shifts, what=show)
        if first:
            yield from (
                told("{times}: no supervisor of the site is there then, so name one on the roster", times=_times(shift))
                for shift in one.uncovered
                if not shift.show
            )


def _times(shift: ShiftUncovered) -> str:
    if not shift.begins:
        return told("at other times")
    return told("{begins} to {ends}", begins=shift.begins, ends=shift.ends)


def _scores_in_words(one: SupervisorWork) -> str:
    scores = one.scores
    if scores is None:
        return ""
    if scores.count < SMALL:
        few = pattern_of(
            "{count} first score, too few to say anything",
            "{count} first scores, too few to say anything",
            scores.count,
        )
        return told(few, count=scores.count)
    return told(
        "half of {count} first scores lie above {share:.0%} of the scores accepted at the site; of all {of} first "
        "scores there half lie above {usual:.0%}",
        count=scores.count,
        share=scores.median,
        of=scores.usual_count,
        usual=scores.usual,
    )


def kept_in_words(kept: PracticeKept) -> str:
    """Return what is told of a practice that was keyed."""
    if not kept.is_new:
        return told("Known already: {name} practised on {day}; nothing was changed.", name=kept.name, day=kept.day)
    return told(
        "Kept: {name} practised on {day}, and {count} of {of} parts went well.",
        name=kept.name,
        day=kept.day,
        count=kept.well,
        of=kept.of,
    )


def language_of(said: str | None) -> str:
    """Return the language asked for, or English."""
    return said if said in NAMES else "en"


def texts(scenario: Scenario, language: str, drawn: Mapping[str, Markup]) -> Texts:
    """Return the round in one language; scenes that are met only after a wrong answer stand where they are met."""

    def worded(text: Text | None) -> str:
        return text[language] if text else ""

    scenes = [
        {
            "theme": worded(scenario.themes[scene.theme]),
            "person": scene.person,
            "sheet": scene.sheet,
            "key": scene.key,
            "picture": drawn.get(scene.picture, ""),
            "says": worded(scene.say),
            "why": worded(scene.why),
            "choices": [
                {"do": worded(one.do), "why": worded(one.why), "later": worded(one.later), "right": one.right}
                for one in scene.choices
            ],
        }
        for scene in scenario.scenes.values()
    ]
    return Texts(lambda word: scenario.words[word][language], scenes)


def pictures(drawn: Mapping[str, str], scenario: Scenario, language: str) -> dict[str, Markup]:
    """Return the drawings, each saying in words what it shows."""
    return {
        name: Markup(
            svg.replace("<svg ", f'<svg role="img" aria-label="{escape(scenario.pictures[name][language])}" ', 1)
        )
        for name, svg in drawn.items()
    }


def whole(*, style: Sequence[str], script: Sequence[str]) -> Whole:
    """Return what stands within one file: its policy names the very script and style, and lets it fetch nothing."""
    styled, run = "\n".join(style), "\n".join(script)
    policy = (
        f"default-src 'none'; style-src '{_digest(styled)}'; script-src '{_digest(run)}'; base-uri 'none'; "
        "form-action 'none'"
    )
    return Whole(Markup(styled), Markup(run), policy)


def _digest(text: str) -> str:
    """Return the source expression for a text. Source: Content Security Policy Level 3, section 2.3.1."""
    return f"sha256-{base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()}"


def file_name(language: str) -> str:
    """Return what the round to practise on is called as a file in a language."""
    return "practice.html" if language == "en" else f"practice.{language}.html"
