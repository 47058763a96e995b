"""Invented workplaces: people, readers, places, and a log of punches, all with the truth known."""

from __future__ import annotations

import random
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

__all__ = ["Country", "Person", "Place", "Punch", "Reader", "make_place", "punches"]

Country = Mapping[str, Any]
"""What the workplaces of one country are made of: language, zones, names, streets."""


@dataclass(frozen=True)
class Person:
    """Somebody on the roster."""

    person: str
    given: str
    family: str
    number: str
    site: str
    department: str
    is_supervisor: bool
    hired: date
    left: date | None
    phone: str
    street: str
    rate: str
    title: str
    birthday: date


@dataclass(frozen=True)
class Reader:
    """A reader, and the zone of its clock."""

    reader: str
    site: str
    place: str
    zone: str
    digits: int
    capacity: int


@dataclass(frozen=True)
class Place:
    """A workplace. `digits` is the length of its numbers, 0 where they differ in length."""

    country: str
    language: str
    people: tuple[Person, ...]
    readers: tuple[Reader, ...]
    site_zones: Mapping[str, str]
    digits: int
    parts: Country

    @property
    def zone_of(self) -> dict[str, str]:
        """Return the zone of each reader."""
        return {reader.reader: reader.zone for reader in self.readers}


@dataclass(frozen=True)
class Punch:
    """One presentation of a hand, at an instant in UTC."""

    reader: Reader
    person: Person
    at: datetime
    direction: str
    outcome: str
    score: float


def make_place(rng: random.Random, country: str, parts: Country, people: int) -> Place:
    """Return a workplace of so many people, with one to six readers on one to three sites."""
    sites = rng.sample(parts["sites"], min(len(parts["sites"]), rng.choice((1, 1, 2, 2, 3))))
    first = rng.choice(parts["zones"])
    zones = {site: rng.choice(parts["zones"]) if rng.random() < 0.5 else first for site in sites}
    digits = rng.choice(parts.get("widths", (4, 4, 4, 5, 5, 6, 0)))
    readers = _readers(rng, parts, sites, zones, digits)
    drawn = _numbers(rng, people, digits)
    scheme = rng.choice(parts.get("persons", ("P{0}", "{0}", "{0}", "E-{0}", "{0}", "MA{0}", "{0}")))
    ids = rng.sample(range(10_000, 99_999) if scheme == "{0}" else range(1_000, 9_999), people)
    listed = tuple(
        _person(rng, parts, scheme.format(ids[at]), drawn[at], rng.choice(sites), at < 2) for at in range(people)
    )
    return Place(country, parts["language"], listed, readers, zones, digits, parts)


def _readers(
    rng: random.Random, parts: Country, sites: list[str], zones: dict[str, str], digits: int
) -> tuple[Reader, ...]:
    count = rng.randint(max(1, len(sites)), 6)
    naming = rng.choice(parts.get("readers", ("door", "door", "R{0}", "RD-{0:02d}", "T{0:02d}", "{0:03d}", "site")))
    readers = []
    for at in range(count):
        site = sites[at % len(sites)]
        door = parts["doors"][at % len(parts["doors"])]
        again = at // len(parts["doors"])
        name = door + (f" {again + 1}" if again else "")
        if naming == "site":
            name = f"{site} {at // len(sites) + 1}"
        elif naming != "door":
            name = naming.format(at + 1)
        readers.append(
            Reader(name, site, door, zones[site], max(digits, 4) + rng.choice((0, 0, 2)), rng.choice((256, 512, 9_700)))
        )
    return tuple(readers)


def _numbers(rng: random.Random, count: int, digits: int) -> list[str]:
    if digits:
        return [f"{value:0{digits}d}" for value in rng.sample(range(1, 10**digits), count)]
    return [str(value) for value in rng.sample(range(100, 99_999), count)]


def _person(rng: random.Random, parts: Country, person: str, number: str, site: str, leads: bool) -> Person:
    hired = date(2026, 9, 1) - timedelta(days=int(rng.expovariate(1 / 1_800)) % 12_000)
    left = hired + timedelta(days=rng.randint(20, 900)) if rng.random() < 0.12 else None
    if left and left > date(2026, 9, 10):
        left = None
    fill = {"n": rng.randint(1, 399), "m": rng.randint(10, 99), "n1": rng.randint(0, 9)}
    fill |= {"n2": f"{rng.randint(10, 99)}", "n3": f"{rng.randint(0, 999):03d}", "n4": f"{rng.randint(0, 9_999):04d}"}
    return Person(
        person,
        " ".join(rng.sample(parts["given"], 2 if rng.random() < 0.35 else 1)),
        rng.choice(parts["family"]),
        number,
        site,
        rng.choice(parts["departments"]),
        leads or rng.random() < 0.08,
        hired,
        left,
        rng.choice(parts["phones"]).format(**fill),
        rng.choice(parts["streets"]).format(**fill),
        f"{rng.randint(1_100, 4_400) / 100:.2f}",
        rng.choice(parts["titles"]),
        date(1960, 1, 1) + timedelta(days=rng.randint(0, 16_000)),
    )


def punches(rng: random.Random, place: Place, first: date, days: int, limit: int) -> list[Punch]:
    """Return the log of so many days in order of time, at most `limit` lines; none in an hour that comes twice."""
    wanted = max(2, min(len(place.people), limit // max(1, 2 * days) + 1))
    present = rng.sample(place.people, wanted)
    shifts = place.parts.get("shifts", ((6, 14), (6, 14), (8, 17), (14, 22), (22, 30)))
    made = []
    for person in present:
        begin, end = rng.choice(shifts)
        reader = rng.choice([one for one in place.readers if one.site == person.site] or place.readers)
        usual = rng.uniform(15, 55)
        for day in range(days):
            if rng.random() < 0.12 and days > 2:
                continue
            meal = rng.random() < 0.25
            turns = [(begin * 60, "in"), (end * 60, "out")]
            if meal:
                turns[1:1] = [((begin + 4) * 60, "out"), ((begin + 4) * 60 + 30, "in")]
            for minute, direction in turns:
                local = datetime(first.year, first.month, first.day) + timedelta(
                    days=day, minutes=minute, seconds=rng.randint(-600, 600)
                )
                at = _instant(local, reader.zone)
                if at is None:
                    continue
                score = round(max(1.0, rng.gauss(usual, 9)), 1)
                if rng.random() < 0.05:
                    made.append(Punch(reader, person, at - timedelta(seconds=8), direction, "refused", score + 60))
                made.append(Punch(reader, person, at, direction, "accepted", score))
    made.sort(key=lambda punch: (punch.at, punch.reader.reader, punch.person.number))
    return made[:limit]


def _instant(local: datetime, zone: str) -> datetime | None:
    """Return the instant of a civil time; None where that time occurs twice or not at all."""
    placed = local.replace(tzinfo=ZoneInfo(zone))
    if placed.utcoffset() != placed.replace(fold=1).utcoffset():
        return None
    return placed.astimezone(UTC)
