"""One file of the corpus from its number: what it is, how it is written, and what is true of it."""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from datetime import timedelta
from typing import Any

from bench.corpus.dressing import Dress, dressed
from bench.corpus.expecting import Expecting, with_lost_zeros
from bench.corpus.extras import extras
from bench.corpus.foreign import make_stranger
from bench.corpus.forms import Form, fits, render
from bench.corpus.kit import Kit, draw
from bench.corpus.lists import consent, enrolments, people, rates, readers
from bench.corpus.moments import order_of
from bench.corpus.records import Around, CorpusFile, Row
from bench.corpus.sheets import Sheet
from bench.corpus.spoiling import Line, lines_of, spoil
from bench.corpus.times import log, schedules
from bench.corpus.workplaces import Place, make_place
from bench.corpus.writing import Field, Writer

__all__ = ["make", "make_all"]

TABLES: dict[str, Callable[[Writer, int], Sheet]] = {
    "people": people,
    "readers": readers,
    "enrolments": enrolments,
    "punches": log,
    "schedules": schedules,
    "consent": consent,
    "rates": rates,
}
TABLE_WEIGHTS = (
    ("punches", 0.42),
    ("people", 0.22),
    ("enrolments", 0.12),
    ("schedules", 0.08),
    ("readers", 0.06),
    ("consent", 0.03),
    ("rates", 0.03),
    ("", 0.04),
)
SIZES = (((3, 12), 0.1), ((13, 60), 0.3), ((61, 300), 0.45), ((301, 900), 0.13), ((901, 3_000), 0.02))
FORMS = (("delimited", 0.62), ("sheet", 0.2), ("fixed", 0.09), ("JSON array", 0.045), ("JSON lines", 0.045))


def make_all(kit: Kit, numbers: Sequence[int]) -> Iterator[CorpusFile]:
    """Yield the files of these numbers."""
    for number in numbers:
        yield make(kit, number)


def make(kit: Kit, number: int) -> CorpusFile:
    """Return the file of that number, always the same."""
    rng = random.Random(f"{kit.name} {number}")
    table = draw(rng, TABLE_WEIGHTS)
    nasty = draw(rng, ((0, 0.72), (1, 0.19), (2, 0.09)))
    size = rng.randint(*draw(rng, SIZES))
    country = rng.choice(sorted(kit.workplaces))
    place = make_place(rng, country, kit.workplaces[country], _people(rng, table, size))
    if not table:
        return make_stranger(kit, number, rng, place)
    return _Making(kit, number, rng, place, table, nasty, size).file()


