"""The workplace's own steps at a kind of reader: how to get in, enrol, make a supervisor, remove, get out.

What is done at a reader differs by kind, and nobody but the workplace says what it is: it gives its kinds their names
and writes the steps in its own words, in each language its people read. None come with evenhand.
"""

from __future__ import annotations

import tomllib
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from evenhand.terms.languages import told
from evenhand.terms.lines import as_line
from evenhand.terms.records import Refusal
from evenhand.terms.words import as_toml

__all__ = [
    "ACTIONS",
    "HEADINGS",
    "SECONDS_MOST",
    "OwnSteps",
    "Quick",
    "headings_of",
    "own_steps_text",
    "read_own_steps",
]

HEADINGS = ("get_in", "enrol", "make_supervisor", "remove", "get_out")
IN_TURN: Mapping[str, tuple[str, ...]] = {
    "enrol": ("get_in", "enrol", "get_out"),
    "enrol_again": ("get_in", "enrol", "get_out"),
    "enrol_supervisor": ("get_in", "enrol", "make_supervisor", "get_out"),
    "remove": ("get_in", "remove", "get_out"),
}
ACTIONS = tuple(IN_TURN)
SECONDS_MOST, STEPS_MOST, LETTERS_MOST = 600, 30, 300


@dataclass(frozen=True)
class Quick:
    """A step that must be quick: its place under its heading, from 1, and within how many seconds it is done."""

    step: int
    seconds: int


@dataclass(frozen=True)
class OwnSteps:
    """The steps at one kind of reader.

    `words` holds by language and heading (HEADINGS) the steps in order; `quick` by heading which step must be quick.
    """

    kind: str
    readers: tuple[str, ...]
    words: Mapping[str, Mapping[str, tuple[str, ...]]]
    quick: Mapping[str, Quick] = field(default_factory=dict)

    def spoken(self, language: str) -> str:
        """Return in which language whoever reads this one is told them: in it, or in the first they have."""
        return language if language in self.words else next(iter(self.words), language)


def headings_of(action: str) -> tuple[str, ...]:
    """Return under which HEADINGS the steps for an action of a round (ROUND_ITEMS) stand, in order."""
    return IN_TURN[action]


def read_own_steps(text: str, name: str, languages: Collection[str]) -> OwnSteps:
    """Return the steps in the text of a TOML file called `name`; raises Refusal at what is not understood.

    A table for each of the `languages` it is written in holds a list of steps by heading; [quick] says of a heading
    which step must be quick, such as `enrol = { step = 3, seconds = 8 }`.
    """
    try:
        content = tomllib.loads(text)
    except tomllib.TOMLDecodeError as fault:
        raise Refusal(
            told(
                "{name} is no TOML ({fault}); `evenhand steps example` prints a form to fill in.",
                name=name,
                fault=fault,
            )
        ) from fault
    written = {language: content[language] for language in languages if language in content}
    unknown = sorted(set(content) - {"kind", "readers", "quick", *languages})
    if unknown:
        raise Refusal(
            told(
                "{name}: {unknown} is not known here; give kind, readers, quick and a table a language.",
                name=name,
                unknown=unknown[0],
            )
        )
    words = {language: _headings(table, f"{name}, [{language}]") for language, table in written.items()}
    if not any(steps for table in words.values() for steps in table.values()):
        raise Refusal(
            told("{file}: no step is written in any language; write at least one under a heading.", file=name)
        )
    return OwnSteps(
        kind=_line(content.get("kind"), f"{name}: kind", told("the name that you give this kind of reader")),
        readers=_readers(content.get("readers", []), name),
        words={language: table for language, table in words.items() if any(table.values())},
        quick=_quick(content.get("quick", {}), words, name),
    )


def own_steps_text(steps: OwnSteps) -> str:
    """Return the steps as the text of a TOML file, which `read_own_steps` reads back."""
    return "\n".join(_lines(steps)) + "\n"


