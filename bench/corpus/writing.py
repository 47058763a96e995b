"""How one file writes its values: the words above its columns, its dates, times, numbers and names."""

from __future__ import annotations

import random
from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, time
from typing import Literal
from zoneinfo import ZoneInfo

from bench.corpus.kit import Kit
from bench.corpus.moments import civil, serial, write_date, write_time
from bench.corpus.workplaces import Person, Place

__all__ = ["Field", "Writer"]

Cell = str | int | float | bool | date | datetime | time | None


@dataclass
class Field:
    """A column: what stands above it, its cells in the order of the rows, and the declared columns it holds."""

    header: str
    cells: list[Cell]
    uses: tuple[str, ...] = ()
    right: bool = False


@dataclass
class Writer:
    """The habits of one file.

    `moment` says how a date with a time is written. `words` is what its words for in, accepted, yes and the like stand
    for. `keeps_zeros` is false where a spreadsheet took the zeros of numbers away. `written` gathers the days written
    in figures whose order may be doubtful, in the order in which they stand; `doubted` the headers and
    codes that may be asked about.
    """

    rng: random.Random
    kit: Kit
    place: Place
    language: str
    typed: Literal["", "sheet", "json"]
    header_style: str
    dates: str
    times: str
    moment: str
    between: str
    decimal: str
    keeps_zeros: bool
    real_dates: bool
    sloppy: bool
    taken: set[str] = field(default_factory=set)
    written: list[list[date]] = field(default_factory=list)
    words: dict[str, str] = field(default_factory=dict)
    doubted: set[str] = field(default_factory=set)

    def header(self, concept: str) -> str:
        """Return a word for the column that no other column of this file bears."""
        words = self.kit.words[self.language][concept]
        styles = [self.header_style, "full", "abbreviated", "code"]
        for style in styles:
            listed = list(words[style])
            self.rng.shuffle(listed)
            for word in listed:
                if word.casefold() not in self.taken:
                    self.taken.add(word.casefold())
                    if (self.language, concept, word) in self.kit.doubtful:
                        self.doubted.add(word)
                    return self._smudged(word)
        raise LookupError(f"no word is left for {concept} in {self.language}")

    def _smudged(self, word: str) -> str:
        if not self.sloppy or self.rng.random() < 0.4:
            return word
        ways = (
            str.upper,
            str.lower,
            lambda text: f" {text} ",
            lambda text: f"{text}:",
            lambda text: text.replace(" ", "  "),
        )
        return self.rng.choice(ways)(word)

    @property
    def has_seconds(self) -> bool:
        """Return whether a moment is written to the second."""
        if self.moment in {"epoch s", "epoch ms", "serial", "iso offset", "iso z", "fourteen", "real"}:
            return True
        return self.moment not in {"parts", "twelve"} and "{ss}" in self.times

    def day(self, value: date | None) -> Cell:
        """Return the cell of a day."""
        if value is None:
            return None if self.typed else ""
        if self.typed == "sheet" and self.real_dates:
            return value
        return write_date(self.dates, value, self.language)

    def days(self, concept: str, use: str, values: Sequence[date | None]) -> Field:
        """Return a column of days, and keep them as days whose order may be doubtful."""
        if not (self.typed == "sheet" and self.real_dates):
            self.written.append([value for value in values if value is not None])
        return Field(self.header(concept), [self.day(value) for value in values], (use,) if use else ())

    def true(self, at: datetime, zone: str) -> int:
        """Return the instant [s since 1970] that the file tells: to the minute where it writes no seconds."""
        if self.has_seconds:
            return int(at.timestamp())
        return int(civil(at, zone).replace(second=0, tzinfo=ZoneInfo(zone)).timestamp())

    def moments(self, use: str, concept: str, instants: Sequence[datetime], zones: Sequence[str]) -> list[Field]:
        """Return the one, two or more columns in which the instants are written on the clocks of the zones."""
        clocks = [civil(at, zone) for at, zone in zip(instants, zones, strict=True)]
        if self.moment in {"two", "one", "two real"} and not (self.typed == "sheet" and self.real_dates):
            self.written.append([clock.date() for clock in clocks])
        if self.moment == "two":
            return [
                Field(self.header("date"), [self.day(clock.date()) for clock in clocks], (use,)),
                Field(self.header("time"), [self._time(clock) for clock in clocks], (use,)),
            ]
        if self.moment == "parts":
            return [
                Field(self.header(part), [self._figure(get(clock)) for clock in clocks], (use,), right=True)
                for part, get in (
                    ("year", lambda clock: clock.year),
                    ("month", lambda clock: clock.month),
                    ("dayofmonth", lambda clock: clock.day),
                    ("hour", lambda clock: clock.hour),
                    ("minute", lambda clock: clock.minute),
                )
            ]
        cells = [self._moment(at, clock, zone) for at, clock, zone in zip(instants, clocks, zones, strict=True)]
        return [Field(self.header(concept), cells, (use,))]

    def _figure(self, value: int) -> Cell:
        return value if self.typed else str(value)

    def _time(self, clock: datetime) -> Cell:
        if self.typed == "sheet" and self.real_dates:
            return clock.time().replace(second=clock.second if self.has_seconds else 0)
        return write_time(self.times, clock)

    def _moment(self, at: datetime, clock: datetime, zone: str) -> Cell:
        if self.moment == "real":
            return clock
        if self.moment == "epoch s":
            return int(at.timestamp()) if self.typed else str(int(at.timestamp()))
        if self.moment == "epoch ms":
            return int(at.timestamp()) * 1_000 if self.typed else str(int(at.timestamp()) * 1_000)
        if self.moment == "serial":
            return serial(clock) if self.typed else f"{serial(clock):.10f}".replace(".", self.decimal)
        if self.moment == "iso offset":
            return at.astimezone(ZoneInfo(zone)).isoformat()
        if self.moment == "iso z":
            return at.astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")
        if self.moment == "fourteen":
            return clock.strftime("%Y%m%d%H%M%S")
        if self.moment == "twelve":
            return clock.strftime("%Y%m%d%H%M")
        return f"{write_date(self.dates, clock.date(), self.language)}{self.between}{write_time(self.times, clock)}"

    def number(self, value: str) -> Cell:
        """Return the cell of a number that people key."""
        if self.keeps_zeros:
            return value
        return int(value) if self.typed else str(int(value))

    def amount(self, value: str | float) -> Cell:
        """Return the cell of money or of a score."""
        if self.typed:
            return float(value)
        return str(value).replace(".", self.decimal)

    def count(self, value: int) -> Cell:
        """Return the cell of a count."""
        return value if self.typed else str(value)

    def names(self, people: Sequence[Person]) -> tuple[list[Field], list[str]]:
        """Return the one or two columns of the people's names, and the names as they stand there."""
        way = self.rng.choice(("given family", "family, given", "family, given", "two", "two", "family given"))
        if way == "family, given" and self.typed == "" and self.rng.random() < 0.2:
            way = "FAMILY, given"
        if way == "two":
            first = Field(self.header("family"), [one.family for one in people], ("name",))
            second = Field(self.header("given"), [one.given for one in people], ("name",))
            pair = [first, second] if self.rng.random() < 0.7 else [second, first]
            return pair, [f"{one.given} {one.family}" for one in people]
        texts = {
            "given family": "{0.given} {0.family}",
            "family, given": "{0.family}, {0.given}",
            "family given": "{0.family} {0.given}",
            "FAMILY, given": "{1}, {0.given}",
        }
        written = [texts[way].format(one, one.family.upper()) for one in people]
        return [Field(self.header("name"), list(written), ("name",))], written
