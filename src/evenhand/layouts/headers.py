"""Which source column is which declared column, by header words and by what stands in the cells."""

from __future__ import annotations

import re
from collections.abc import Collection, Sequence
from functools import lru_cache

from rapidfuzz import fuzz, process

from evenhand.layouts.content import Profile
from evenhand.layouts.layout import Source
from evenhand.layouts.values.words import plain, word_set
from evenhand.terms.columns import Column, Table
from evenhand.terms.sources import SOURCES

__all__ = ["CERTAIN", "LIKELY", "is_header_word", "likeness", "map_columns", "sources_of", "vocabulary"]

CERTAIN = 100.0
LIKELY = 84.0  # of 100: one letter wrong in six
UNUSED = 20.0  # what a column of the file that a table has no place for speaks against the table
INSIDE = 85.0  # a word that stands among others of the header
BY_CONTENT = 45.0  # what cells alone are worth, where the header says nothing

DATES = word_set("date,day,fecha,dia,datum,tag,jour,data,punch date,log date,date local")
TIMES = word_set("time,hour,hora,uhrzeit,zeit,heure,punch time,clock time,time local")
MORE = {
    "name": ("last name", "first name", "surname", "apellido", "apellidos", "vorname", "nachname", "prenom"),
    "person": (
        "legajo",
        "expediente",
        "employee number",
        "person id",
        "staff id",
        "staff no",
        "personal nr",
        "personalnr",
    ),
    "number": (
        "tarjeta",
        "ficha",
        "badge id",
        "card",
        "keyed",
        "ausweisnummer",
        "numero de badge",
        "no badge",
        "badge nr",
        "no",
    ),
    "reader": ("station", "gerat", "puerta"),
    "direction": ("e s", "entrada salida", "kommen gehen", "entree sortie", "way", "movimiento", "mov", "dir", "sens"),
    "hired_on": ("date of hire", "ingreso", "embauche"),
    "starts_at": ("shift start", "begin", "debut", "von", "desde"),
    "ends_at": ("shift end", "finish", "bis", "hasta"),
}

AMBIGUOUS = {"id", "date", "datum", "fecha", "location", "name", "nombre", "nom"}

# What cells alone may be read as. A date, an amount or a count means nothing until a header says what it is of: a
# birthday is no first day of employment, and a personnel number is no rate of pay.
TOLD_BY_CELLS = {"at", "starts_at", "ends_at", "zone", "direction", "outcome", "reader", "name", "number"}

# What a column is called in the files of one table, the column of that name is called in others too, but for words
# that stand for another column there.
SAME_NAME = {
    column.name: tuple(
        word
        for other in SOURCES.values()
        if column.name in other.names
        for word in other.column(column.name).headers
        if word not in AMBIGUOUS
    )
    for table in SOURCES.values()
    for column in table.columns
}


DIGIT = re.compile(r"\d")
Words = tuple[tuple[str, frozenset[str]], ...]  # each word in its plain form, with its parts


@lru_cache(maxsize=65536)
def likeness(header: str, words: Words) -> float:
    """Return how well a header fits the words, 0 to 100, whatever its accents, case and punctuation."""
    seen = plain(header)
    if not seen:
        return 0.0
    all_words, long_words, parts_of = _apart(words)
    if seen in all_words:
        return CERTAIN
    parts = frozenset(seen.split())
    is_inside = any(of_word <= parts for part in parts for of_word in parts_of.get(part, ()))
    if is_inside:
        long_words = [word for word in long_words if not set(word.split()) <= parts]
    found = process.extractOne(seen, long_words, scorer=fuzz.ratio, score_cutoff=LIKELY) if len(seen) > 3 else None
    return max(INSIDE if is_inside else 0.0, found[1] if found else 0.0)


@lru_cache(maxsize=1024)
def _apart(words: Words) -> tuple[frozenset[str], list[str], dict[str, list[frozenset[str]]]]:
    """Return all words, those that a slip may have changed, and by its first part each that others may stand around."""
    parts_of: dict[str, list[frozenset[str]]] = {}
    for word, of_word in words:
        if len(word) > 2:
            parts_of.setdefault(word.split()[0], []).append(of_word)
    return frozenset(word for word, _ in words), [word for word, _ in words if len(word) > 3], parts_of


@lru_cache(maxsize=1024)
def words_of(column: Column) -> Words:
    """Return the words by which files call a column: its own, those declared for its name, and some more."""
    listed = (column.name, *column.headers, *SAME_NAME[column.name], *MORE.get(column.name, ()))
    return tuple((word, frozenset(word.split())) for word in dict.fromkeys(map(plain, listed)))