def _lines(steps: OwnSteps) -> Iterator[str]:
    yield f"kind = {as_toml(steps.kind)}"
    yield f"readers = {as_toml(steps.readers)}"
    for language, table in steps.words.items():
        yield from ("", f"[{language}]")
        yield from (f"{heading} = {as_toml(table.get(heading, ()))}" for heading in HEADINGS)
    if steps.quick:
        yield from ("", "[quick]")
        for heading, one in steps.quick.items():
            yield f"{heading} = {{ step = {one.step}, seconds = {one.seconds} }}"


def _line(said: Any, where: str, wanted: str) -> str:
    if not isinstance(said, str) or not said.strip():
        raise Refusal(
            told(
                "{where} is {missing}; write {wanted}.",
                where=where,
                missing=told("missing") if said is None else told("empty or no text"),
                wanted=wanted,
            )
        )
    return as_line(said, where, most=LETTERS_MOST)


def _readers(said: Any, name: str) -> tuple[str, ...]:
    if not isinstance(said, list):
        raise Refusal(
            told(
                '{name}: readers is no list; write the names of the readers of this kind, such as ["GATE"].', name=name
            )
        )
    return tuple(dict.fromkeys(_line(one, f"{name}: readers", told("each reader's name")) for one in said))


def _headings(table: Any, where: str) -> dict[str, tuple[str, ...]]:
    if not isinstance(table, dict):
        raise Refusal(
            told(
                "{where} is no table; write a list of steps for each of {known}.",
                where=where,
                known=", ".join(HEADINGS),
            )
        )
    unknown = sorted(set(table) - set(HEADINGS))
    if unknown:
        raise Refusal(
            told(
                "{where}: {unknown} is no heading; the headings are {known}.",
                where=where,
                unknown=unknown[0],
                known=", ".join(HEADINGS),
            )
        )
    found = {}
    for heading in HEADINGS:
        steps = table.get(heading, [])
        if not isinstance(steps, list) or len(steps) > STEPS_MOST:
            raise Refusal(
                told(
                    "{where}: {heading} is no list of at most {most} steps; write each as a text of its own.",
                    where=where,
                    heading=heading,
                    most=STEPS_MOST,
                )
            )
        found[heading] = tuple(
            _line(step, f"{where}: step {place} of {heading}", told("what to do, in one sentence"))
            for place, step in enumerate(steps, start=1)
        )
    return found


def _quick(said: Any, words: Mapping[str, Mapping[str, tuple[str, ...]]], name: str) -> dict[str, Quick]:
    if not isinstance(said, dict) or not set(said) <= set(HEADINGS):
        raise Refusal(
            told(
                "{name}: quick names, for any of {known}, a step and its seconds.", name=name, known=", ".join(HEADINGS)
            )
        )
    return {heading: _quick_step(said[heading], words, heading, name) for heading in HEADINGS if heading in said}


def _quick_step(said: Any, words: Mapping[str, Mapping[str, tuple[str, ...]]], heading: str, name: str) -> Quick:
    where = told("{file}: quick, {heading}", file=name, heading=heading)
    if (
        not isinstance(said, dict)
        or set(said) != {"step", "seconds"}
        or not all(type(one) is int for one in said.values())
    ):
        raise Refusal(told("{where} names no step with its seconds; write {{ step = 3, seconds = 8 }}.", where=where))
    lengths = {len(table[heading]) for table in words.values() if any(table.values())}
    if len(lengths) > 1:
        raise Refusal(
            told(
                "{where}: the languages have different numbers of steps there, so which one must be quick cannot be "
                "told; write as many in each.",
                where=where,
            )
        )
    if not 1 <= said["step"] <= max(lengths, default=0):
        raise Refusal(
            told("{where}: there is no step {step}; name one that is written there.", where=where, step=said["step"])
        )
    if not 1 <= said["seconds"] <= SECONDS_MOST:
        raise Refusal(
            told(
                "{where}: {seconds} is not between 1 and {most} seconds; measure it at the reader.",
                where=where,
                seconds=said["seconds"],
                most=SECONDS_MOST,
            )
        )
    return Quick(said["step"], said["seconds"])
