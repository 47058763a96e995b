"""How somebody stands follows from the last word, whatever the order in which words came in."""

from __future__ import annotations

from datetime import date, timedelta

from hypothesis import given
from hypothesis import strategies as st

from evenhand.records.consent import Version, early_enrolments, history_of, precedes, states_of
from evenhand.terms.consent import CONSENT_DECISIONS, CONSENT_TAKES, ENROLLED_AT
from evenhand.terms.sources import CONSENT, PEOPLE

MARCH = date(2026, 3, 2)
NOON = 1_772_474_400  # 2026-03-02T18:00Z, noon in Chicago
ANA = PEOPLE.rows([{"person": "P1", "name": "Ana Roca", "site": "Mill"}])


def decided(*rows):
    return CONSENT_DECISIONS.rows(
        {"decision": number, "person": "P1", "how": "paper", "author": "Ada", "made_at": NOON + number, **row}
        for number, row in enumerate(rows, start=1)
    )


def history(files=(), *decisions, forms=None):
    told = CONSENT.rows({"person": "P1", **row} for row in files)
    takes = CONSENT_TAKES.rows({"person": "P1", "given_on": row["given_on"], "take": 3} for row in files)
    return history_of(told, takes, decided(*decisions), forms or {})


def state(of, on=MARCH, at=None, versions=(), required=True):
    return states_of(ANA, of, {"Mill": versions}, {"Mill": required}, on=on, at=at).row(0, named=True)


def test_nothing_said_is_nothing() -> None:
    assert state(history())["kind"] == "nothing"


def test_a_signed_form_counts_from_its_day_to_the_day_before_it_is_withdrawn() -> None:
    told = history([{"given_on": date(2026, 3, 9), "withdrawn_on": date(2026, 3, 12)}])
    kinds = [state(told, date(2026, 3, day))["kind"] for day in (8, 9, 11, 12)]
    assert kinds == ["nothing", "agreed", "agreed", "withdrawn"]


def test_what_is_recorded_here_and_what_a_file_says_are_one_history() -> None:
    told = history(
        [{"given_on": date(2025, 5, 1), "form": "H-1"}],
        {"action": "withdraw", "said_on": date(2026, 1, 5)},
        {"action": "agree", "said_on": date(2026, 2, 1), "policy": 2},
    )
    assert told["how"].to_list() == ["file", "paper", "paper"]
    assert told["take"].to_list() == [3, None, None]
    assert [state(told, day)["kind"] for day in (date(2026, 1, 4), date(2026, 1, 5), MARCH)] == [
        "agreed",
        "withdrawn",
        "agreed",
    ]


def test_a_file_that_comes_later_with_an_older_word_changes_nothing() -> None:
    refused = {"action": "refuse", "said_on": date(2026, 2, 1)}
    assert state(history([], refused))["kind"] == "refused"
    assert state(history([{"given_on": date(2026, 1, 5)}], refused))["kind"] == "refused"


def test_of_one_day_without_a_time_the_word_that_protects_counts() -> None:
    assert state(history([{"given_on": MARCH, "withdrawn_on": MARCH}]))["kind"] == "withdrawn"
    again = history(
        [{"given_on": date(2026, 1, 1), "withdrawn_on": MARCH}],
        {"action": "agree", "said_on": MARCH, "said_at": NOON},
    )
    assert state(again)["kind"] == "withdrawn"


def test_an_instant_tells_before_from_after() -> None:
    told = history([], {"action": "agree", "said_on": MARCH, "said_at": NOON})
    assert [state(told, at=NOON + second)["kind"] for second in (-1, 0)] == ["nothing", "agreed"]


def test_a_row_taken_back_is_as_if_it_had_not_been_and_taking_that_back_restores_it() -> None:
    agree = {"action": "agree", "said_on": date(2026, 2, 1)}
    back = {"action": "take_back", "said_on": MARCH, "takes_back": 1, "reason": "another person's sheet"}
    undo = {"action": "take_back", "said_on": MARCH, "takes_back": 2, "reason": "it was right"}
    assert state(history([], agree, back))["kind"] == "nothing"
    assert state(history([], agree, back, undo))["kind"] == "agreed"


FIRST = Version(1, date(2025, 1, 1))
SECOND = Version(2, date(2026, 2, 1), renew_by=MARCH)


def test_an_earlier_release_counts_until_the_day_the_later_version_names() -> None:
    told = history([], {"action": "agree", "said_on": date(2025, 5, 1), "policy": 1})
    versions = (FIRST, SECOND)
    stands = [state(told, day, versions=versions) for day in (date(2026, 1, 31), date(2026, 2, 1), MARCH)]
    assert [one["kind"] for one in stands] == ["agreed", "due", "due"]
    assert [one["asked"] for one in stands] == [1, 2, 2]
    assert stands[1]["due_by"] == MARCH
    assert state(told, MARCH + timedelta(days=1), versions=versions)["kind"] == "lapsed"


def test_a_later_version_without_such_a_day_lets_it_go_on_counting() -> None:
    told = history([], {"action": "agree", "said_on": date(2025, 5, 1), "policy": 1})
    assert state(told, versions=(FIRST, Version(2, date(2026, 2, 1))))["kind"] == "agreed"
    # a day that passed is not undone by a third version
    assert state(told, MARCH + timedelta(days=9), versions=(FIRST, SECOND, Version(3, MARCH)))["kind"] == "lapsed"


def test_a_release_signed_before_its_version_begins_counts_for_it() -> None:
    told = history([], {"action": "agree", "said_on": date(2026, 1, 20), "policy": 2})
    assert [state(told, day, versions=(FIRST, SECOND))["kind"] for day in (date(2026, 1, 21), MARCH)] == ["agreed"] * 2


