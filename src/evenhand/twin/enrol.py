"""Who is enrolled on which reader, under which number, and which reader each act happens at."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from evenhand.twin.readers import Reader
from evenhand.twin.shifts import Movements
from evenhand.twin.staff import Staff

__all__ = ["Enrolled", "choose_readers", "digit_limit", "enrol"]

Ints = npt.NDArray[np.int64]


@dataclass(frozen=True)
class Enrolled:
    """`number` (people, readers) is what each hand is enrolled under, empty where it is not.

    `own` is the reader a person uses first, `other` a second one of the site (the same where there is none),
    `away` the reader at another site for those who also work there, else -1.
    """

    number: npt.NDArray[np.object_]
    own: Ints
    other: Ints
    away: Ints


def digit_limit(reader: Reader, staff: Staff) -> int:
    """Return the longest number the reader accepts."""
    return min(len(number) for number in staff.number) + reader.spare_digits


def enrol(rng: np.random.Generator, staff: Staff, readers: list[Reader]) -> Enrolled:
    """Return everybody's enrolments: the reader used first, and four in five of the site's others."""
    people = len(staff.number)
    number = np.full((people, len(readers)), "", dtype=object)
    own, other = np.zeros(people, dtype=np.int64), np.zeros(people, dtype=np.int64)
    away = np.full(people, -1)
    number_of = np.array(staff.number, dtype=object)
    lengths = np.array([len(each) for each in staff.number])
    sites = np.array([reader.site for reader in readers])
    accepts = np.stack([lengths <= digit_limit(reader, staff) for reader in readers], axis=1)
    for who in range(people):
        here = np.flatnonzero((sites == staff.site[who]) & accepts[who])
        if staff.is_supervisor[who]:
            on = _with_supervisor(here, readers, staff, who)
            own[who] = on[0]
        else:
            share = np.array([readers[i].share for i in here])
            own[who] = rng.choice(here, p=share / share.sum())
            on = [i for i in here.tolist() if i == own[who] or rng.random() < 0.8]
        number[who, on] = number_of[who]
        rest = [i for i in on if i != own[who]]
        other[who] = rest[0] if rest else own[who]
    for who in staff.parts["second_site"]:
        there = np.flatnonzero((sites != staff.site[who]) & accepts[who])
        away[who] = there[0]
        number[who, away[who]] = number_of[who]
    for who, (_, typed) in staff.wrong.items():
        number[who, own[who]] = typed
    number[staff.parts["not_enrolled"]] = ""
    return Enrolled(number, own, other, away)


def _with_supervisor(here: Ints, readers: list[Reader], staff: Staff, who: int) -> list[int]:
    rank = int((staff.is_supervisor[:who] & (staff.site[:who] == staff.site[who])).sum())
    few = 3  # a reader meant to have three takes all the site's supervisors
    return [i for i in here.tolist() if readers[i].supervisors >= few or rank < readers[i].supervisors]


def choose_readers(rng: np.random.Generator, movements: Movements, enrolled: Enrolled, shifts: int) -> Ints:
    """Return the reader of each act: mostly the own, now and then another of the site, some shifts a second site."""
    reader = enrolled.own[movements.person].copy()
    strays = rng.random(len(reader)) < 0.08
    reader[strays] = enrolled.other[movements.person[strays]]
    is_away = (rng.random(shifts)[movements.shift] < 0.25) & (enrolled.away[movements.person] >= 0)
    reader[is_away] = enrolled.away[movements.person[is_away]]
    return reader
