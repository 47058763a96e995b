"""The families: each one way in which a workplace may differ from what an estimator would like."""

from __future__ import annotations

from bench.adverse.crew import Crew
from bench.adverse.mishaps import Mishaps
from bench.adverse.noise import Noise

SCORES: dict[str, tuple[Crew, Noise]] = {
    "lognormal": (Crew(), Noise()),
    "gamma": (Crew(), Noise(law="gamma")),
    "t3": (Crew(), Noise(law="t3")),
    "laplace": (Crew(), Noise(law="laplace")),
    "5 % zeros": (Crew(), Noise(zeros=0.05)),
    "whole numbers": (Crew(), Noise(whole=10.0)),
    "1 % far off": (Crew(), Noise(far=0.01)),
    "own offset at each reader": (Crew(), Noise(pairs=0.25)),
    "unequal scatter": (Crew(), Noise(uneven=0.3)),
    "days alike": (Crew(), Noise(daily=0.2, carries=0.7)),
    "Mondays and season": (Crew(), Noise(calendar=True)),
    "adapting, a = 0.1": (Crew(), Noise(adapts=0.1)),
    "adapting, a = 0.02": (Crew(), Noise(adapts=0.02)),
    "tries alike": (Crew(), Noise(sticky=0.7)),
    "one reader each": (Crew(one_reader=1.0), Noise()),
    "much leave, one shift": (Crew(leave=0.12, one_shift=True), Noise()),
    "six months": (Crew(days=182), Noise()),
    "all of it, mildly": (
        Crew(leave=0.06),
        Noise(
            law="laplace", zeros=0.01, whole=1.0, far=0.003, pairs=0.12, uneven=0.15, daily=0.1, carries=0.5, sticky=0.3
        ),
    ),
}

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
}

CLOCKS: dict[str, tuple[Crew, Mishaps]] = {
    "right clocks": (Crew(), Mishaps()),
    "twelve minutes fast": (Crew(), Mishaps(clock=12)),
    "four minutes slow": (Crew(), Mishaps(clock=-4)),
    "a crew a quarter of an hour early": (Crew(), Mishaps(early=15)),
    "the same, no schedules": (Crew(scheduled=False), Mishaps(early=15)),
    "a clock in a crew on leave": (Crew(leave=0.12, leave_planned=False), Mishaps(clock=12)),
}
