"""From comparisons to bits, by hand."""

from __future__ import annotations

from dataclasses import replace
from math import log2

import numpy as np
import polars as pl
import pytest

from evenhand.linkage.blocking import Pairs
from evenhand.linkage.comparisons.compare import Comparisons
from evenhand.linkage.comparisons.lists import Counts
from evenhand.linkage.comparisons.number_errors import NumberErrors
from evenhand.linkage.comparisons.times import Times
from evenhand.linkage.results import _likeliest_error
from evenhand.linkage.tables import EVIDENCE
from evenhand.linkage.weights.estimation import learned
from evenhand.linkage.weights.match_weights import share_bits
from evenhand.linkage.weights.mixing import learned_mixing
from evenhand.linkage.weights.parameters import AGREEMENTS, ERROR_KINDS, OTHER, Weights
from evenhand.linkage.weights.scoring import alone, fixed_bits, mixture_bits, score, total_bits
from tests.linkage.scene import DAY, HOUR, MONDAY, attributed, every_pair, roster, stray, strays_of

SIX = MONDAY + 6 * HOUR
WEIGHTS = Weights()


def ints(*values: int) -> np.ndarray:
    return np.array(values, dtype=np.int64)


def compared(size: int = 1, **more) -> Comparisons:
    """Pairs of which nothing is known but what `more` says."""
    none, nothing = np.zeros(size, dtype=np.int64), np.zeros(size)
    blank = Comparisons(
        counts={
            name: Counts(none, none, None if name in WEIGHTS.u | WEIGHTS.mixed else np.full(size, 0.5))
            for name in AGREEMENTS
        },
        times=Times(nothing, nothing, none),
        no_matchs_times=np.zeros(1),
        errors=NumberErrors(ints(), ints(), np.array([]), pl.Series([], dtype=pl.String)),
        impossible=none,
        unemployed=none,
        barred=(ints(), ints()),
        digits=np.full(size, 4.0),
        holds=np.zeros(size, dtype=bool),
        is_held=np.zeros(size, dtype=bool),
        is_seldom_there=np.zeros(size, dtype=bool),
        former=nothing,
        people=8,
        length=none,
        stray=np.arange(size),
    )
    return replace(blank, **more)


def errors(*rows: tuple[int, str, float]) -> NumberErrors:
    return NumberErrors(
        pair=ints(*(pair for pair, _, _ in rows)),
        kind=ints(*(ERROR_KINDS.index(kind) for _, kind, _ in rows)),
        likelihood=np.array([chance for _, _, chance in rows]),
        meant=pl.Series(["4821"] * len(rows)),
    )


def test_a_share_is_held_back_by_two_imagined_punches() -> None:
    # 3 of 8 punches there, 0.5 usual: (3 + 1) / (8 + 2) against a share of 0.1
    assert float(share_bits(3, 8, 0.1, 0.5)) == pytest.approx(2.0)


def test_before_anything_is_seen_one_of_everybody_or_nobody() -> None:
    bits = score(compared(), {part: np.zeros(1) for part in EVIDENCE}, replace(WEIGHTS, nobody=0.2))
    # 0.8 for eight people are 0.1 each, half of nobody's 0.2
    assert float(bits["prior"][0]) == pytest.approx(-1.0)
    assert all(float(bits[name][0]) == 0.0 for name in AGREEMENTS)


def test_each_kind_of_agreement_is_held_against_its_own_coincidence() -> None:
    counts = compared().counts | {
        "name": Counts(ints(1), ints(1), np.array([0.01])),
        "refused": Counts(ints(1), ints(1)),
    }
    bits = score(compared(counts=counts), {part: np.zeros(1) for part in EVIDENCE}, WEIGHTS)
    assert float(bits["name"][0]) == pytest.approx(log2(0.95 / 0.01))
    assert float(bits["refused"][0]) == pytest.approx(log2(0.05 / 0.002))


def test_a_number_is_a_mixture_of_every_error_that_fits_and_of_any_number() -> None:
    fitting = errors((0, "adjacent", 1 / 3), (0, "phone", 1.0), (2, "own", 1.0))
    found = mixture_bits(fitting, np.array([4.0, 4.0, 2.0]), WEIGHTS)
    assert found.tolist() == pytest.approx(
        [log2((0.12 / 3 + 0.15 + 0.1e-4) * 1e4), log2(0.1), log2((0.03 + 0.1e-2) * 1e2)]
    )


