"""Person, reader and pair effects recover what was put in, and say how sure they are."""

from __future__ import annotations

from datetime import timedelta

import numpy as np
import polars as pl
import pytest
from scipy import optimize, stats

from evenhand.scores import explain, fit_effects, fit_scores, group_levels
from evenhand.scores.effects import variances
from evenhand.scores.effects.absorbed import Ratios, errors_of, solve
from evenhand.scores.effects.cells import gather, lay_out
from evenhand.scores.effects.scale import ENOUGH, choose_scale
from evenhand.scores.watch import Charts
from tests.scores.invented import FIRST, log


def crossed(
    rng: np.random.Generator, people: int = 150, readers: int = 8, n: int = 9000
) -> tuple[np.ndarray, np.ndarray]:
    home = rng.integers(0, readers, (people, 2))
    person = rng.integers(0, people, n)
    return person, home[person, rng.integers(0, 2, n)]


def test_absorbing_people_is_the_whole_system_solved() -> None:
    rng = np.random.default_rng(1)
    person, reader = crossed(rng, 30, 4, 200)
    y = rng.normal(0, 1, 200)
    ratios = Ratios(0.7, 0.4)
    cells = gather(person, reader, y, 30, 4)
    solved = solve(cells, ratios)
    mean_error, person_error, reader_error = errors_of(cells, ratios, solved, 1.0)
    # Henderson's equations written out: one row a score, one column an effect
    design = np.zeros((200, 35))
    design[:, 0] = 1
    design[np.arange(200), 1 + person] = 1
    design[np.arange(200), 31 + reader] = 1
    prior = np.diag([0.0] + [1 / 0.7**2] * 30 + [1 / 0.4**2] * 4)
    whole = np.linalg.inv(design.T @ design + prior)
    found = whole @ design.T @ y
    errors = np.sqrt(np.diag(whole))
    assert solved.mean == pytest.approx(found[0])
    assert solved.person == pytest.approx(found[1:31])
    assert solved.reader == pytest.approx(found[31:])
    assert mean_error == pytest.approx(errors[0])
    assert person_error == pytest.approx(errors[1:31])
    assert reader_error == pytest.approx(errors[31:])


def test_intervals_of_people_cover_at_their_level_despite_outliers() -> None:
    covered, people_sd = [], []
    for seed in range(8):
        rng = np.random.default_rng(seed)
        person, reader = crossed(rng)
        a, b = rng.normal(0, 0.3, 150), rng.normal(0, 0.1, 8)
        y = 2 + a[person] + b[reader] + rng.normal(0, 0.45, len(person))
        y[rng.random(len(y)) < 0.02] += 3
        found = fit_effects(person, reader, y, 150, 8)
        covered.append(np.mean(np.abs(found.person - a) < 1.96 * found.person_error))
        people_sd.append(found.person_sd)
        # 2 % of outliers of 3 would make a plain fit read 0.616
        assert found.noise_sd == pytest.approx(0.455, abs=0.02)
    assert np.mean(covered) == pytest.approx(0.95, abs=0.025)
    assert np.mean(people_sd) == pytest.approx(0.3, abs=0.03)


def test_people_with_few_scores_are_drawn_to_the_mean() -> None:
    rng = np.random.default_rng(4)
    person, reader = crossed(rng, 100, 4, 4000)
    y = rng.normal(0, 0.3, 100)[person] + rng.normal(0, 0.5, 4000)
    # two more people, both 1.5 above everybody: one came once, one a hundred times
    person = np.concatenate([person, [100], np.full(100, 101)])
    reader = np.concatenate([reader, [0], np.zeros(100, dtype=int)])
    found = fit_effects(person, reader, np.concatenate([y, np.full(101, 1.5)]), 102, 4)
    assert 0.1 < found.person[100] < 0.7
    assert found.person[101] > 1.2
    assert found.person_error[100] > 3 * found.person_error[101]


def test_scores_are_laid_out_by_cell_in_the_order_they_came() -> None:
    rng = np.random.default_rng(6)
    # more people than two bytes count
    person, reader = rng.integers(0, 70_000, 30_000), rng.integers(0, 7, 30_000)
    layout = lay_out(person, reader, 70_000, 7)
    # numpy's own stable sort by both
    assert layout.order is not None
    assert (layout.order == np.lexsort((reader, person))).all()
    assert (layout.person[layout.cell] == layout.sort(person)).all()
    assert (layout.reader[layout.cell] == layout.sort(reader)).all()
    assert len(layout.person) == len(np.unique(person * 7 + reader))


