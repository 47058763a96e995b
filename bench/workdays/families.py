"""The kinds of workplace: how shifts lie, who eats when, what is scheduled, what a reader writes."""

from __future__ import annotations

from dataclasses import dataclass

__all__ = ["FAMILIES", "Family", "Shift"]


@dataclass(frozen=True)
class Shift:
    """A planned shift: its start, in minutes after midnight, and its length [min]."""

    start: float
    length: float


@dataclass(frozen=True)
class Family:
    """One kind of workplace; lengths in minutes.

    `meal` is the usual length of a punched meal (0: none is punched), which begins `meal_after` the start in
    `meal_share` of the long shifts; `breaks` says that short breaks are punched too. `spread` is how far a person
    strays from their own habit, `between` how far people's own starts lie apart. `second` is a second shift of the same
    day. `extra_share` of the shifts have a punch too many, `double_share` of the punches are pressed twice.
    """

    name: str
    shifts: tuple[Shift, ...]
    zone: str = "America/Chicago"
    meal: float = 0
    meal_after: float = 240
    meal_share: float = 1.0
    breaks: bool = False
    spread: float = 4.0
    between: float = 0.0
    absent: float = 0.04
    is_scheduled: bool = False
    rotates: bool = False
    varies: bool = False
    is_flexible: bool = False
    is_every_day: bool = False
    second: Shift | None = None
    second_share: float = 0.0
    marks: bool = True
    extra_share: float = 0.004
    double_share: float = 0.01


DAY, EVENING, NIGHT = Shift(360, 480), Shift(840, 480), Shift(1320, 480)

FAMILIES = (
    Family("two_punches", (Shift(420, 510),)),
    Family("punched_meals", (Shift(420, 510), Shift(480, 510)), meal=30),
    Family("unmarked_meals", (Shift(420, 510), Shift(480, 510)), meal=30, marks=False),
    Family("long_meals", (Shift(540, 540),), zone="Europe/Madrid", meal=75, meal_after=285, spread=8),
    Family("some_meals", (Shift(390, 510),), meal=25, meal_share=0.7),
    Family("meals_and_breaks", (DAY, EVENING), zone="Europe/Warsaw", meal=20, breaks=True),
    Family("unmarked_breaks", (DAY, EVENING), zone="Europe/Warsaw", meal=20, breaks=True, marks=False),
    Family("nights", (NIGHT, Shift(1290, 600)), meal=30, is_every_day=True),
    Family("unmarked_nights", (NIGHT,), is_every_day=True, marks=False),
    Family("rotating", (DAY, EVENING, NIGHT), zone="Europe/Berlin", meal=30, rotates=True),
    Family("rotating_scheduled", (DAY, EVENING, NIGHT), zone="Europe/Berlin", meal=30, rotates=True, is_scheduled=True),
    Family(
        "shop_scheduled",
        (Shift(540, 300), Shift(600, 480), Shift(720, 540), Shift(960, 300)),
        meal=30,
        varies=True,
        is_scheduled=True,
        is_every_day=True,
    ),
    Family(
        "shop_unscheduled",
        (Shift(540, 300), Shift(600, 480), Shift(720, 540), Shift(960, 300)),
        meal=30,
        varies=True,
        is_every_day=True,
        marks=False,
    ),
    Family("flexible", (Shift(390, 500),), zone="Europe/Berlin", meal=40, is_flexible=True),
    Family("flexible_unmarked", (Shift(390, 500),), zone="Europe/Berlin", is_flexible=True, marks=False),
    Family("two_services", (Shift(660, 240),), second=Shift(1080, 300), second_share=0.8, is_every_day=True),
    Family(
        "two_services_unmarked",
        (Shift(660, 240),),
        second=Shift(1080, 300),
        second_share=0.8,
        is_every_day=True,
        marks=False,
    ),
    Family("many_extras", (Shift(420, 510),), meal=30, extra_share=0.02, double_share=0.05, marks=False),
    Family("many_doubles", (Shift(480, 480),), extra_share=0.01, double_share=0.08),
    Family("strays_apart", (Shift(360, 600), Shift(420, 510)), meal=45, between=40, spread=12),
)
