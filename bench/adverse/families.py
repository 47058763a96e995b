"""The families: each one way in which a workplace may differ from what an estimator would like."""

from __future__ import annotations

from bench.adverse.crew import Crew
from bench.adverse.mishaps import Mishaps
from bench.adverse.noise import Noise

_MILD = Noise(
    law="laplace", zeros=0.01, whole=1.0, far=0.003, pairs=0.12, uneven=0.15, daily=0.1, carries=0.5, sticky=0.3
)

SCORES: dict[str, tuple[Crew, Noise, Mishaps]] = {
    "lognormal": (Crew(), Noise(), Mishaps()),
    "gamma": (Crew(), Noise(law="gamma"), Mishaps()),
    "t3": (Crew(), Noise(law="t3"), Mishaps()),
    "laplace": (Crew(), Noise(law="laplace"), Mishaps()),
    "5 % zeros": (Crew(), Noise(zeros=0.05), Mishaps()),
    "whole numbers": (Crew(), Noise(whole=10.0), Mishaps()),
    "1 % far off": (Crew(), Noise(far=0.01), Mishaps()),
    "own offset at each reader": (Crew(), Noise(pairs=0.25), Mishaps()),
    "unequal scatter": (Crew(), Noise(uneven=0.3), Mishaps()),
    "days alike": (Crew(), Noise(daily=0.2, carries=0.7), Mishaps()),
    "readers' days alike": (Crew(), Noise(weather=0.15, carries=0.8), Mishaps()),
    "Mondays and season": (Crew(), Noise(calendar=True), Mishaps()),
    "adapting, a = 0.1": (Crew(), Noise(adapts=0.1), Mishaps()),
    "adapting, a = 0.02": (Crew(), Noise(adapts=0.02), Mishaps()),
    "tries alike": (Crew(), Noise(sticky=0.7), Mishaps()),
    "one reader each": (Crew(one_reader=1.0), Noise(), Mishaps()),
    "much leave, one shift": (Crew(leave=0.12, one_shift=True), Noise(), Mishaps()),
    "six months": (Crew(days=182), Noise(), Mishaps()),
    "mates' slips": (Crew(), Noise(), Mishaps(slips=0.01)),
    "all of it, mildly": (Crew(leave=0.06), _MILD, Mishaps()),
    "all of it, 100 people": (Crew(people=100, readers=4, sites=1, leave=0.06), _MILD, Mishaps()),
    "all of it, 1,000 people": (Crew(people=1000, readers=24, sites=4, leave=0.06), _MILD, Mishaps()),
    "all of it, 10,000 people": (Crew(people=10_000, readers=160, sites=20, leave=0.06), _MILD, Mishaps()),
}

FEWEST_OF = {"1,000 people": 3, "10,000 people": 1}
"""How many workplaces of the large kinds are made at most: one takes as long as a hundred small ones."""

_WRONG = Mishaps(wrong=10, outsiders=4, slips=0.003)

STRAYS: dict[str, tuple[Crew, Mishaps]] = {
    "as usual": (Crew(days=42), _WRONG),
    "readers without names": (Crew(days=42), Mishaps(wrong=10, outsiders=4, slips=0.003, names=False)),
    "leave, schedules unchanged": (
        Crew(days=42, leave=0.12, leave_planned=False),
        Mishaps(wrong=10, outsiders=4, slips=0.003, names=False),
    ),
    "no schedules": (Crew(days=42, scheduled=False), Mishaps(wrong=10, outsiders=4, slips=0.003, names=False)),
    "one shift for all": (Crew(days=42, one_shift=True), Mishaps(wrong=10, outsiders=4, slips=0.003, names=False)),
    "numbers unlike": (Crew(days=42), Mishaps(wrong=10, outsiders=4, slips=0.003, names=False, unlike=0.8)),
    "two weeks": (Crew(days=14), Mishaps(wrong=10, outsiders=4, slips=0.003, names=False)),
    "many outsiders": (Crew(days=42, leave=0.06), Mishaps(wrong=4, outsiders=20, slips=0.003, names=False, unlike=0.4)),
    "one reader each": (Crew(days=42, one_reader=1.0), Mishaps(wrong=10, outsiders=4, names=False)),
    "lapses": (Crew(days=42, lapses=0.06, leave=0.08), Mishaps(wrong=10, outsiders=4, slips=0.01, names=False)),
    "numbers swapped, named": (Crew(days=42), Mishaps(wrong=2, pairs=6)),
    "numbers swapped, no names": (Crew(days=42), Mishaps(wrong=2, pairs=6, names=False)),
    "hard all round": (
        Crew(days=21, leave=0.1, leave_planned=False, one_shift=True, lapses=0.03, one_reader=0.6),
        Mishaps(wrong=10, outsiders=10, slips=0.01, names=False, unlike=0.5),
    ),
    "no names, 100 people": (
        Crew(people=100, readers=4, sites=1, days=28, leave=0.06, leave_planned=False),
        Mishaps(wrong=7, outsiders=4, slips=0.003, names=False, unlike=0.3),
    ),
    "no names, 1,000 people": (
        Crew(people=1000, readers=24, sites=4, days=28, leave=0.06, leave_planned=False),
        Mishaps(wrong=60, outsiders=30, slips=0.003, names=False, unlike=0.3),
    ),
    "no names, 10,000 people": (
        Crew(people=10_000, readers=160, sites=20, days=28, leave=0.06, leave_planned=False),
        Mishaps(wrong=300, outsiders=150, slips=0.003, names=False, unlike=0.3),
    ),
}

THRESHOLDS: dict[str, tuple[Crew, float]] = {
    "lowered by a tenth": (Crew(), 0.105),
    "lowered by a third": (Crew(), 0.405),
    "raised by a fifth": (Crew(), -0.182),
    "not moved": (Crew(), 0.0),
}

CLOCKS: dict[str, tuple[Crew, Mishaps]] = {
    "right clocks": (Crew(), Mishaps()),
    "twelve minutes fast": (Crew(), Mishaps(clock=12)),
    "twelve minutes fast, one site of four readers": (Crew(people=100, readers=4, sites=1), Mishaps(clock=12)),
    "four minutes slow": (Crew(), Mishaps(clock=-4)),
    "a crew a quarter of an hour early": (Crew(), Mishaps(early=15)),
    "the same, no schedules": (Crew(scheduled=False), Mishaps(early=15)),
    "a clock in a crew on leave": (Crew(leave=0.12, leave_planned=False), Mishaps(clock=12)),
}