def test_the_error_that_explains_most_of_a_number_is_the_one_named() -> None:
    # shares times chances: 0.12 / 3 against 0.15 for the first pair, 0.2 against 0.03 for the last; of two alike the
    # kind that comes first
    fitting = errors(
        (0, "adjacent", 1 / 3), (0, "phone", 1.0), (2, "own", 1.0), (2, "single", 1.0), (3, "doubled", 0.5),
        (3, "zeros_added", 0.5),
    )  # fmt: skip
    named = replace(fitting, meant=pl.Series(["a", "b", "c", "d", "e", "f"]))
    kind, meant = _likeliest_error(named, WEIGHTS, 4)
    assert kind.to_list() == ["phone", None, "single", "doubled"]
    assert meant.to_list() == ["b", None, "d", "e"]


def test_punches_under_a_persons_own_number_are_nearly_always_theirs() -> None:
    both = compared(2, holds=np.array([True, False]), is_held=np.array([True, True]))
    bits = score(both, {part: np.zeros(2) for part in EVIDENCE}, WEIGHTS)["number"].tolist()
    # 98 to 2, and another's would be that of any of eight people; a tenth of any of ten thousand numbers besides
    assert bits == pytest.approx([log2(49 * 8), log2(1 + 0.1 * 8 / 10_000)])


def fixed(times: Times | None = None, **more) -> dict[str, float]:
    mine = strays_of(stray("4281", [(SIX, "in")]))
    people = roster([{"person": "A", "name": "Ana", "number": "4821", "site": "Mill"}], more.pop("owns", []))
    seen = compared(**({"times": times} if times else {}), **more)
    found = fixed_bits(seen, mine, people, every_pair(mine, people), WEIGHTS)
    return {name: float(column[0]) for name, column in found.items()}


def test_contradictions_weigh_ten_bits_each_and_six_at_most() -> None:
    assert fixed(impossible=ints(2))["elsewhere"] == -20
    assert fixed(impossible=ints(9), unemployed=ints(1))["elsewhere"] == -60
    assert fixed(unemployed=ints(7))["employed"] == -60


def test_a_former_number_speaks_against_everybody_here() -> None:
    assert fixed(former=np.array([0.0]))["former"] == 1
    assert fixed(former=np.array([5.0]))["former"] == pytest.approx(-log2(3))


def test_at_most_five_punches_count_as_independent_and_only_known_hours_count() -> None:
    habit = attributed("A", [(SIX + DAY * day, "in") for day in range(8)])
    seen = Times(np.array([-8.0]), np.array([0.0]), ints(7))
    assert fixed(seen, owns=habit, no_matchs_times=np.array([-45.0]))["time"] == 5
    assert fixed(replace(seen, compared=ints(4)), owns=habit, no_matchs_times=np.array([-45.0]))["time"] == 13
    assert fixed(seen, owns=habit[:7], no_matchs_times=np.array([-45.0]))["time"] == 0


def test_somebody_of_another_site_is_unlikely_until_they_punch_here() -> None:
    def site_bits(site: str | None, reader: str, owns: list, of: str = "GATE") -> float:
        mine = strays_of(stray("4281", [(SIX, "in")], of))
        people = roster([{"person": "A", "name": "Ana", "number": "4821", "site": site}], attributed("A", owns, reader))
        found = fixed_bits(compared(), mine, people, every_pair(mine, people), WEIGHTS)
        return float(found["site"][0])

    # two sites, nobody has punched: both have a share of 1/2; 0.9 + 0.05 at home, 0.05 away, 1/2 without a site
    assert site_bits("Mill", "GATE", []) == pytest.approx(log2(0.95 / 0.5))
    assert site_bits("Quarry", "GATE", []) == pytest.approx(log2(0.05 / 0.5))
    assert site_bits(None, "GATE", []) == 0
    # two punches at the mill: shares 3/4 and 1/4, and somebody of the quarry has two of their two there
    twice = [(SIX, "in"), (SIX + HOUR, "out")]
    assert site_bits("Quarry", "GATE", twice) == pytest.approx(log2((2 + 2 * 0.075) / 4 / 0.75))
    assert site_bits("Mill", "GATE", twice, of="ATTIC") == 0


def test_one_stray_alone_is_shared_between_its_candidates_and_nobody() -> None:
    pairs = Pairs.of(ints(0, 0, 2), ints(0, 1, 0), 3)
    chance, nobody = alone(np.array([1.0, 1.0, -300.0]), pairs, np.zeros(3))
    assert chance.tolist() == pytest.approx([0.4, 0.4, 0.0])
    assert nobody.tolist() == pytest.approx([0.2, 1.0, 1.0])
    # those not looked at count beside nobody: 5 to 1 for the first, 1 to 1 for the second, 3 to 1 for the last
    chance, nobody = alone(np.array([1.0, 1.0, -300.0]), pairs, np.array([5.0, 1.0, 3.0]))
    assert chance.tolist() == pytest.approx([0.2, 0.2, 0.0])
    assert nobody.tolist() == pytest.approx([0.1, 0.5, 0.25])


