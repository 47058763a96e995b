"""Find what somebody means by a few words: people, numbers, readers, sites, strays, files, rounds, days."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Any

import polars as pl

from evenhand.jobs.languages import say_in
from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.strays import unattributed_lately
from evenhand.terms.columns import Frame
from evenhand.terms.languages import LANGUAGES, sentence, told
from evenhand.terms.likeness.days_said import days_said
from evenhand.terms.likeness.slips import one_slip_away
from evenhand.terms.likeness.sought import Nearness, SoughtIndex, find_sought, index_sought
from evenhand.terms.zones import civil_date, is_reckoned_day

__all__ = ["FOUND_KINDS", "MOST", "Found", "FoundOfKind", "Search", "find"]

MOST = 25
"""How many of a kind are shown; who wants others types more."""
LONGEST = 200
FOUND_KINDS = {
    "person": sentence("People"),
    "number": sentence("Numbers"),
    "reader": sentence("Readers"),
    "site": sentence("Sites"),
    "stray": sentence("Strays"),
    "file": sentence("Files taken"),
    "round": sentence("Rounds"),
    "day": sentence("Days"),
}

LEFT, LEAVES = sentence("left {day}"), sentence("leaves {day}")
PARTS = {
    "person": "people",
    "reader": "readers",
    "site": "sites",
    "stray": "strays",
    "file": "files",
    "round": "rounds",
}


@dataclass(frozen=True)
class Found:
    """One thing found: its kind, what it is called within evenhand (`key`), its name, and what it is in a few words.

    `is_exact` tells that it was named in full, and not by a part, a slip or what is beside it. `day` is the day that
    was asked for of a person, or the day itself.
    """

    kind: str
    key: str
    name: str
    says: str
    is_exact: bool
    day: date | None = None


@dataclass(frozen=True)
class FoundOfKind:
    """What was found of one kind, the nearest first; `count` is how many there are, of which `MOST` are here."""

    kind: str
    title: str
    count: int
    found: tuple[Found, ...]


@dataclass(frozen=True)
class Search:
    """What was asked for, what was found of each kind, and the one thing that can be meant, where there is one."""

    asked: str
    kinds: tuple[FoundOfKind, ...]
    one: Found | None

    @property
    def count(self) -> int:
        """Return how many things were found."""
        return sum(of.count for of in self.kinds)


@dataclass(frozen=True)
class _Listed:
    """What is found by its words: the index, and the rows of what it finds, each in a line."""

    index: SoughtIndex
    rows: Frame
    found: Callable[[Mapping[str, Any]], Found]


def find(reckoning: Reckoning, asked: str) -> Search:
    """Return what some words may mean; nothing where they hold neither a letter nor a figure.

    People who left or stand on the roster no longer are found, and it is said of them; of whoever was erased nothing is
    kept to be found by.
    """
    asked = " ".join(asked.split())[:LONGEST]
    is_round = asked in reckoning.snapshot.rounds["round"]  # named by its day and a number
    days, rest = ((), asked) if is_round else days_said(asked, reckoning.day)
    if not all(map(is_reckoned_day, days)):
        days, rest = (), asked  # no page shows such a day, and it may be part of a name
    names_year = bool(days) and rest != asked and f"{days[0].year}" in asked
    words = rest if names_year else asked  # `May 4` may be a person as well
    kinds = [_of_kind(reckoning, kind, words, days if names_year else ()) for kind in _LISTS]
    kinds.insert(1, _numbers(reckoning, words))
    if days:
        kinds.append(_days(days, is_all=not rest))
    return Search(asked, tuple(of for of, _ in kinds if of.count), _the_one(kinds))


def _of_kind(reckoning: Reckoning, kind: str, words: str, days: Sequence[date]) -> tuple[FoundOfKind, int]:
    """Return what was found of a kind, and how many of it are as near as a whole word."""
    of = reckoning.part(f"sought {PARTS[kind]}", lambda: _LISTS[kind](reckoning))
    near = find_sought(of.index, words)
    shown = [
        replace(of.found(of.rows.row(row, named=True)), is_exact=nearness == Nearness.WHOLE)
        for row, nearness in near.select("row", "nearness").head(MOST).iter_rows()
    ]
    if kind == "person" and days:
        shown = [
            replace(one, day=day, says=told("{day}: their hours and punches; {says}", day=day, says=one.says))
            for one in shown
            for day in days
        ]
    close = near.filter(pl.col("nearness") <= Nearness.WORD).height
    return FoundOfKind(kind, FOUND_KINDS[kind], near.height * max(1, len(days)), tuple(shown)), close


def _the_one(kinds: Sequence[tuple[FoundOfKind, int]]) -> Found | None:
    """Return the one thing that can be meant: named in full and by nothing else alike, or alone in all that was found.

    A number that is one person's alone leads to the person, any other to its own page, which tells whose it may be.
    """
    exact = [(one, close) for of, close in kinds for one in of.found if one.is_exact]
    if not exact:
        every = [(one, close) for of, close in kinds for one in of.found if of.kind != "day"]
        return every[0][0] if len(every) == 1 and every[0][1] == 1 else None
    if [one.kind for one, _ in exact] == ["person", "number"]:
        strays = sum(close for of, close in kinds if of.kind == "stray")
        exact = exact[1:] if strays else exact[:1]
    return exact[0][0] if len(exact) == 1 and exact[0][1] == 1 else None


# ---- what is found by its words


def _people(reckoning: Reckoning) -> _Listed:
    of, day = reckoning.snapshot, reckoning.day
    rows = of.people.join(of.gone_people.select("person", "file", "taken_at"), on="person", how="left")
    rows = rows.sort("name", "person")

    def found(row: Mapping[str, Any]) -> Found:
        says = [
            told("number {number}", number=row["number"]) if row["number"] else told("no number"),
            row["site"],
            row["department"],
        ]
        says += [told("supervisor") if row["is_supervisor"] else None]
        if row["left_on"] is not None:
            says.append(told(LEFT if row["left_on"] < day else LEAVES, day=row["left_on"]))
        elif row["file"] is not None:
            says.append(told("no longer on the roster since {file}", file=row["file"]))
        name = row["name"] or row["person"]
        return Found("person", row["person"], name, _row([row["person"], *says]), is_exact=False)

    named = [rows["name"], rows["person"], rows["number"]]
    bare = rows["number"].str.strip_chars_start("0")
    role = rows.select(pl.when(pl.col("is_supervisor")).then(pl.lit("supervisor"))).to_series()
    index = index_sought(named, [*named, bare, role], [rows["site"], rows["department"]])
    return _Listed(index, rows, found)


def _row(says: Sequence[str | None]) -> str:
    return told("{says:commas}", says=[one for one in says if one])


def _readers(reckoning: Reckoning) -> _Listed:
    rows = reckoning.snapshot.readers.sort("reader")

    def found(row: Mapping[str, Any]) -> Found:
        says = _row([told("reader"), row["site"], row["place"]])
        return Found("reader", row["reader"], row["reader"], says, is_exact=False)

    return _Listed(index_sought([rows["reader"]], [rows["reader"], rows["place"]], [rows["site"]]), rows, found)


def _sites(reckoning: Reckoning) -> _Listed:
    of = reckoning.snapshot
    rows = pl.concat([of.people.select("site"), of.readers.select("site")]).drop_nulls().unique().sort("site")
    people = dict(of.people.group_by("site").len().iter_rows())
    readers = dict(of.readers.group_by("site").len().iter_rows())

    def found(row: Mapping[str, Any]) -> Found:
        site = row["site"]
        says = told(
            "site, {people:# person|# people}, {readers:# reader|# readers}",
            people=people.get(site, 0),
            readers=readers.get(site, 0),
        )
        return Found("site", site, site, says, is_exact=False)

    return _Listed(index_sought([rows["site"]], [rows["site"]]), rows, found)


def _strays(reckoning: Reckoning) -> _Listed:
    rows = unattributed_lately(reckoning).group_by("reader", "number").len("punches").sort("reader", "number")
    rows = rows.with_columns(stray=pl.col("reader") + "/" + pl.col("number"))

    def found(row: Mapping[str, Any]) -> Found:
        says = told("stray, {punches:# punch that belongs|# punches that belong} to nobody yet", punches=row["punches"])
        return Found(
            "stray",
            row["stray"],
            told("{number} at {reader}", number=row["number"], reader=row["reader"]),
            says,
            is_exact=False,
        )

    spoken = rows.select(pl.col("number") + " at " + pl.col("reader")).to_series()
    return _Listed(index_sought([rows["stray"], spoken], [rows["number"]], [spoken]), rows, found)


def _files(reckoning: Reckoning) -> _Listed:
    zone = reckoning.zone
    rows = reckoning.snapshot.takes.sort("take", descending=True)

    def found(row: Mapping[str, Any]) -> Found:
        when = told("{day}", day=civil_date(zone, row["taken_at"]))
        says = told(
            "take {take}, {table}, taken {when}{back}",
            take=row["take"],
            table=row["table"],
            when=when,
            back=told(", taken back since") if row["is_back"] else "",
        )
        return Found("file", str(row["take"]), row["file"], says, is_exact=False)

    taken = "take " + rows["take"].cast(pl.String)
    return _Listed(index_sought([rows["file"], taken], [rows["file"], taken], [rows["table"]]), rows, found)


def _rounds(reckoning: Reckoning) -> _Listed:
    rows = reckoning.snapshot.rounds.sort("day", "round", descending=True)

    def found(row: Mapping[str, Any]) -> Found:
        return Found("round", row["round"], row["title"], told("round of {day}", day=row["day"]), is_exact=False)

    words = [say_in(language)(FOUND_KINDS["round"]) for language in LANGUAGES]  # whichever it is asked in
    called = [pl.Series([word] * rows.height, dtype=pl.String) for word in words]
    return _Listed(index_sought([rows["title"], rows["round"]], [rows["title"], rows["round"], *called]), rows, found)


_LISTS: Mapping[str, Callable[[Reckoning], _Listed]] = {
    "person": _people,
    "reader": _readers,
    "site": _sites,
    "stray": _strays,
    "file": _files,
    "round": _rounds,
}


# ---- numbers and days


def _numbers(reckoning: Reckoning, words: str) -> tuple[FoundOfKind, int]:
    """Return the number that was typed, wherever it is known; where nobody knows it, those one slip away."""
    asked, found = "".join(words.split()), list[Found]()
    known: frozenset[str] = reckoning.part("known numbers", lambda: _known_numbers(reckoning))
    if asked in known:
        found = [_number(reckoning, asked, is_exact=True)]
    elif asked.isdigit():
        near = known.intersection(one_slip_away(asked, {len(one) for one in known}))
        found = [_number(reckoning, one, is_exact=False) for one in sorted(near)]
    return FoundOfKind("number", FOUND_KINDS["number"], len(found), tuple(found[:MOST])), sum(
        one.is_exact for one in found
    )


def _known_numbers(reckoning: Reckoning) -> frozenset[str]:
    of = reckoning.snapshot
    told = [of.people["number"], of.former_numbers["number"], of.enrolment_history["number"]]
    told.append(unattributed_lately(reckoning)["number"])
    return frozenset(pl.concat(told).drop_nulls().unique())


def _number(reckoning: Reckoning, number: str, *, is_exact: bool) -> Found:
    of, same = reckoning.snapshot, pl.col("number") == number
    holders = of.people.filter(same)["name"].to_list()
    readers = of.enrolments.filter(same)["reader"].to_list()
    says = [
        told("the number of {holders:listed}", holders=holders) if holders else told("nobody's on the roster"),
        told("listed at {readers:listed}", readers=readers) if readers else told("listed at no reader"),
    ]
    return Found("number", number, number, _row(says), is_exact=is_exact)


def _days(days: Sequence[date], *, is_all: bool) -> tuple[FoundOfKind, int]:
    found = tuple(
        Found(
            "day",
            day.isoformat(),
            told("{day:long}", day=day),
            told("everybody's hours of its week"),
            is_exact=is_all,
            day=day,
        )
        for day in days
    )
    return FoundOfKind("day", FOUND_KINDS["day"], len(found), found), len(found)