def _people(rng: random.Random, table: str, size: int) -> int:
    if table in {"people", "consent", "rates"}:
        return max(3, size)
    return max(4, min(400, size // rng.choice((2, 4, 10))))


class _Making:
    """The choices for one file, each made once, and what follows from them."""

    def __init__(
        self, kit: Kit, number: int, rng: random.Random, place: Place, table: str, nasty: int, size: int
    ) -> None:
        self.kit, self.number, self.rng, self.place, self.table = kit, number, rng, place, table
        self.nasty, self.size = nasty, size
        self.kind = draw(rng, FORMS)
        self.headless = self.kind in {"delimited", "fixed"} and rng.random() < (0.05, 0.12, 0.2)[nasty]
        self.language = (
            place.language if rng.random() < 0.85 else rng.choice(("en", "en", rng.choice(sorted(kit.words))))
        )
        self.writer = self._writer()

    def _writer(self) -> Writer:
        rng, kit, nasty = self.rng, self.kit, self.nasty
        country = self.place.country
        typed: Any = {"sheet": "sheet", "delimited": "", "fixed": ""}.get(self.kind, "json")
        style = draw(rng, (("full", 0.55), ("abbreviated", 0.25), ("code", 0.2)))
        dates = draw(rng, kit.odd_dates if rng.random() < (0.12, 0.3, 0.6)[nasty] else kit.dates[country])
        times = draw(rng, kit.odd_times if rng.random() < (0.05, 0.25, 0.5)[nasty] else kit.times[country])
        real = typed == "sheet" and rng.random() < 0.6
        moment = draw(
            rng,
            (
                ("two", 0.42),
                ("one", 0.38),
                ("iso offset", 0.03),
                ("iso z", 0.03),
                ("epoch s", 0.03),
                ("epoch ms", 0.02),
                ("serial", 0.02),
                ("fourteen", 0.04),
                ("twelve", 0.015),
                ("parts", 0.015),
            ),
        )
        if real:
            moment = "two" if moment == "two" else "real"
        if self.table != "punches" and moment in {"parts", "twelve"}:
            moment = "one"
        between = " "
        if moment == "one":
            between = draw(rng, ((" ", 0.86), ("  ", 0.04), (" - ", 0.02), (", ", 0.03), ("T", 0.05)))
            if between == "T":
                dates, times = "YYYY-MM-DD", "{HH}:{mm}:{ss}"
            if " " in dates and not between.strip():
                times = times if ":" in times else "{HH}:{mm}"
        decimal = self.place.parts.get("decimal", ",")
        digits = self.place.digits
        loses = 0.05 if typed != "sheet" else 0.35
        return Writer(
            rng,
            kit,
            self.place,
            self.language,
            typed,
            style,
            dates,
            times,
            moment,
            between,
            decimal,
            keeps_zeros=rng.random() >= (loses if digits else 0),
            real_dates=real,
            sloppy=rng.random() < (0.08, 0.3, 0.5)[nasty],
        )

    def file(self) -> CorpusFile:
        """Return the file."""
        rng, w = self.rng, self.writer
        sheet = TABLES[self.table](w, self.size)
        if self.place.digits and not any(str(row.get("number") or "").startswith("0") for row in sheet.truth):
            w.keeps_zeros = True  # no number has a zero to lose
        ours = len(w.written)
        more = extras(w, self.table, sheet, draw(rng, ((0, 0.35), (1, 0.3), (2, 0.2), (3, 0.1), (6, 0.05))))
        odd = self._odd_columns(more, len(sheet.truth))
        fields, shuffled = self._arranged(sheet.fields, more)
        lines = lines_of(fields, sheet.truth)
        spoilt = set()
        if rng.random() < 0.15:
            spoilt = spoil(rng, lines, fields, self.table, 0.01)
        lines, about = dressed(
            rng, self.kit, Dress(self.kind, self.language, self.nasty, self.headless), lines, fields, sheet
        )
        form = self._form(lines)
        content, numbers = render(form, lines, fields, rng)
        around, knows = self._around(sheet)
        rows = tuple(
            Row(at, line.kind, line.values, line.fault)  # type: ignore[arg-type]
            for at, line in zip(numbers, lines, strict=True)
            if line.kind in {"good", "bad", "noise"}
        )
        to_expect = Expecting(w, self.table, self.kind, self.headless, self.nasty)
        expects, asks, why = to_expect.of(sheet, around, knows, ours)
        rows = with_lost_zeros(rows, w, knows)
        return CorpusFile(
            self.number,
            self.kit.name,
            self._file_name(sheet, form),
            content,
            self.table,
            expects,
            frozenset(asks),
            rows,
            tuple(one.uses for one in fields),
            () if self.headless else tuple(one.header.strip() for one in fields),
            around,
            self._dimensions(sheet, form, more, shuffled, spoilt, knows, around, about | odd),
            dates=order_of(w.dates),
            words=dict(w.words),
            zeros=self.place.digits,
            reader=sheet.reader,
            zone=next(
                (one.zone for one in self.place.readers if one.reader == sheet.reader), self.place.readers[0].zone
            ),
            why=why,
        )

    def _odd_columns(self, more: list[Field], rows: int) -> dict[str, str]:
        """Break the lines of some cells that belong to nothing, or add a column without a word; return which."""
        rng = self.rng
        found = {"line breaks in cells": "none", "blank columns": "none"}
        if not self.nasty or self.kind not in {"delimited", "sheet"}:
            return found
        if self.kind == "delimited" and rng.random() < 0.35:
            for one in more:
                for at, cell in enumerate(one.cells):
                    if isinstance(cell, str) and " " in cell and rng.random() < 0.3:
                        one.cells[at] = cell.replace(" ", "\n", 1)
                        found["line breaks in cells"] = "some"
        if rng.random() < 0.1:
            more.append(Field("", [""] * rows))
            found["blank columns"] = "one"
        return found

    def _arranged(self, ours: list[Field], more: list[Field]) -> tuple[list[Field], str]:
        rng = self.rng
        shuffled = rng.random() < 0.3
        if shuffled:
            fields = ours + more
            rng.shuffle(fields)
            return fields, "shuffled"
        fields = list(ours)
        for one in more:
            fields.insert(rng.choice((len(fields), len(fields), rng.randint(0, len(fields)))), one)
        return fields, "as usual"

    def _form(self, lines: Sequence[Line]) -> Form:
        rng, nasty = self.rng, self.nasty
        text = "".join(str(cell) for line in lines for cell in line.cells)
        comma = self.writer.decimal == "."
        delimiter = draw(
            rng,
            ((",", 0.62), (";", 0.15), ("\t", 0.17), ("|", 0.06))
            if comma
            else ((";", 0.66), (",", 0.12), ("\t", 0.16), ("|", 0.06)),
        )
        encoding = draw(
            rng,
            (
                ("utf-8", 0.5),
                ("utf-8 with mark", 0.17),
                (
                    "cp1250" if self.place.language == "pl" else "cp1252",
                    0.26 if not self.kind.startswith("JSON") else 0,
                ),
                ("utf-16 le", 0.05),
                ("utf-16 be", 0.02),
            ),
        )
        if not fits(text, encoding):
            encoding = "utf-8"
        quoting = draw(rng, (("least", 0.7), ("all", 0.18), ("words", 0.12)))
        return Form(
            self.kind,
            delimiter,
            quoting,
            encoding,
            "\n"
            if any(one.cells and "\n" in str(one.cells) for one in lines)
            else draw(rng, (("\n", 0.4), ("\r\n", 0.57), ("\r", 0.03 if nasty else 0))),
            gap=rng.choice((1, 2, 2, 3)),
            sheets=draw(rng, (("one", 0.8), ("notes after", 0.14), ("cover first", 0.06 if nasty else 0))),
            indent=rng.random() < 0.5,
            right_aligned=rng.random() < 0.6,
        )

    def _around(self, sheet: Sheet) -> tuple[Around, str]:
        """Return what is known before the file, and in a word how much that is."""
        rng, place = self.rng, self.place
        usual = {
            "readers": (("nothing", 0.8), ("everything", 0.2)),
            "people": (("nothing", 0.25), ("readers", 0.4), ("everything", 0.35)),
            "schedules": (("everything", 0.95), ("nothing", 0.05)),
            "punches": (("everything", 0.72), ("readers", 0.25), ("nothing", 0.03)),
        }
        knows = draw(rng, usual.get(self.table, (("everything", 0.7), ("readers", 0.3))))
        today = sheet.last + timedelta(days=rng.choice((0, 1, 1, 2, 3, 5, 8, 30)))
        if self.table == "schedules":
            today = sheet.last - timedelta(days=rng.choice((0, 3, 8, 14)))
        if knows == "nothing":
            return Around(today), knows
        stated = {sheet.reader: order_of(self.writer.dates)} if sheet.reader and self.number % 3 == 0 else {}
        around = Around(today, place.zone_of, place.site_zones, orders=stated)
        if knows == "everything":
            around = replace(
                around,
                person_zones={one.person: place.site_zones[one.site] for one in place.people},
                names={one.person: f"{one.given} {one.family}" for one in place.people},
                numbers=frozenset(one.number for one in place.people),
            )
        return around, knows

    def _file_name(self, sheet: Sheet, form: Form) -> str:
        rng = self.rng
        ending = {"sheet": "xlsx", "fixed": "txt", "JSON lines": "jsonl", "JSON array": "json"}.get(form.kind)
        ending = ending or rng.choice(("csv", "csv", "txt", "csv"))
        base = rng.choice(list(self.kit.file_names[self.language][self.table]))
        if sheet.dimensions.get("reader") == "file name":
            return f"{base} {sheet.reader} {sheet.last:%Y-%m}.{ending}"
        return f"{base}{rng.choice(('', f'_{sheet.last:%Y%m}', f' {sheet.last.year}', ' (1)'))}.{ending}"

    def _dimensions(
        self,
        sheet: Sheet,
        form: Form,
        more: list[Field],
        shuffled: str,
        spoilt: set[str],
        knows: str,
        around: Around,
        about: dict[str, str],
    ) -> dict[str, str]:
        w = self.writer
        dated = any(w.written) or w.real_dates
        timed = self.table in {"punches", "schedules"}
        size = len(sheet.truth)
        found = {
            "table": self.table,
            "country": self.place.country,
            "header language": "none" if self.headless else self.language,
            "header style": "none" if self.headless else w.header_style + (", sloppy" if w.sloppy else ""),
            "form": form.kind,
            "columns": shuffled,
            "extra columns": str(len(more)),
            "known": knows,
            "order of dates": "stated before" if around.orders else "never stated",
            "nastiness": ("ordinary", "sloppy", "nasty")[self.nasty],
            "rows": next(f"up to {top}" for top in (12, 60, 300, 900, 10_000) if size <= top),
            "bad rows": ", ".join(sorted(spoilt)) or "none",
            **about,
            **sheet.dimensions,
        }
        if form.kind == "delimited":
            found |= {"delimiter": {"\t": "tab"}.get(form.delimiter, form.delimiter), "quoting": form.quoting}
        if form.kind in {"delimited", "fixed"}:
            found |= {"encoding": form.encoding, "line end": repr(form.line_end)}
        if form.kind == "sheet":
            found |= {"sheets": form.sheets, "cells of dates": "real" if w.real_dates else "text"}
        if timed:
            found["moment"] = w.moment
        if timed and w.moment in {"one", "two"}:
            found["times"] = w.times if not w.real_dates else "real"
        if dated:
            found["dates"] = "real" if w.real_dates else w.dates
        if self.table in {"people", "enrolments", "punches"}:
            found["zeros"] = "lost" if self.place.digits and not w.keeps_zeros else "kept"
        return found