def test_a_form_of_no_known_version_is_earlier_than_all_and_one_of_a_known_version_is_of_it() -> None:
    given = [{"given_on": date(2026, 2, 10), "form": "H-2"}]
    assert state(history(given), versions=(SECOND,))["kind"] == "due"
    assert state(history(given, forms={"h-2": 2}), versions=(SECOND,))["kind"] == "agreed"


def test_a_release_for_the_policy_of_another_site_does_not_count() -> None:
    told = history([], {"action": "agree", "said_on": date(2026, 2, 10), "policy": 7})
    assert state(told, versions=(FIRST,))["kind"] == "lapsed"


days = st.integers(0, 40).map(lambda day: date(2026, 1, 1) + timedelta(days=day))
words = st.lists(
    st.fixed_dictionaries(
        {
            "action": st.sampled_from(["agree", "refuse", "withdraw", "other_way"]),
            "said_on": days,
            "said_at": st.one_of(st.none(), st.integers(0, 86_399)),
        }
    ),
    max_size=8,
)
KINDS = {"agree": "agreed", "refuse": "refused", "withdraw": "withdrawn", "other_way": "other_way"}


def placed(word):
    """Return the word with its second of the day as an instant (UTC)."""
    if word["said_at"] is None:
        return word
    midnight = (word["said_on"] - date(1970, 1, 1)).days * 86_400
    return {**word, "said_at": midnight + word["said_at"]}


@given(words, days)
def test_the_state_is_the_last_word(said, on) -> None:
    said = [placed(word) for word in said]
    kind = state(history([], *said), on)["kind"]
    until = [word for word in said if word["said_on"] <= on]
    if not until:
        assert kind == "nothing"
        return
    last_day = max(word["said_on"] for word in until)
    of_day = [word for word in until if word["said_on"] == last_day]
    to_its_end = [word for word in of_day if word["said_at"] is None and word["action"] != "agree"]
    timed = [word for word in of_day if word["said_at"] is not None]
    if to_its_end:
        assert kind in {KINDS[word["action"]] for word in to_its_end}
    elif timed:
        latest = max(word["said_at"] for word in timed)
        assert kind in {KINDS[word["action"]] for word in timed if word["said_at"] == latest}
    else:
        assert kind == "agreed"


@given(
    st.lists(st.tuples(days, st.one_of(st.none(), days)), max_size=5, unique_by=lambda row: row[0]), words, st.data()
)
def test_the_order_in_which_files_come_in_changes_nothing(signed, said, data) -> None:
    files = [{"given_on": given_on, "withdrawn_on": withdrawn_on} for given_on, withdrawn_on in signed]
    said = [placed(word) for word in said]
    shuffled = data.draw(st.permutations(files))
    assert history(files, *said).equals(history(shuffled, *said))


@given(words, days)
def test_what_is_said_after_a_day_does_not_change_how_somebody_stood_on_it(said, on) -> None:
    said = [placed(word) for word in said]
    until = [word for word in said if word["said_on"] <= on]
    assert state(history([], *said), on)["kind"] == state(history([], *until), on)["kind"]


def hand(day, at=None):
    return ENROLLED_AT.rows(
        [{"person": "P1", "number": "4821", "reader": "North", "day": day, "at": at, "tells": "reader's list"}]
    )


def test_a_hand_before_its_release_is_told_with_the_release_that_came_after() -> None:
    told = history([{"given_on": MARCH}])
    early = early_enrolments(told, hand(date(2026, 2, 27)))
    assert early["released_on"].to_list() == [MARCH]
    assert early_enrolments(told, hand(MARCH)).is_empty()
    assert early_enrolments(told, hand(date(2026, 3, 3))).is_empty()


def test_a_hand_between_a_withdrawal_and_the_next_release_came_before_it() -> None:
    told = history([{"given_on": date(2026, 1, 5), "withdrawn_on": date(2026, 2, 1)}, {"given_on": MARCH}])
    assert early_enrolments(told, hand(date(2026, 2, 10)))["released_on"].to_list() == [MARCH]
    assert early_enrolments(told, hand(date(2026, 1, 10))).is_empty()


def test_whoever_never_agreed_is_told_elsewhere() -> None:
    assert early_enrolments(history(), hand(MARCH)).is_empty()


def test_of_the_same_day_nothing_is_known_without_instants() -> None:
    assert precedes((MARCH, None), (MARCH, NOON)) is None
    assert precedes((MARCH, NOON), (MARCH, NOON)) is False


LEFT = date(2025, 6, 30)


def returned(of, on=MARCH, versions=()):
    return states_of(ANA, of, {"Mill": versions}, {"Mill": True}, {"P1": LEFT}, on=on).row(0, named=True)


def test_a_release_of_an_earlier_employment_counts_no_longer_and_one_given_since_does() -> None:
    # 740 ILCS 14/15(b): none is collected "unless it first" informs of purpose and term, and receives a release
    earlier = history([{"given_on": date(2024, 1, 5)}])
    assert (returned(earlier)["kind"], returned(earlier)["ended_on"]) == ("lapsed", LEFT)
    assert returned(earlier, LEFT)["kind"] == "agreed"  # on the last day it counted still
    since = history([{"given_on": date(2024, 1, 5)}], {"action": "agree", "said_on": date(2025, 7, 20), "policy": None})
    assert returned(since)["kind"] == "agreed"
    last_day = history((), {"action": "agree", "said_on": LEFT})
    assert returned(last_day)["kind"] == "lapsed"


def test_whoever_said_no_before_they_left_has_said_so_still() -> None:
    assert returned(history((), {"action": "refuse", "said_on": date(2024, 1, 5)}))["kind"] == "refused"