def test_the_parts_add_up() -> None:
    bits = {part: np.array([float(at)]) for at, part in enumerate(EVIDENCE)}
    assert total_bits(bits).tolist() == [sum(range(len(EVIDENCE)))]


def test_shares_of_errors_are_learned_from_what_is_likely_and_so_is_how_many_are_unlike() -> None:
    fitting = errors((0, "phone", 1.0), (1, "phone", 1.0), (2, "adjacent", 1.0))
    seen = compared(3, errors=fitting)
    found = learned(WEIGHTS, seen, lambda _: (np.array([1.0, 1.0, 0.0]), np.zeros(3)), rounds=1)
    # ten imagined strays and two by telephone, each all but certainly: 0.1e-4 of 0.15 is any number
    sure = 0.15 / (0.15 + 0.1e-4)
    assert found.errors["phone"] == pytest.approx((1.5 + 2 * sure) / 12)
    assert found.errors["adjacent"] == pytest.approx(1.2 / 12)
    assert found.errors[OTHER] == pytest.approx((1 + 2 * (1 - sure)) / 12)
    assert sum(found.errors.values()) == pytest.approx(1.0)
    # three strays that somebody owns, five imagined of which one is nobody's
    assert found.nobody == pytest.approx(1 / 8)


def test_agreements_are_learned_from_likely_pairs() -> None:
    counts = compared(2).counts | {
        "days": Counts(ints(10, 0), ints(10, 10)),
        "enrolment": Counts(ints(1, 0), ints(1, 1), np.array([0.1, 0.1])),
        "confirmed": Counts(ints(0, 0), ints(1, 1), np.array([0.1, 0.1])),
    }
    seen = compared(2, counts=counts, length=ints(0))
    found = learned(WEIGHTS, seen, lambda _: (np.array([1.0, 0.5]), np.zeros(1)), rounds=1)
    # one of one, half of nought of one, and ten imagined at 0.95
    assert found.m["enrolment"] == pytest.approx((1 + 9.5) / (1 + 0.5 + 10))
    before, of_others = WEIGHTS.mixed["days"]
    days, others = found.mixed["days"]
    assert days == pytest.approx(learned_mixing(ints(10, 0), ints(10, 10), np.array([1.0, 0.5]), before, 10.0))
    assert others.tolist() == of_others.tolist()
    # what somebody decided is not up for learning
    assert found.m["confirmed"] == WEIGHTS.m["confirmed"]


def test_whoever_is_seldom_there_is_silent_all_the_same() -> None:
    counts = compared(2).counts | {"days": Counts(ints(9, 9), ints(9, 9))}
    seen = compared(2, counts=counts, is_seldom_there=np.array([False, True]))
    there, never = score(seen, {part: np.zeros(2) for part in EVIDENCE}, WEIGHTS)["days"].tolist()
    assert there > 4
    assert never < 0


def test_learning_goes_on_until_the_share_of_nobody_stands_still() -> None:
    asked = []

    def expect(weights: Weights) -> tuple[np.ndarray, np.ndarray]:
        asked.append(weights.nobody)
        return np.ones(1), np.array([1.0 if len(asked) < 4 else 0.0])

    learned(WEIGHTS, compared(), expect)
    # up, no change, and so the end: two rounds
    assert len(asked) == 2
    assert asked[1] == pytest.approx((1 + 1) / 6)


def test_how_long_somebodys_strays_last_and_nobodys_is_learned_from_the_site() -> None:
    seen = compared(4, length=ints(5, 5, 1, 1))
    alike = learned(WEIGHTS, seen, lambda _: (np.zeros(4), np.full(4, 0.5)), rounds=1)
    assert alike.lengths[0] == pytest.approx(alike.lengths[1])
    found = learned(WEIGHTS, seen, lambda _: (np.ones(4), np.array([0.0, 0.0, 1.0, 1.0])), rounds=1)
    # two long ones are somebody's, two short ones nobody's; four imagined ones lie as all do, with one more of each
    before = 4 * np.array([1, 3, 1, 1, 1, 3]) / 10
    assert found.lengths[0] == pytest.approx((before + ints(0, 0, 0, 0, 0, 2)) / 6)
    assert found.lengths[1] == pytest.approx((before + ints(0, 2, 0, 0, 0, 0)) / 6)
    long, short = score(seen, {part: np.zeros(4) for part in EVIDENCE}, found)["prior"][[0, 2]]
    assert long - short == pytest.approx(2 * log2((1.2 + 2) / 1.2))
