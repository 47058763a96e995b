"""Who is shown again: a cautious rule, held to Fisher's exact test as SciPy computes it."""

from __future__ import annotations

from datetime import date

import pytest
from scipy.stats import fisher_exact

from evenhand.enrolment.teaching.shown_again import SELDOM, EnrolmentWork, not_known_yet, shown_again, stands_out

TODAY = date(2026, 11, 16)
KNOWS = EnrolmentWork(practised_on=date(2026, 11, 2), enrolled=20, told=20, proved=20)
OTHERS = EnrolmentWork(enrolled=200, told=200, proved=190, again=10)


@pytest.mark.parametrize(("count", "of"), [(1, 5), (3, 9), (4, 20), (6, 20), (9, 10)])
@pytest.mark.parametrize(("others", "others_of"), [(0, 40), (10, 200), (30, 60)])
def test_it_is_fishers_exact_test(count: int, of: int, others: int, others_of: int) -> None:
    table = [[count, of - count], [others, others_of - others]]
    assert stands_out(count, of, others, others_of) == (fisher_exact(table, alternative="greater").pvalue < SELDOM)


def test_whoever_practised_lately_and_did_well_is_left_alone() -> None:
    assert shown_again(KNOWS, OTHERS) == ()


def test_whoever_enrolled_well_need_not_practise() -> None:
    assert shown_again(EnrolmentWork(enrolled=1, told=1, proved=1), OTHERS) == ()
    assert not_known_yet(EnrolmentWork(enrolled=1, told=1, proved=1), TODAY) == ""


@pytest.mark.parametrize(
    ("work", "says"),
    [
        (EnrolmentWork(), "has not practised yet"),
        (EnrolmentWork(practised_on=date(2026, 5, 17), well=16), "last practised on Sun 17 May 2026"),
        (EnrolmentWork(practised_on=date(2026, 11, 2), well=8, not_well=8), "with 8 of 16 parts to look at again"),
    ],
)
def test_nothing_on_file_is_not_known_yet_and_no_reason_to_be_shown_again(work: EnrolmentWork, says: str) -> None:
    assert says in not_known_yet(work, TODAY)
    assert shown_again(work, OTHERS) == ()


@pytest.mark.parametrize("not_well", [0, 1, 7])
def test_a_practice_is_no_test_and_a_wrong_answer_shows_nobody_again(not_well: int) -> None:
    work = EnrolmentWork(practised_on=date(2026, 5, 18), well=16 - not_well, not_well=not_well)  # 26 weeks ago
    assert (not_known_yet(work, TODAY), shown_again(work, OTHERS)) == ("", ())


@pytest.mark.parametrize(
    ("work", "says"),
    [
        (EnrolmentWork(enrolled=9, told=9, proved=7, other_number=2), "2 hands stood under another number"),
        (EnrolmentWork(enrolled=9, told=9, proved=4), "5 of 9 enrolments were not proved"),
        (EnrolmentWork(enrolled=9, told=9, proved=9, again=4), "4 of 9 hands were enrolled again"),
    ],
)
def test_each_reason_is_told(work: EnrolmentWork, says: str) -> None:
    (reason,) = shown_again(work, OTHERS)
    assert says in reason


@pytest.mark.parametrize(
    "work",
    [
        EnrolmentWork(practised_on=date(2026, 5, 18), enrolled=9, told=9, proved=9),  # 26 weeks ago to the day
        EnrolmentWork(enrolled=9, told=9, proved=8, other_number=1),  # once is a slip
        EnrolmentWork(enrolled=4, told=4, proved=2),  # two are no habit, however many the others have
        EnrolmentWork(enrolled=60, told=60, proved=57),  # three of sixty are as usual
        EnrolmentWork(enrolled=9, told=0, proved=0, practised_on=date(2026, 11, 2)),  # too new to be told
    ],
)
def test_what_may_be_chance_is_no_reason(work: EnrolmentWork) -> None:
    assert shown_again(work, OTHERS) == ()


def test_beside_nobody_nothing_stands_out() -> None:
    assert shown_again(EnrolmentWork(enrolled=9, told=9, proved=4), EnrolmentWork()) == ()
