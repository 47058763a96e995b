"""What stands about the rows of a file: header, titles, totals, blank lines, the heads of pages."""

from __future__ import annotations

import random
from dataclasses import dataclass
from typing import Any

from bench.corpus.kit import Kit
from bench.corpus.sheets import Sheet
from bench.corpus.spoiling import Line
from bench.corpus.writing import Field

__all__ = ["Dress", "dressed"]


@dataclass(frozen=True)
class Dress:
    """The form of the file, the language of its header, how far from the ordinary (0 to 2), and whether it has none."""

    kind: str
    language: str
    nasty: int
    headless: bool


def dressed(
    rng: random.Random, kit: Kit, dress: Dress, lines: list[Line], fields: list[Field], sheet: Sheet
) -> tuple[list[Line], dict[str, str]]:
    """Return the lines with header, titles, totals, blank lines and pages' heads; and which of them there are."""
    nasty, language = dress.nasty, dress.language
    about = {"titles": "none", "totals": "none", "header": "one line", "blank lines": "none", "pages": "none"}
    if dress.kind.startswith("JSON"):
        return lines, about
    header = Line([one.header for one in fields], "header")
    if dress.kind == "delimited" and nasty and rng.random() < 0.12 and len(fields) > 2:
        spaced = [at for at, one in enumerate(fields) if " " in one.header.strip()]
        if spaced:
            at = rng.choice(spaced)
            header.cells[at] = fields[at].header.strip().replace(" ", "\n", 1)
            about["header"] = "with a line break"
    top: list[Line] = []
    if sheet.dimensions.get("reader") == "title":
        word = kit.words[language]["reader"]["full"][0]
        top.append(Line([f"{word}: {sheet.reader}"], "above"))
        about["titles"] = "with the reader"
    elif not dress.headless and rng.random() < (0.08, 0.25, 0.4)[nasty]:
        wanted = rng.randint(1, 3)
        top += [Line([text], "above") for text in rng.sample(list(kit.titles[language]), wanted)]
        about["titles"] = "some"
    if top and dress.kind != "fixed" and rng.random() < 0.5:
        top.append(Line([], "blank"))
    if dress.headless:
        about["header"] = "none"
    else:
        if nasty and dress.kind != "fixed" and rng.random() < 0.08:
            groups: list[Any] = [""] * len(fields)
            groups[0] = kit.titles[language][0]
            top.append(Line(groups, "above"))
            about["header"] = "two lines"
        elif kit.bands and dress.kind != "fixed" and rng.random() < 0.05:
            top.append(Line(_banded(kit.bands[language], fields), "above"))
            about["header"] = "below bands"
        top.append(header)
    body = lines
    if nasty and rng.random() < 0.12:
        every = rng.randint(8, 60)
        about["blank lines"] = "between"
        body = [
            one
            for at, line in enumerate(body)
            for one in ([Line([], "blank"), line] if at and at % every == 0 else [line])
        ]
    if nasty == 2 and not dress.headless and rng.random() < 0.2 and len(body) > 25:
        every = rng.randint(20, 50)
        about["pages"] = "header again"
        again = Line(list(header.cells), "noise")
        body = [one for at, line in enumerate(body) for one in ([again, line] if at and at % every == 0 else [line])]
    if rng.random() < (0.03, 0.1, 0.25)[nasty]:
        about["totals"] = "below"
        word = rng.choice(list(kit.totals[language]))
        count = sum(line.kind in {"good", "bad"} for line in body)
        body = [*body, Line([word.format(count=count)] + [""] * (len(fields) - 1), "noise")]
    if kit.notes and rng.random() < (0.03, 0.1, 0.2)[nasty]:
        about["notes"] = "below"
        wanted = rng.randint(1, 2)
        below = [Line([text], "noise") for text in rng.sample(list(kit.notes[language]), wanted)]
        body = [*body, *([Line([], "blank")] if dress.kind != "fixed" else []), *below]
    return top + body, about


_WHO = {"person", "number", "name", "site", "department", "phone", "address"}
_WHEN = {"at", "starts_at", "ends_at", "hired_on", "left_on", "enrolled_on", "given_on", "withdrawn_on", "valid_from"}


def _banded(bands: tuple[str, str], fields: list[Field]) -> list[Any]:
    """Return the bands over the columns, each where it begins."""
    over = [bands[0] if set(one.uses) & _WHO else bands[1] if set(one.uses) & _WHEN else "" for one in fields]
    return [band if at == 0 or over[at - 1] != band else "" for at, band in enumerate(over)]
