"""Drawn hands have the published means, spreads and correlations, and no measure of a hand leaves the twin."""

import dataclasses

import numpy as np
import polars as pl
import pytest

from evenhand.twin import Workplace, files
from evenhand.twin.anthropometry import MEASURES, PLACEMENT_MM, draw_sizes, sizes

DRAWN = 100_000

# ANSUR II (Gordon et al. 2014, Natick TR-15/007), from the individual records of 4,082 men and 1,986 women
LENGTH_BREADTH_PALM_ROUND = {
    True: ([193.28, 88.26, 116.46, 212.28], [9.95, 4.39, 6.23, 10.24]),
    False: ([181.08, 78.15, 108.70, 186.55], [10.06, 3.84, 5.94, 8.82]),
}
# length with breadth, length with palm, breadth with circumference, palm with circumference
CORRELATIONS = {True: (0.582, 0.795, 0.922, 0.501), False: (0.570, 0.839, 0.893, 0.505)}


def drawn(is_man: bool) -> np.ndarray:
    return draw_sizes(np.random.default_rng(7), np.full(DRAWN, is_man))


@pytest.mark.parametrize("is_man", [True, False])
def test_hands_have_the_sizes_and_correlations_of_the_survey(is_man: bool) -> None:
    mean, sd = LENGTH_BREADTH_PALM_ROUND[is_man]
    hands = drawn(is_man)
    # four standard errors of 100,000 draws: of a mean 0.13, of a standard deviation 0.09, of a correlation 0.009
    assert hands[:, :4].mean(axis=0) == pytest.approx(mean, abs=0.14)
    assert hands[:, :4].std(axis=0) == pytest.approx(sd, abs=0.1)
    together = np.corrcoef(hands.T)
    pairs = [together[0, 1], together[0, 2], together[1, 3], together[2, 3]]
    assert pairs == pytest.approx(CORRELATIONS[is_man], abs=0.01)


def test_fingers_of_both_sexes_together_have_the_published_lengths() -> None:
    # Chatzioglou, Pinar and Govsa (2024), 32 women and 19 men: thumb to little finger
    is_man = np.arange(51 * 2000) % 51 < 19
    fingers = draw_sizes(np.random.default_rng(7), is_man)[:, 4:]
    assert fingers.mean(axis=0) == pytest.approx([49.5, 63.9, 70.7, 65.5, 53.3], abs=0.1)
    assert fingers.std(axis=0) == pytest.approx([5.5, 4.1, 5.2, 4.8, 4.3], abs=0.1)


@pytest.mark.parametrize("is_man", [True, False])
def test_fingers_go_together_and_with_the_hand(is_man: bool) -> None:
    # .8 to .9 among themselves and about .8 with hand length: from memory of Greiner 1991
    together = np.corrcoef(drawn(is_man).T)
    assert together[4:, 0] == pytest.approx([0.8] * 5, abs=0.01)
    assert (together[4:, 4:][~np.eye(5, dtype=bool)] > 0.8).all()
    assert (together[4:, 4:][~np.eye(5, dtype=bool)] < 0.9).all()


def test_palm_and_middle_finger_make_up_the_hand() -> None:
    # the two lengths end where the hand ends: within a few mm, though they come from two surveys
    for size in sizes().values():
        assert size.mean[MEASURES.index("palm_length")] + size.mean[MEASURES.index("middle_length")] == pytest.approx(
            size.mean[0], abs=4
        )


def test_placement_errs_somewhat_more_than_careful_measuring() -> None:
    # relative technical error of measurement below 1.5 % for lengths and broad parts (a study of 40 adults)
    middle = np.mean([size.mean for size in sizes().values()], axis=0)
    assert ((PLACEMENT_MM / middle > 0.015) & (PLACEMENT_MM / middle < 0.03)).all()


def test_no_measure_of_a_hand_is_in_a_frame_or_a_file(place: Workplace) -> None:
    held = [getattr(owner, field.name) for owner in (place, place.truth) for field in dataclasses.fields(owner)]
    frames = [frame for frame in held if isinstance(frame, pl.DataFrame)]
    assert len(frames) > 8
    numbers = {name for frame in frames for name, kind in frame.schema.items() if kind.is_float()}
    assert numbers == {"score"}
    words = [measure.replace("_", sign) for measure in MEASURES for sign in ("_", " ")]
    for name, content in files(place).items():
        assert not [word for word in words if word.encode() in content.lower()], name