def vocabulary(tables: Collection[Table]) -> Words:
    """Return all the words by which files call the columns of these tables."""
    return tuple(dict.fromkeys(word for table in tables for column in table.columns for word in words_of(column)))


def is_header_word(text: str, words: Words) -> bool:
    """Return whether a cell reads like one of the words of a vocabulary, or like a date or a time."""
    seen = plain(text)
    # What holds digits is a value, whatever it resembles.
    return seen in DATES or seen in TIMES or (not DIGIT.search(seen) and likeness(text, words) >= LIKELY)


def map_columns(
    table: Table, headers: Sequence[str], profiles: Sequence[Profile]
) -> tuple[dict[str, tuple[int, ...]], float]:
    """Return for each declared column that is found its source columns, from 0, and how well the whole fits."""
    words = vocabulary([table])
    silent = [not (at < len(headers) and is_header_word(headers[at], words)) for at in range(len(profiles))]
    told = TOLD_BY_CELLS | ({"score"} if table.name == "punches" and not any(headers) else set())
    scored = []
    for column in table.columns:
        for position, profile in enumerate(profiles):
            by_word = likeness(headers[position], words_of(column)) if position < len(headers) else 0.0
            by_content = profile.suits(column)
            if by_word and by_content >= 0:
                scored.append((by_word * (0.6 + 0.4 * by_content), column.name, position))
            elif silent[position] and by_content > 0 and column.name in told:
                scored.append((BY_CONTENT * by_content, column.name, position))
    scored.sort(key=lambda one: (-one[0], table.names.index(one[1]), one[2]))
    found: dict[str, tuple[int, ...]] = {}
    taken: set[int] = set()
    fit = 0.0
    _pair_dates_and_times(table, headers, profiles, found, taken)
    fit += CERTAIN * len(taken)
    for score, name, position in scored:
        if name not in found and position not in taken:
            found[name] = (position,)
            taken.add(position)
            fit += score
    _join_names(table, headers, found, taken)
    fit -= UNUSED * (len(profiles) - len(taken))
    return {name: found[name] for name in table.names if name in found}, fit


def _pair_dates_and_times(
    table: Table,
    headers: Sequence[str],
    profiles: Sequence[Profile],
    found: dict[str, tuple[int, ...]],
    taken: set[int],
) -> None:
    """Join a column of dates and a column of times where a table wants instants and no column holds both."""
    instants = [column for column in table.columns if column.kind == "instant"]
    if not instants or any(profile.is_moment for profile in profiles):
        return
    dates = [at for at, profile in enumerate(profiles) if profile.is_date]
    times = [at for at, profile in enumerate(profiles) if profile.is_time]
    dates.sort(key=lambda at: (not (at < len(headers) and plain(headers[at]) in DATES), at))
    times.sort(key=lambda at: (not (at < len(headers) and plain(headers[at]) in TIMES), at))
    if not dates or len(times) < len(instants):
        return
    for at, column in enumerate(instants):
        named = [t for t in times if t < len(headers) and likeness(headers[t], words_of(column)) >= LIKELY]
        time = next((t for t in named if t not in taken), sorted(times)[at] if len(instants) > 1 else times[0])
        found[column.name] = (dates[0], time)
        taken.add(time)
    taken.add(dates[0])


FAMILY = word_set("last name,family name,surname,apellido,apellidos,nachname,nom de famille")
GIVEN = word_set("first name,given name,vorname,prenom,nombre")


def _join_names(table: Table, headers: Sequence[str], found: dict[str, tuple[int, ...]], taken: set[int]) -> None:
    """Join family name and given name where a roster keeps them apart."""
    if table.name != "people":
        return
    family = [at for at, header in enumerate(headers) if plain(header) in FAMILY]
    given = [at for at, header in enumerate(headers) if plain(header) in GIVEN]
    if family and given:
        taken.difference_update(found.get("name", ()))
        found["name"] = (family[0], given[0])


def sources_of(found: dict[str, tuple[int, ...]], headers: Sequence[str]) -> dict[str, tuple[Source, ...]]:
    """Return the columns by their header words, by position where there is none or it stands twice."""

    def source(at: int) -> Source:
        named = at < len(headers) and headers[at] and list(headers).count(headers[at]) == 1
        return headers[at] if named else at + 1

    return {name: tuple(source(at) for at in positions) for name, positions in found.items()}
