"""ScoreModel against published tables, worked examples and exact values; sources in cases.json.

`sourced` says how a figure was had: seen (read in a published text), memory (recalled, then computed again), or
computed from the named formula. Where a case holds both, `published` is the printed figure.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from evenhand.scores.alarms import charts, design, run_length
from evenhand.scores.effects import absorbed, cells, changes, connected, fit, variances
from evenhand.scores.enrolment_quality import assess_enrolment
from evenhand.scores.forecasts import levels, passage
from evenhand.scores.rates import beta_binomial, clustered, intervals, tradeoff

CASES = {case["id"]: case for case in json.loads((Path(__file__).parent / "cases.json").read_text(encoding="utf-8"))}


def asked(name: str) -> tuple[dict[str, Any], dict[str, Any]]:
    return CASES[name]["inputs"], CASES[name]["expected"]


@pytest.mark.parametrize("name", ["bin-01", "bin-02"])
def test_binomial_intervals_are_newcombes(name: str) -> None:
    given, expected = asked(name)
    low, high = intervals.wilson(given["errors"], given["trials"], given["confidence"])
    assert [float(low), float(high)] == pytest.approx(expected["published"], abs=5e-5)
    assert [float(low), float(high)] == pytest.approx(expected["recomputed"], abs=1e-9)


def test_rule_of_three_and_rule_of_thirty() -> None:
    given, expected = asked("bin-05")
    assert intervals.most_errors_free(given["trials"]) == pytest.approx(expected["exact_upper"], abs=1e-9)
    given, expected = asked("bin-06")
    assert intervals.relative_half_width(given["errors"]) == pytest.approx(expected["relative_half_width"], abs=1e-9)
    low, high = intervals.wilson(given["errors"], given["trials"], given["confidence"])
    assert [float(low), float(high)] == pytest.approx(expected["wilson"], abs=1e-9)
    assert [float(low), float(high)] == pytest.approx(expected["published"], abs=5e-4)


@pytest.mark.parametrize("name", ["ci-01", "ci-02", "ci-06"])
def test_variance_of_a_rate_counts_people_not_presentations(name: str) -> None:
    given, expected = asked(name)
    errors, trials = np.array(given["errors"]), np.array(given["attempts"])
    rates = clustered.clustered_rates(np.zeros(len(errors), dtype=np.int64), errors, trials, 1)
    if "variance" in expected:
        assert rates.rate[0] == pytest.approx(expected["rate"], abs=1e-9)
        assert rates.variance[0] == pytest.approx(expected["variance"], abs=1e-9)
    if "effective_trials" in expected:
        assert rates.effective_trials[0] == pytest.approx(expected["effective_trials"], abs=1e-6)
    if "wilson" in expected:
        assert [rates.low[0], rates.high[0]] == pytest.approx(expected["wilson"], abs=1e-9)


def test_people_differ_as_geisslers_families_do() -> None:
    given, expected = asked("ci-03")
    successes = np.array(given["successes"])
    found = beta_binomial.fit_beta_binomial(
        successes, np.full(len(successes), given["size"]), np.array(given["families"])
    )
    assert found is not None
    assert [found.a, found.b] == pytest.approx(expected["published"]["mle"], abs=0.02)
    assert [found.a, found.b] == pytest.approx(expected["recomputed"]["mle"], abs=1e-3)
    assert found.log_likelihood == pytest.approx(expected["published"]["loglik"], abs=0.05)
    # Akaike: 2 parameters
    assert 2 * 2 - 2 * found.log_likelihood == pytest.approx(expected["published"]["AIC"], abs=0.01)
    # the correlation of two trials of a family under Beta(a, b) is 1 / (a + b + 1)
    assert 1 / (found.a + found.b + 1) == pytest.approx(expected["recomputed"]["intraclass_correlation"], abs=1e-5)


def test_threshold_from_short_lists() -> None:
    given, expected = asked("thr-01")
    curve = tradeoff.tradeoff(np.array(given["mated"], dtype=float), np.array(given["non_mated"], dtype=float), "test")
    (row,) = curve.filter(curve["threshold"] == given["threshold"]).rows(named=True)
    assert row["false_non_match_rate"] == pytest.approx(expected["FNMR_at_threshold"])
    assert row["false_match_rate"] == pytest.approx(expected["FMR_at_threshold"])
    # cost a week = 0.9 x FNMR x 1 minute + (5.2 / 52 = 0.1) x FMR x 10 minutes
    costs = tradeoff.Costs(given["share_mated"], 1.0, 52 * 0.1, given["cost_false_accept"])
    advice = tradeoff.advise_threshold(curve, costs, given["threshold"])
    assert advice.threshold == expected["cheapest_threshold"]
    assert advice.minutes_a_week == pytest.approx(expected["cheapest_cost"])


def test_refusals_without_scores_give_back_what_truncation_took() -> None:
    given, expected = asked("thr-05")
    values = np.random.default_rng(5).normal(given["mu"], given["sigma"], 40_000)
    kept = values[values <= given["threshold"]]
    assert kept.mean() == pytest.approx(expected["mean"], abs=0.02)
    hidden = len(values) - len(kept)
    person = np.arange(len(values)) % 20
    scores = np.r_[kept, np.full(hidden, np.nan)]
    found = fit.fit_effects(person, np.zeros(len(values), dtype=int), scores, 20, 1, bound=given["threshold"])
    assert found.mean == pytest.approx(given["mu"], abs=0.02)
    assert found.noise_sd == pytest.approx(given["sigma"], abs=0.03)


@pytest.mark.parametrize("name", ["spc-02"])
def test_two_sided_cusum_run_lengths(name: str) -> None:
    given, expected = asked(name)
    # both sides together: 1 / L = 1 / L up + 1 / L down (Lucas and Crosier 1982, without a headstart)
    k, h = given["k"], given["h"]
    rates = [
        1 / run_length.cusum_run_length(k, h, shift) + 1 / run_length.cusum_run_length(k, h, -shift)
        for shift in given["shift"]
    ]
    found = [1 / rate for rate in rates]
    assert found == pytest.approx(expected["published"], rel=CASES[name]["tolerance"]["published_relative"])
    assert found == pytest.approx(expected["recomputed"], abs=1e-4)


def test_one_sided_cusum_run_lengths() -> None:
    given, expected = asked("spc-05")
    found = [run_length.cusum_run_length(given["k"], given["h"], shift) for shift in given["shift"]]
    assert found == pytest.approx(expected["published"], rel=0.002)
    assert found == pytest.approx(expected["recomputed"], rel=1e-6)


def test_cusum_limits_for_wanted_run_lengths() -> None:
    given, expected = asked("spc-07")
    found = [design.cusum_limit(wanted, given["k"])[0] for wanted in given["arl0"]]
    assert found == pytest.approx(expected["h"], abs=1e-4)


def fixed_limits(weight: float, limit: float, headstart: float = 0.0) -> np.ndarray:
    """Half-widths of a fixed limit; two averages with a headstart alarm as one within limits narrower by what is left.

    Source: Lucas and Saccucci (1990), Technometrics 32:1-12.
    """
    half = limit * np.sqrt(weight / (2 - weight))
    steps = int(np.ceil(np.log(1e-7) / np.log(1 - weight))) if headstart else 1
    return np.asarray(half * (1 - headstart * (1 - weight) ** np.arange(1, steps + 1)))


@pytest.mark.parametrize("name", ["spc-08", "spc-09"])
def test_ewma_run_lengths(name: str) -> None:
    given, expected = asked(name)
    half = fixed_limits(given["lambda"], given["L"])
    found = [run_length.widening_run_length(given["lambda"], half, shift) for shift in given["shift"]]
    assert found == pytest.approx(expected["published"], rel=CASES[name]["tolerance"]["published_relative"])
    assert found == pytest.approx(expected["recomputed"], abs=1e-3)


def test_ewma_pairs_of_weight_and_limit() -> None:
    given, expected = asked("spc-10")
    pairs = list(zip(given["lambda"], given["L"], strict=True))
    at_rest = [run_length.widening_run_length(weight, fixed_limits(weight, limit)) for weight, limit in pairs]
    moved = [run_length.widening_run_length(weight, fixed_limits(weight, limit), 1.0) for weight, limit in pairs]
    assert at_rest == pytest.approx(expected["published_arl0"], rel=0.006)
    assert moved == pytest.approx(expected["published_arl_at_1"], rel=0.006)


@pytest.mark.parametrize("name", ["spc-11", "spc-12"])
def test_ewma_with_a_headstart(name: str) -> None:
    given, expected = asked(name)
    half = fixed_limits(given["lambda"], given["L"], given["headstart_share"])
    found = [run_length.widening_run_length(given["lambda"], half, shift) for shift in given["shift"]]
    assert found == pytest.approx(expected["published"], rel=CASES[name]["tolerance"]["published_relative"])
    assert found == pytest.approx(expected["recomputed"], abs=0.05)


def test_ewma_with_widening_limits() -> None:
    given, expected = asked("spc-13")
    weight, limit = given["lambda"], given["L"]
    # the exact spread of an average of `step` values: Lucas and Saccucci (1990)
    step = np.arange(1, 400)
    half = limit * np.sqrt(weight / (2 - weight) * (1 - (1 - weight) ** (2 * step)))
    found = [run_length.widening_run_length(weight, half, shift) for shift in given["shift"]]
    assert found == pytest.approx(expected["arl"], abs=0.1)
    assert run_length.ewma_run_length(weight, limit) == pytest.approx(expected["arl"][given["shift"].index(0)], abs=0.1)


def test_cusum_of_thirty_observations() -> None:
    given, expected = asked("spc-14")
    z = (np.array([given["x"]]) - given["target"]) / given["sigma"]
    assert charts.cusum(z, given["k"])[0] == pytest.approx(expected["upper"])
    assert charts.cusum(-z, given["k"])[0] == pytest.approx(expected["lower"])
    found = charts.cusum_alarms(z, given["k"], given["h"])
    assert found.at.tolist() == [expected["first_alarm_observation"] - 1]
    assert found.begins.tolist() == [expected["estimated_change_after_observation"]]
    assert given["target"] + found.size[0] == pytest.approx(expected["estimated_new_mean"])


def test_ewma_of_thirty_observations() -> None:
    given, expected = asked("spc-15")
    z = (np.array([given["x"]]) - given["target"]) / given["sigma"]
    averages, spread = charts.ewma(z, given["lambda"])
    assert given["target"] + averages[0] == pytest.approx(expected["z"])
    limits = [given["target"] - given["L"] * spread[0, 0], given["target"] + given["L"] * spread[0, 0]]
    assert limits == pytest.approx(expected["limits_first"])
    above, below = charts.ewma_alarms(z, given["lambda"], given["L"])
    # one alarm from observation 29 on, still over the limit at 30
    assert (above.at.tolist(), above.ends.tolist(), below.at.tolist()) == ([28], [-1], [])


def test_cusum_of_refusals() -> None:
    given, expected = asked("spc-18")
    assert charts.refusal_step(given["p0"], given["p1"]) == given["m"]
    usual = [run_length.refusal_run_length(given["p0"], given["m"], limit) for limit in given["limits"]]
    raised = [run_length.refusal_run_length(given["p1"], given["m"], limit) for limit in given["limits"]]
    assert usual == pytest.approx(expected["in_control"], rel=1e-6)
    assert raised == pytest.approx(expected["out_of_control"], rel=1e-6)


def test_dyestuff_variances() -> None:
    given, expected = asked("eff-02")
    y = np.array([value for group in given["groups"].values() for value in group], dtype=float)
    collapsed = cells.gather(np.repeat(np.arange(6), 5), np.zeros(30, dtype=int), y, 6, 1)
    ratios, noise, least = variances.estimate_ratios(collapsed, precision=1e-6)
    printed, exact = expected["published"], expected["recomputed"]
    assert ratios.person * np.sqrt(noise) == pytest.approx(printed["sd_group"], abs=0.006)
    assert np.sqrt(noise) == pytest.approx(printed["sd_residual"], abs=0.006)
    assert least == pytest.approx(exact["criterion"], abs=1e-5)
    solved = absorbed.solve(collapsed, ratios)
    error, _, _ = absorbed.errors_of(collapsed, ratios, solved, noise)
    assert solved.mean == pytest.approx(printed["mean"])
    assert error == pytest.approx(exact["se_mean"], abs=1e-4)


def test_penicillin_crossed_effects() -> None:
    given, expected = asked("eff-04")
    table = np.array(given["table"], dtype=float)
    plate, sample = np.indices(table.shape)
    collapsed = cells.gather(plate.ravel(), sample.ravel(), table.ravel(), *table.shape)
    ratios, noise, least = variances.estimate_ratios(collapsed, precision=1e-6)
    exact = expected["recomputed"]
    sds = [ratios.person * np.sqrt(noise), ratios.reader * np.sqrt(noise), np.sqrt(noise)]
    assert sds == pytest.approx([exact["sd_row"], exact["sd_column"], exact["sd_residual"]], abs=1e-4)
    assert least == pytest.approx(expected["published"]["criterion"], abs=6e-5)
    solved = absorbed.solve(collapsed, ratios)
    assert solved.reader == pytest.approx(exact["column_blup"], abs=1e-4)
    assert solved.person[:6] == pytest.approx(exact["row_blup_first_six"], abs=1e-4)
    error, _, _ = absorbed.errors_of(collapsed, ratios, solved, noise)
    assert error == pytest.approx(exact["se_mean"], abs=1e-4)


@pytest.mark.parametrize("name", ["eff-06", "eff-07", "eff-08"])
def test_a_change_is_divided_between_hand_and_reader(name: str) -> None:
    given, expected = asked(name)
    posterior = changes.estimate_changes(
        np.array(given["person"]),
        np.array(given["reader"]),
        np.array(given["change"], dtype=float),
        given["var_noise"],
        4,
        3,
        person_variance=given["var_person"],
        reader_variance=given["var_reader"],
    )
    assert posterior.person == pytest.approx(expected["person"], abs=1e-9)
    assert posterior.reader == pytest.approx(expected["reader"], abs=1e-9)
    assert posterior.person_sd == pytest.approx(expected["sd_person"], abs=1e-9)
    assert posterior.reader_sd == pytest.approx(expected["sd_reader"], abs=1e-9)
    assert posterior.correlation(3, 2) == pytest.approx(expected["posterior_correlation_person3_reader2"], abs=1e-9)
    causes = {"eff-06": ("reader", 0, 0), "eff-07": ("hand", 0, 0), "eff-08": ("cannot_tell", 3, 2)}
    cause, person, reader = causes[name]
    assert changes.find_cause(posterior, person, reader, bound=0.1).cause == cause


def test_connected_groups_of_people_and_readers() -> None:
    given, expected = asked("eff-09")
    people = sorted({person for person, _ in given["pairs"]})
    readers = sorted({reader for _, reader in given["pairs"]})
    labels, count = connected.groups_of(
        np.array([people.index(person) for person, _ in given["pairs"]]),
        np.array([readers.index(reader) for _, reader in given["pairs"]]),
        len(people),
        len(readers),
    )
    found = {frozenset(np.array(people + readers)[labels == group].tolist()) for group in range(count)}
    assert found == {frozenset(group) for group in expected["groups"]}
    assert len(labels) - count == expected["rank"]


def test_enrolment_limits_are_chi_square() -> None:
    given, expected = asked("enr-04")
    found = [
        [given["noise_variance"] * assess_enrolment(np.zeros(n - 1), 1.0, features).limit for n in given["n"]]
        for features in given["features"]
    ]
    for got, wanted in zip(found, expected["limit"], strict=True):
        assert got == pytest.approx(wanted, abs=1e-6)


def test_sens_slope_and_its_interval() -> None:
    given, expected = asked("for-01")
    found = levels.slopes_of(np.array(given["x"], float), np.array([given["y"]], float), given["confidence"])
    wanted = expected["published"]
    assert [found.slope[0], found.low[0], found.high[0]] == pytest.approx(
        [wanted["slope"], wanted["low"], wanted["high"]]
    )


def test_first_passage_times() -> None:
    given, expected = asked("for-02")
    found = passage.chance_passed(given["times"], given["distance"], given["drift"], given["diffusion_variance"])
    assert found == pytest.approx(expected["cdf"], abs=1e-6)
    one = np.ones(1)
    days = passage.passage_days(given["distance"] * one, given["drift"] * one, one, given["diffusion_variance"])
    # whole days: the first by which the chance is reached
    assert days == tuple(float(np.ceil(day)) for day in expected["quantiles_05_50_95"])