def test_the_scale_is_the_one_on_which_residuals_are_even() -> None:
    rng = np.random.default_rng(7)
    person, reader = crossed(rng)
    shapes = {
        "log": np.exp(rng.normal(1.5, 0.6, 9000)),
        # Wilson and Hilferty (1931): the cube root of a chi-square is nearly normal
        "cube_root": stats.chi2.rvs(4, size=9000, random_state=rng),
        "plain": rng.normal(50, 5, 9000),
    }
    chosen = {name: choose_scale(person, reader, scores, 150, 8).name for name, scores in shapes.items()}
    assert chosen["log"] == "log"
    assert chosen["cube_root"] == "cube_root"
    # a few zeros are a reader's quirk, many rule the logarithm out
    many = np.repeat(np.arange(ENOUGH // 100), 200)
    lognormal = np.exp(rng.normal(1.5, 0.6, len(many)))
    assert choose_scale(many, many % 8, lognormal, ENOUGH // 100, 8).name == "log"
    for share, is_log in ((0.05, True), (0.3, False)):
        some = np.where(rng.random(9000) < share, 0.0, shapes["log"])
        assert (choose_scale(person, reader, some, 150, 8).name == "log") is is_log
    # nor does one far score in a hundred, at twenty times, choose another scale
    far = np.where(rng.random(9000) < 0.01, 20.0, 1.0) * shapes["log"]
    assert choose_scale(person, reader, far, 150, 8).name == "log"


def test_the_parts_of_a_score_add_up_and_point_at_the_dirty_reader() -> None:
    frame = log(np.random.default_rng(9), shift=lambda p, r, d: 0.8 if r == 1 and d >= 30 else 0.0)
    model = fit_scores(frame)
    assert model is not None
    parts = explain(model)
    total = parts["of_person"] + parts["of_reader"] + parts["of_day"] + parts["rest"]
    assert (total - parts["above"]).abs().max() < 1e-9
    late = parts.join(frame.select("punch", "day"), on="punch").filter(
        pl.col("reader") == "R1", pl.col("day") >= FIRST + timedelta(days=34)
    )
    # 0.8 of dirt, of which the reader's usual level took a part, since a quarter of its days were dirty
    assert late["of_reader"].mean() > 0.5
    assert abs(late["of_person"].mean()) < 0.25


def test_one_persons_parts_are_those_among_everybodys() -> None:
    model = fit_scores(log(np.random.default_rng(9), people=12))
    assert model is not None
    everybody = explain(model)
    assert explain(model, "P003").equals(everybody.filter(pl.col("person") == "P003"))
    assert explain(model, "nobody").is_empty()


def test_a_groups_level_is_the_geometric_mean_of_its_scores_by_the_usual_one() -> None:
    frame = log(np.random.default_rng(12), people=20)
    model = fit_scores(frame)
    assert model is not None
    assert model.scale.name == "log"
    groups = {f"P{p:03d}": "even" if p % 2 == 0 else "odd" for p in range(19)}
    found = group_levels(model, groups, frame["at"].max())
    late = frame.filter(pl.col("at") > frame["at"].max() - 28 * 86_400)
    means = late.group_by(
        pl.col("person").replace_strict(groups, default="", return_dtype=pl.String).alias("group"), "reader"
    ).agg(pl.len(), mean=pl.col("score").log().mean().exp())
    both = found.join(means, on=["group", "reader"])
    assert both.height == means.height == found.height
    assert (both["presentations"] == both["len"]).all()
    assert (both["times"] * model.usual).to_list() == pytest.approx(both["mean"].to_list())


def test_too_few_scores_are_not_fitted() -> None:
    assert fit_scores(log(np.random.default_rng(1)).head(20)) is None


def test_variances_at_their_bound_are_said_and_moments_stand_in() -> None:
    # people differ a thousand times as much as their own scores do, beyond any bound
    frame = log(np.random.default_rng(31), people=20, spread=2e-4, threshold=np.inf)
    charts = Charts(frame, {}, frame["at"].max())
    assert charts.model is not None
    assert not charts.model.effects.ratios.settled
    assert [issue.code for issue in charts.issues if "not_settled" in issue.code] == ["variances_not_settled"]
    usual = Charts(log(np.random.default_rng(31), people=20), {}, 0)
    assert usual.model is not None
    assert usual.model.effects.ratios.settled
    assert "variances_not_settled" not in [issue.code for issue in usual.issues]


def test_moments_agree_with_likelihood_where_both_can_tell(monkeypatch: pytest.MonkeyPatch) -> None:
    rng = np.random.default_rng(32)
    person, reader = crossed(rng, 400, 12, 24_000)
    pair = rng.normal(0, 0.3, (400, 12))[person, reader]
    y = rng.normal(0, 0.6, 400)[person] + rng.normal(0, 0.5, 12)[reader] + pair + rng.normal(0, 0.5, len(person))
    cells = gather(person, reader, y, 400, 12)
    likely, _, _ = variances.estimate_ratios(cells)
    monkeypatch.setattr(
        "scipy.optimize.minimize", lambda *args, **kwargs: optimize.OptimizeResult(x=args[1], success=False)
    )
    rough, _, _ = variances.estimate_ratios(cells)
    assert likely.settled
    assert not rough.settled
    # two readers a person: half the pairs' variance goes with the person's middle, half stays
    assert rough.person == pytest.approx(np.hypot(likely.person, likely.pair / np.sqrt(2)), rel=0.15)
    assert rough.reader == pytest.approx(likely.reader, rel=0.5)
    assert rough.pair == pytest.approx(likely.pair / np.sqrt(2), rel=0.25)
