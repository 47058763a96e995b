"""Person, reader and pair effects against a mixed model fitted by other means."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest
from statsmodels.regression.mixed_linear_model import MixedLM

from evenhand.scores.effects.absorbed import errors_of, solve
from evenhand.scores.effects.cells import gather
from evenhand.scores.effects.variances import estimate_ratios

PEOPLE, READERS = 24, 5


def scores(seed: int) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Normal scores of people who come to two or three of five readers, unequally often."""
    rng = np.random.default_rng(seed)
    used = [rng.choice(READERS, rng.integers(2, 4), replace=False) for _ in range(PEOPLE)]
    cells = [(p, r) for p in range(PEOPLE) for r in used[p] for _ in range(rng.integers(1, 7))]
    person, reader = np.array(cells).T
    pair = rng.normal(0, 3, (PEOPLE, READERS))[person, reader]
    effects = rng.normal(0, 5, PEOPLE)[person] + rng.normal(0, 4, READERS)[reader] + pair
    return person, reader, 40 + effects + rng.normal(0, 6, len(person))


@pytest.mark.parametrize("seed", [1, 2, 5, 7])  # those of the first on which the reference converges
def test_crossed_effects_are_those_of_a_reference_mixed_model(seed: int) -> None:
    # Source: statsmodels, MixedLM with variance components, restricted maximum likelihood, dense matrices
    person, reader, y = scores(seed)
    frame = pd.DataFrame({"y": y, "person": person, "reader": reader, "pair": person * READERS + reader, "all": 1})
    parts = {name: f"0 + C({name})" for name in ("person", "reader", "pair")}
    fit = MixedLM.from_formula("y ~ 1", frame, groups="all", re_formula="0", vc_formula=parts).fit(reml=True)
    cells = gather(person, reader, y, PEOPLE, READERS)
    ratios, noise, _ = estimate_ratios(cells)
    solved = solve(cells, ratios)
    mean_error, _, _ = errors_of(cells, ratios, solved, noise)
    names = fit.model.exog_vc.names
    reference = dict(zip(names, fit.vcomp, strict=True))
    for name, ratio in (("person", ratios.person), ("reader", ratios.reader), ("pair", ratios.pair)):
        assert ratio**2 * noise == pytest.approx(reference[name], rel=0.01)
    assert noise == pytest.approx(fit.scale, rel=0.005)
    assert solved.mean == pytest.approx(fit.fe_params.iloc[0], abs=0.01)
    assert mean_error == pytest.approx(fit.bse_fe.iloc[0], rel=0.01)
    effects = fit.random_effects[1]
    assert solved.person == pytest.approx([effects[f"person[C(person)[{at}]]"] for at in range(PEOPLE)], abs=0.03)
    assert solved.reader == pytest.approx([effects[f"reader[C(reader)[{at}]]"] for at in range(READERS)], abs=0.03)
    pairs = [effects[f"pair[C(pair)[{p * READERS + r}]]"] for p, r in zip(cells.person, cells.reader, strict=True)]
    assert solved.pair == pytest.approx(pairs, abs=0.03)
