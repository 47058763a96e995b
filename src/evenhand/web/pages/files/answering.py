"""What a person answers about a file: read from a form, and written into an address."""

from __future__ import annotations

import re
from collections.abc import Mapping
from urllib.parse import urlencode

from evenhand.jobs.seen import NO_COLUMN, OWN_CLOCK
from evenhand.jobs.take import Answers
from evenhand.terms.languages import told
from evenhand.terms.sources import SOURCES
from evenhand.terms.zones import offsets_of
from evenhand.web.forms import IncompleteForm

__all__ = ["CHANGED", "WOULD_CHANGE", "address_of", "read_answers"]

USE = re.compile("use-([1-9][0-9]{0,5})")
FIELD = re.compile("field-([a-z_]+)")
WORD = re.compile("word-(.+)", re.DOTALL)
CHANGED = told("What would be taken is no longer what was shown; look at it as it is now. Nothing was taken.")
WOULD_CHANGE = told("What this would do is no longer what was shown; look at it as it is now. Nothing was changed.")
PLAIN = ("table", "reader", "zone", "dates", "layout", "roster")


def read_answers(given: Mapping[str, str]) -> Answers:
    """Return what a form or an address says about a file; what is left empty was not said.

    `use-3` says what the file's third column is, `field-number` which of its columns is the number, `word-WEJ` what
    that word stands for; `zone-other` and the like come before a suggestion that was chosen. Raises IncompleteForm for
    a table or a zone that is none, for digits that are no number, and for a roster neither whole nor a part.
    """
    said = {name: text.strip() for name, text in given.items() if text.strip()}
    said |= {name.removesuffix("-other"): text for name, text in said.items() if name.endswith("-other")}
    uses = {match[1]: text for name, text in said.items() if (match := USE.fullmatch(name))}
    uses |= {text: match[1] for name, text in said.items() if (match := FIELD.fullmatch(name))}
    if said.get("table") and said["table"] not in SOURCES:
        raise IncompleteForm(
            told(
                '"{table}" is none of the tables a file may hold: {tables}.',
                table=said["table"],
                tables=", ".join(SOURCES),
            )
        )
    said |= _emptied(said)
    try:
        offsets_of("UTC" if said.get("zone", "") in ("", OWN_CLOCK) else said["zone"])
    except KeyError as fault:
        raise IncompleteForm(
            told('"{zone}" is no time zone; give an IANA name such as America/Chicago.', zone=said["zone"])
        ) from fault
    if said.get("roster", "") not in ("", "whole", "part"):
        raise IncompleteForm(
            told(
                'a list is the whole roster or a part of it, not "{written}"; nothing was changed.',
                written=said["roster"],
            )
        )
    zeros = said.get("zeros", "")
    if zeros and not re.fullmatch("[0-9]{1,2}", zeros):
        raise IncompleteForm(
            told(
                'numbers are padded to a count of digits such as 5, not to "{written}"; nothing was changed.',
                written=zeros,
            )
        )
    return Answers(
        **{name: said.get(name, "") for name in PLAIN},
        zeros=int(zeros) if zeros else None,
        maps={column: name for column, name in uses.items() if name != NO_COLUMN},
        ignored=frozenset(column for column, name in uses.items() if name == NO_COLUMN),
        words={match[1]: text for name, text in said.items() if (match := WORD.fullmatch(name))},
    )


def _emptied(said: Mapping[str, str]) -> dict[str, str]:
    """Return what is said by leaving a box as it was, or by emptying one in which something stood.

    `zone-held` and `zeros-held` tell what the file's layout holds, or that a person has said otherwise ("said").
    """
    found = {}
    for name, nothing in (("zone", OWN_CLOCK), ("zeros", "0")):
        if held := said.get(f"{name}-held"):
            written = said.get(name, nothing)
            found[name] = "" if written == held else written
    return found


def address_of(place: str, answers: Answers) -> str:
    """Return the address of a page by these answers, under the names that forms give; what was not said is left out."""
    plain = {name: getattr(answers, name) for name in PLAIN if getattr(answers, name)}
    zeros = {} if answers.zeros is None else {"zeros": str(answers.zeros)}
    uses = {**dict(answers.maps), **dict.fromkeys(sorted(answers.ignored), NO_COLUMN)}
    words = {f"word-{word}": meaning for word, meaning in answers.words.items()}
    parameters = urlencode(plain | zeros | words | {f"use-{column}": name for column, name in uses.items()})
    return f"{place}?{parameters}" if parameters else place
