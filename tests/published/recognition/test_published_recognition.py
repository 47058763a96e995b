"""Recognition against published tables, worked examples and exact values; sources in cases.json.

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
from evenhand.scores.enrolling import judge_distances, leave_one_out, within_sum
from evenhand.scores.forecasts import adapting, levels, passage
from evenhand.scores.rates import beta_binomial, clustered, intervals, tradeoff

CASES = {case["id"]: case for case in json.loads((Path(__file__).parent / "cases.json").read_text(encoding="utf-8"))}


def asked(name: str) -> tuple[dict[str, Any], dict[str, Any]]:
    return CASES[name]["inputs"], CASES[name]["expected"]


@pytest.mark.parametrize("name", ["bin-01", "bin-02", "bin-03", "bin-04"])
def test_binomial_intervals_are_newcombes(name: str) -> None:
    given, expected = asked(name)
    method = intervals.wilson if given["method"] == "wilson" else intervals.clopper_pearson
    low, high = method(given["errors"], given["trials"], given["confidence"])
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
    given, expected = asked("bin-07")
    assert intervals.errors_needed(given["relative_half_width"]) == expected["rounded_up"]


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
    assert found.correlation == pytest.approx(expected["recomputed"]["intraclass_correlation"], abs=1e-5)


def test_three_refusals_in_a_row_are_no_cube() -> None:
    given, expected = asked("rate-02")
    people = beta_binomial.BetaBinomial(given["beta_a"], given["beta_b"], 0.0)
    assert people.rate == pytest.approx(given["mean_fnmr"])
    assert people.all_refused(given["attempts"]) == pytest.approx(expected["transaction_frr"], abs=1e-12)


def test_design_effect_of_repeated_trials() -> None:
    given, expected = asked("ci-04")
    effect = clustered.design_effect(given["rho"], given["attempts_per_person"])
    assert effect == pytest.approx(expected["design_effect"])


def test_false_match_variance_counts_shared_people() -> None:
    given, expected = asked("ci-05")
    rate, variance = clustered.dyadic_variance(given["false_match_matrix"])
    assert rate == expected["rate"]
    # the dyadic variance, 0.0104, is below that of independent comparisons here, so the larger is reported
    assert variance == pytest.approx(max(expected["dyadic_variance"], expected["naive_variance"]))


def test_threshold_from_short_lists() -> None:
    given, expected = asked("thr-01")
    curve = tradeoff.tradeoff(np.array(given["mated"], dtype=float), np.array(given["non_mated"], dtype=float), "test")
    (row,) = curve.filter(curve["threshold"] == given["threshold"]).rows(named=True)
    assert row["false_non_match_rate"] == pytest.approx(expected["FNMR_at_threshold"])
    assert row["false_match_rate"] == pytest.approx(expected["FMR_at_threshold"])
    rate, _ = tradeoff.equal_error_rate(curve)
    assert rate == pytest.approx(expected["EER"])
    # cost a week = 0.9 x FNMR x 1 minute + (5.2 / 52 = 0.1) x FMR x 10 minutes
    costs = tradeoff.Costs(given["share_mated"], 1.0, 52 * 0.1, given["cost_false_accept"])
    advice = tradeoff.advise(curve, costs, given["threshold"])
    assert advice.threshold == expected["cheapest_threshold"]
    assert advice.minutes_a_week == pytest.approx(expected["cheapest_cost"])


def test_quantile_lies_between_order_statistics() -> None:
    given, expected = asked("thr-02")
    found = tradeoff.quantile_ranks(given["n"], given["quantile"])
    assert found is not None
    assert found[:2] == (given["lower_rank"], given["upper_rank"])
    assert found[2] == pytest.approx(expected["coverage"], abs=1e-9)


def test_refusals_without_scores_give_back_what_truncation_took() -> None:
    given, expected = asked("thr-05")
    values = np.random.default_rng(5).normal(given["mu"], given["sigma"], 40_000)
    kept = values[values <= given["threshold"]]
    assert kept.mean() == pytest.approx(expected["mean"], abs=0.02)
    hidden = len(values) - len(kept)
    person = np.arange(len(values)) % 20
    found = fit.fit_effects(
        person[: len(kept)],
        np.zeros(len(kept), dtype=int),
        kept,
        20,
        1,
        hidden_person=person[len(kept) :],
        hidden_reader=np.zeros(hidden, dtype=int),
        bound=given["threshold"],
    )
    assert found.mean == pytest.approx(given["mu"], abs=0.02)
    assert found.noise_sd == pytest.approx(given["sigma"], abs=0.03)


def test_shewhart_run_lengths() -> None:
    given, expected = asked("spc-01")
    found = [run_length.shewhart_run_length(given["limit"], shift) for shift in given["shift"]]
    assert found == pytest.approx(expected["published"], abs=0.006)


@pytest.mark.parametrize("name", ["spc-02", "spc-03", "spc-04"])
def test_two_sided_cusum_run_lengths(name: str) -> None:
    given, expected = asked(name)
    found = [
        run_length.two_sided_run_length(given["k"], given["h"], shift, given["headstart"]) for shift in given["shift"]
    ]
    assert found == pytest.approx(expected["published"], rel=CASES[name]["tolerance"]["published_relative"])
    assert found == pytest.approx(expected["recomputed"], abs=1e-4)


def test_one_sided_cusum_run_lengths() -> None:
    given, expected = asked("spc-05")
    found = [run_length.cusum_run_length(given["k"], given["h"], shift) for shift in given["shift"]]
    assert found == pytest.approx(expected["published"], rel=0.002)
    assert found == pytest.approx(expected["recomputed"], rel=1e-6)


def test_siegmunds_approximation() -> None:
    given, expected = asked("spc-06")
    found = [run_length.siegmund(given["k"], given["h"], shift) for shift in given["shift"]]
    assert found == pytest.approx(expected["siegmund"], abs=1e-4)


def test_cusum_limits_for_wanted_run_lengths() -> None:
    given, expected = asked("spc-07")
    found = [design.cusum_limit(wanted, given["k"])[0] for wanted in given["arl0"]]
    assert found == pytest.approx(expected["h"], abs=1e-4)


@pytest.mark.parametrize("name", ["spc-08", "spc-09"])
def test_ewma_run_lengths(name: str) -> None:
    given, expected = asked(name)
    found = [run_length.ewma_run_length(given["lambda"], given["L"], shift) for shift in given["shift"]]
    assert found == pytest.approx(expected["published"], rel=CASES[name]["tolerance"]["published_relative"])
    assert found == pytest.approx(expected["recomputed"], abs=1e-3)


def test_ewma_pairs_of_weight_and_limit() -> None:
    given, expected = asked("spc-10")
    pairs = list(zip(given["lambda"], given["L"], strict=True))
    at_rest = [run_length.ewma_run_length(weight, limit) for weight, limit in pairs]
    moved = [run_length.ewma_run_length(weight, limit, 1.0) for weight, limit in pairs]
    assert at_rest == pytest.approx(expected["published_arl0"], rel=0.006)
    assert moved == pytest.approx(expected["published_arl_at_1"], rel=0.006)


@pytest.mark.parametrize("name", ["spc-11", "spc-12"])
def test_ewma_with_a_headstart(name: str) -> None:
    given, expected = asked(name)
    found = [
        run_length.ewma_run_length(given["lambda"], given["L"], shift, given["headstart_share"])
        for shift in given["shift"]
    ]
    assert found == pytest.approx(expected["published"], rel=CASES[name]["tolerance"]["published_relative"])
    assert found == pytest.approx(expected["recomputed"], abs=0.05)


def test_ewma_with_widening_limits() -> None:
    given, expected = asked("spc-13")
    found = [run_length.ewma_exact_run_length(given["lambda"], given["L"], shift) for shift in given["shift"]]
    assert found == pytest.approx(expected["arl"], abs=0.1)


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


def test_poisson_cusum_run_lengths() -> None:
    given, expected = asked("spc-16")
    found = [
        run_length.poisson_cusum_run_length(given["mean"], given["k"], given["h"], start)
        for start in given["headstart"]
    ]
    assert found == pytest.approx(expected["published"], abs=0.5)
    given, expected = asked("spc-17")
    table = [
        [run_length.poisson_cusum_run_length(mean, given["k"], given["h"], s, scale=1) for s in given["headstart"]]
        for mean in given["mean"]
    ]
    for found, printed in zip(table, expected["published"], strict=True):
        assert found == pytest.approx(printed, abs=0.006)


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
def test_a_change_is_parted_between_hand_and_reader(name: str) -> None:
    given, expected = asked(name)
    parted = changes.part_changes(
        np.array(given["person"]),
        np.array(given["reader"]),
        np.array(given["change"], dtype=float),
        given["var_noise"],
        4,
        3,
        person_variance=given["var_person"],
        reader_variance=given["var_reader"],
    )
    assert parted.person == pytest.approx(expected["person"], abs=1e-9)
    assert parted.reader == pytest.approx(expected["reader"], abs=1e-9)
    assert parted.person_sd == pytest.approx(expected["sd_person"], abs=1e-9)
    assert parted.reader_sd == pytest.approx(expected["sd_reader"], abs=1e-9)
    assert parted.correlation(3, 2) == pytest.approx(expected["posterior_correlation_person3_reader2"], abs=1e-9)
    causes = {"eff-06": ("reader", 0, 0), "eff-07": ("hand", 0, 0), "eff-08": ("cannot_tell", 3, 2)}
    cause, person, reader = causes[name]
    assert changes.verdict(parted, person, reader, bound=0.1).cause == cause


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


@pytest.mark.parametrize("name", ["ada-01", "ada-02"])
def test_best_adaptation_is_the_steady_gain(name: str) -> None:
    given, expected = asked(name)
    gain = adapting.best_adaptation(given["walk_variance"], given["noise_variance"])
    variance, _ = adapting.difference_variance(given["walk_variance"], given["noise_variance"], gain)
    assert gain == pytest.approx(expected["gain"], abs=1e-9)
    assert variance == pytest.approx(expected["innovation_variance"], rel=1e-9)


@pytest.mark.parametrize("name", ["ada-03", "ada-04"])
def test_difference_of_hand_and_reference(name: str) -> None:
    given, expected = asked(name)
    found = [adapting.difference_variance(given["walk_variance"], given["noise_variance"], a) for a in given["alpha"]]
    assert [variance for variance, _ in found] == pytest.approx(expected["innovation_variance"], abs=1e-9)
    assert [error for _, error in found] == pytest.approx(expected["reference_error_before"], abs=1e-9)


def test_an_adapting_reference_hides_drift_heals_steps_and_learns_dirt() -> None:
    given, expected = asked("ada-05")
    covariance = [
        adapting.autocovariance(given["walk_variance"], given["noise_variance"], given["alpha"], lag)
        for lag in given["lags"]
    ]
    assert covariance == pytest.approx(expected["autocovariance"], abs=1e-9)
    given, expected = asked("ada-06")
    offset = adapting.plateau(given["drift_per_presentation"], given["alpha"])
    assert offset == pytest.approx(expected["offset_at_comparison"])
    level = given["features"] * given["innovation_variance"] + offset**2
    assert level == pytest.approx(expected["mean_squared_distance"])
    given, expected = asked("ada-07")
    visits = [adapting.visits_to_heal(share, given["alpha"]) for share in given["shares"]]
    assert visits == expected["presentations"]
    given, expected = asked("ada-08")
    here, elsewhere = adapting.offset_learnt(given["offset"], given["share_at_reader"], given["alpha"])
    assert here == pytest.approx(expected["excess_at_that_reader"])
    assert elsewhere == pytest.approx(expected["excess_at_other_reader"])
    given, expected = asked("ada-09")
    returning = [
        adapting.return_variance(given["walk_variance_per_day"], given["noise_variance"], days)
        for days in given["days_away"]
    ]
    assert returning == pytest.approx(expected["innovation_variance"], abs=1e-9)


def test_enrolment_from_pair_distances() -> None:
    given, expected = asked("enr-03")
    squared = np.zeros((3, 3))
    for pair, distance in given["pair_distance_squared"].items():
        i, j = int(pair[0]) - 1, int(pair[1]) - 1
        squared[i, j] = squared[j, i] = distance
    assert within_sum(squared) == expected["within_sum_of_squares"]
    assert leave_one_out(squared) == pytest.approx(expected["standardised_leave_one_out"])
    given, expected = asked("enr-01")
    variance = [adapting.first_comparison_variance(given["noise_variance"], n) for n in given["n"]]
    assert variance == pytest.approx(expected["comparison_variance"])


def test_enrolment_limits_are_chi_square() -> None:
    given, expected = asked("enr-04")
    found = [
        [judge_distances(np.zeros((n, n)), features, given["noise_variance"]).limit for n in given["n"]]
        for features in given["features"]
    ]
    for got, wanted in zip(found, expected["limit"], strict=True):
        assert got == pytest.approx(wanted, abs=1e-6)


def test_sens_slope_and_its_interval() -> None:
    given, expected = asked("for-01")
    found = levels.slope_of(np.array(given["x"], float), np.array(given["y"], float), given["confidence"])
    wanted = expected["published"]
    assert [found.slope, found.low, found.high] == pytest.approx([wanted["slope"], wanted["low"], wanted["high"]])


def test_first_passage_times() -> None:
    given, expected = asked("for-02")
    found = passage.chance_passed(given["times"], given["distance"], given["drift"], given["diffusion_variance"])
    assert found == pytest.approx(expected["cdf"], abs=1e-6)
    one = np.ones(1)
    days = passage.passage_days(given["distance"] * one, given["drift"] * one, one, given["diffusion_variance"])
    # whole days: the first by which the chance is reached
    assert days == tuple(float(np.ceil(day)) for day in expected["quantiles_05_50_95"])
    given, expected = asked("for-03")
    ever = passage.chance_ever(given["distance"], given["drift"], given["diffusion_variance"])
    assert ever == pytest.approx(expected["probability"], abs=1e-9)
