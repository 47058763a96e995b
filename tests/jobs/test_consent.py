"""Releases on a small mill: a policy, sheets keyed back, a changed policy, and what is withheld."""

from __future__ import annotations

import re
from datetime import UTC, date, datetime
from pathlib import Path
from types import SimpleNamespace

import polars as pl
import pytest

from evenhand.jobs.campaign import campaign_of
from evenhand.jobs.consent import asked_by_code, record_consents
from evenhand.jobs.consent_foreseen import ConsentAsked, preview_consent
from evenhand.jobs.consent_listing import list_consents, list_policies, person_consent
from evenhand.jobs.consent_policies import (
    PolicyAsked,
    add_policy,
    consents_now,
    example_policy,
    preview_policy,
)
from evenhand.jobs.consent_sheets import print_consent_sheets, sheets_asked
from evenhand.jobs.consent_versions import consents_on_file, policy_versions, sheet_secrets
from evenhand.jobs.consents import consent_states, hands_given, withheld
from evenhand.jobs.enrolling import plan_round
from evenhand.jobs.enrolment_day import AskedDay, read_sources
from evenhand.jobs.rebuild import rebuild
from evenhand.jobs.reckoning import reckon_period
from evenhand.jobs.releases_at_reader import NotTheirs, PolicyToRead, sign_at_reader
from evenhand.jobs.seen import Seen
from evenhand.jobs.take import Answers, Receipt, look_at_files, take_file, take_files
from evenhand.jobs.today import find_today
from evenhand.jobs.workspace import Workspace, create_workspace
from evenhand.records.consent import code_of, digest_of
from evenhand.store import decisions
from evenhand.store.refused import refused_rows
from evenhand.terms.records import Refusal, Unknown
from tests.printed import texts

READERS = """reader,site,zone,max_digits,capacity
GATE,Mill,America/New_York,4,100
"""
PEOPLE = """person,name,number,site,department,is_supervisor,hired_on
P1,Ida Marlow,0042,Mill,Milling,yes,2020-01-01
P2,Rui Okoro,7315,Mill,Milling,yes,2020-01-01
P3,Lena Fisk,2290,Mill,Packing,no,2020-01-01
P4,Omar Vale,2291,Mill,Packing,no,2026-11-01
"""
ENROLMENTS = """reader,number,name,is_supervisor,enrolled_on
GATE,0042,Ida Marlow,yes,2026-01-03
GATE,7315,Rui Okoro,yes,2026-01-03
GATE,2290,Lena Fisk,no,2026-01-03
"""
CONSENT = """person,given_on,form
P1,2026-01-02,H-1
P2,2026-01-02,H-1
P3,2026-01-02,H-1
"""
NOW = datetime(2026, 11, 9, 13, tzinfo=UTC)
TODAY = date(2026, 11, 9)
EARLIER = example_policy().replace("forms = []", 'forms = ["H-1"]', 1)
CHANGED = example_policy().replace("no longer than your employment", "no longer than a year", 1)


@pytest.fixture
def mill(tmp_path: Path) -> Workspace:
    workspace = create_workspace(tmp_path / "mill", "Mill")
    folder = tmp_path / "in"
    folder.mkdir()
    files = {"readers": READERS, "people": PEOPLE, "enrolments": ENROLMENTS, "consent": CONSENT}
    for name, text in files.items():
        (folder / f"{name}.csv").write_text(text)
    take_files(workspace, [folder / f"{name}.csv" for name in files])
    return workspace


def now(mill: Workspace):
    return consents_now(mill, NOW)


def policy(mill: Workspace, text: str, begins: date, **more):
    return add_policy(mill, PolicyAsked(text, "hands.toml", begins, "Ida", **more), as_of=NOW)


def two_versions(mill: Workspace):
    policy(mill, EARLIER, date(2026, 1, 1), go_on=True)
    return policy(mill, CHANGED, date(2026, 11, 1), renew_by=date(2026, 11, 30))


def say(mill: Workspace, action: str, person: str, **more):
    return record_consents(mill, now(mill), [ConsentAsked(action, person, "Ida", **more)], as_of=NOW)[0]


def kinds(mill: Workspace, on: date = TODAY) -> dict[str, str]:
    return dict(consent_states(now(mill), on).select("person", "kind").iter_rows())


def test_the_example_is_a_whole_policy_in_both_languages_and_says_that_it_is_an_example() -> None:
    assert "counsel must approve" in example_policy()
    assert example_policy().count("example, to be approved by counsel") == 1
    assert example_policy().count("\n[es]\n") == 1


def test_without_a_policy_a_form_on_file_counts(mill: Workspace) -> None:
    assert kinds(mill) == {"P1": "agreed", "P2": "agreed", "P3": "agreed", "P4": "nothing"}


def test_a_changed_policy_asks_everybody_again_and_says_until_when_the_earlier_release_counts(mill: Workspace) -> None:
    version = two_versions(mill)
    assert version.called == "Hand readers, version 2"
    assert kinds(mill) == {"P1": "due", "P2": "due", "P3": "due", "P4": "nothing"}
    assert kinds(mill, date(2026, 12, 1))["P1"] == "lapsed"
    assert [one.in_force for one in list_policies(now(mill), TODAY)] == [True, False]


def test_nobody_guesses_whether_earlier_releases_go_on(mill: Workspace) -> None:
    policy(mill, EARLIER, date(2026, 1, 1), go_on=True)
    with pytest.raises(Refusal, match="3 people agreed to something earlier; say until when"):
        policy(mill, CHANGED, date(2026, 11, 1))
    with pytest.raises(Refusal, match="before the version is in force"):
        policy(mill, CHANGED, date(2026, 11, 1), renew_by=date(2026, 10, 1))
    assert len(policy_versions(now(mill))) == 1


def test_the_same_policy_added_twice_is_there_once(mill: Workspace) -> None:
    first = two_versions(mill)
    again = policy(mill, CHANGED, date(2026, 11, 1))
    assert again.policy == first.policy
    assert len(policy_versions(now(mill))) == 2
    seen = preview_policy(now(mill), PolicyAsked(CHANGED, "hands.toml", date(2026, 11, 1), "Ida"))
    assert seen.policy == first.policy


def test_a_sheet_bears_the_text_and_a_code_by_which_it_is_keyed_back(mill: Workspace) -> None:
    version = two_versions(mill)
    campaign = campaign_of(now(mill), version, TODAY)
    pages = texts(print_consent_sheets(now(mill), campaign, sheets_asked(campaign)))
    assert len(pages) == 4
    codes = dict(campaign.rows.select("person", "code").iter_rows())
    lena = next(page for page in pages if "Lena Fisk" in page)
    assert codes["P3"] in lena
    assert "no longer than a year" in " ".join(lena.split())  # the length of term, 740 ILCS 14/15(b)(2)
    asked = asked_by_code(now(mill), [codes["P3"].lower(), codes["P4"]], "agree", "Ida", TODAY)
    made = record_consents(mill, now(mill), asked, as_of=NOW)
    assert [one.is_new for one in made] == [True, True]
    assert kinds(mill)["P3"] == kinds(mill)["P4"] == "agreed"
    after = campaign_of(now(mill), version, TODAY)
    assert (after.whole.agreed, after.whole.to_ask, after.whole.said_no) == (2, 2, 0)
    again = record_consents(mill, now(mill), asked_by_code(now(mill), [codes["P3"]], "agree", "Ida", TODAY), as_of=NOW)
    assert not again[0].is_new


def test_a_code_that_is_on_no_sheet_refuses_all_of_them(mill: Workspace) -> None:
    version = two_versions(mill)
    codes = campaign_of(now(mill), version, TODAY).rows["code"].to_list()
    wrong = codes[1][:-1] + ("0" if codes[1][-1] != "0" else "1")
    with pytest.raises(Unknown, match=wrong):
        asked_by_code(now(mill), [codes[0], wrong], "agree", "Ida")


def test_sheets_in_spanish_where_the_policy_speaks_it(mill: Workspace) -> None:
    version = two_versions(mill)
    campaign = campaign_of(now(mill), version, TODAY)
    rows = sheets_asked(campaign, people=["P3"])
    (page,) = texts(print_consent_sheets(now(mill), campaign, rows, language="es"))
    assert "No acepto" in page
    with pytest.raises(Unknown, match='"P9" is not asked'):
        sheets_asked(campaign, people=["P9"])


SECTIONS = "\n".join(
    f"# {at}. Of matter {at}\n" + "\n".join(["Who may see what is kept, and ask for it. " * 20] * 4)
    for at in range(1, 61)
)
LONG = EARLIER.replace("[en]\n", f'[en]\ntext = """\n{SECTIONS}\n"""\n', 1)


def test_a_long_policy_is_read_by_headings_and_every_page_of_a_sheet_says_whose_it_is(mill: Workspace) -> None:
    assert len(LONG) > 200_000
    made = policy(mill, LONG, date(2026, 1, 1), go_on=True)
    words = made.file.spoken("en")
    assert words.headings[:2] == ["1. Of matter 1", "2. Of matter 2"]
    assert len(words.headings) == 60
    assert len(words.parts) == 60 * 5
    of = now(mill)
    campaign = campaign_of(of, made, TODAY)
    first, *rest = texts(print_consent_sheets(of, campaign, sheets_asked(campaign, people=["P4"])))
    assert "Omar Vale" in first
    code = re.findall(r"[0-9A-Z]{4}(?:-[0-9A-Z]{4}){2}", first)[0]
    assert len(rest) > 20
    assert all(f"Omar Vale (P4) {code}" in " ".join(page.split()) for page in rest)
    assert "60. Of matter 60" in " ".join(" ".join(rest).split())
    assert "I do not agree" in rest[-1]


def test_whoever_says_no_comes_off_the_reader_and_is_not_told_as_missing(mill: Workspace) -> None:
    two_versions(mill)
    seen = preview_consent(now(mill), ConsentAsked("withdraw", "P3", "Ida"), as_of=NOW)
    assert any("2290 is listed at GATE" in line for line in seen.follows)
    say(mill, "withdraw", "P3")
    say(mill, "other_way", "P4")
    found = find_today(reckon_period(mill, NOW))
    codes = {(one.code, one.person) for one in found.findings if one.person in ("P3", "P4")}
    # that its purpose has ended and the day to destroy it is here, retention says beside it
    assert codes == {("release_ended", "P3"), ("hand_overdue", "P3")}
    steps = found.reader_steps.filter(pl.col("person").is_in(["P3", "P4"]))
    assert steps.select("action", "number").rows() == [("remove", "2290")]


def test_nobody_is_planned_on_the_day_after_the_earlier_release_ends(mill: Workspace) -> None:
    two_versions(mill)
    asked = AskedDay(date(2026, 12, 1), starts_s=8 * 3600, ends_s=10 * 3600, again=("P3",))
    planned = plan_round(mill, asked, author="Ida", as_of=NOW, keep=False)
    assert planned.items["person"].to_list() == []
    why = dict(planned.left_out.select("person", "why").iter_rows())
    assert "which no longer counts" in why["P3"]
    assert "evenhand consent sheets --person P4" in why["P4"]


def test_another_way_needs_no_reason_and_keeps_none(mill: Workspace) -> None:
    # EEOC v. Consol Energy, Inc., 860 F.3d 131 (4th Cir. 2017): keying the number without the hand had been open to two
    # injured workers at no cost, and was refused to the man who objected; sincerity is not the employer's to judge.
    say(mill, "other_way", "P3")
    row = now(mill).consent_decisions.row(0, named=True)
    assert (row["reason"], row["other_way"]) == (None, "The number alone")
    with pytest.raises(Refusal, match="no reason is asked or kept"):
        say(mill, "withdraw", "P1", reason="religion")


def test_a_release_is_written_and_lies_on_no_day_to_come(mill: Workspace) -> None:
    with pytest.raises(Refusal, match="in writing"):
        say(mill, "agree", "P4", how="desk")
    with pytest.raises(Refusal, match="still to come"):
        say(mill, "agree", "P4", how="paper", said_on=date(2026, 11, 10))
    with pytest.raises(Refusal, match="say who"):
        record_consents(mill, now(mill), [ConsentAsked("withdraw", "P1", " ")], as_of=NOW)


def test_a_row_recorded_by_mistake_is_taken_back_and_stays_to_be_seen(mill: Workspace) -> None:
    made = say(mill, "withdraw", "P3")
    with pytest.raises(Refusal, match="for a reason"):
        say(mill, "take_back", "P3", takes_back=made.decision)
    with pytest.raises(Unknown, match="nothing numbered 1 is recorded of them"):
        say(mill, "take_back", "P2", takes_back=made.decision, reason="another Lena")
    say(mill, "take_back", "P3", takes_back=made.decision, reason="another Lena")
    assert kinds(mill)["P3"] == "agreed"
    seen = person_consent(now(mill), "P3", TODAY)
    assert [(line.is_standing, line.decision) for line in seen.history] == [(True, None), (False, 2), (False, 1)]
    assert seen.history[0].source == "consent.csv"


def test_a_release_of_the_day_of_a_withdrawal_is_refused_with_the_way_out(mill: Workspace) -> None:
    say(mill, "withdraw", "P3")
    with pytest.raises(Refusal, match="counts over what is dated the same day"):
        say(mill, "agree", "P3", how="paper")


def test_a_sheet_of_a_version_that_no_longer_counts_is_recorded_as_what_it_is(mill: Workspace) -> None:
    two_versions(mill)
    after = datetime(2027, 3, 1, 13, tzinfo=UTC)
    snapshot = consents_now(mill, after)
    (made,) = record_consents(mill, snapshot, [ConsentAsked("agree", "P4", "Ida", "paper", policy=1)], as_of=after)
    assert made.foreseen.after == "agreed to an earlier version on Mon 1 Mar 2027, which no longer counts"


def test_a_sheet_keyed_twice_in_other_letters_is_one_sheet(mill: Workspace) -> None:
    version = policy(mill, EARLIER, date(2026, 1, 1), go_on=True)
    code = code_of(version.digest, "P4", sheet_secrets(now(mill))[version.policy])
    (asked,) = asked_by_code(now(mill), [code, code.lower().replace("-", " ")], "agree", "Ida")
    assert asked.person == "P4"


def test_a_sheet_of_before_codes_had_a_secret_is_keyed_back_and_counts_at_no_reader(mill: Workspace) -> None:
    text = example_policy()
    row = {"name": "Hand readers", "text": text, "digest": digest_of(text), "in_force_from": "2026-01-01"}
    with mill.store.writing() as conn:
        decisions.add_row(conn, "consent_policies", row | {"author": "Ida", "made_at": 1})
    code = code_of(digest_of(text), "P4", "")
    (asked,) = asked_by_code(now(mill), [code], "agree", "Ida")
    assert (asked.person, asked.policy) == ("P4", 1)
    version = policy_versions(now(mill))[0]
    read = PolicyToRead("P4", now(mill).names["P4"], version, version.file.spoken("en"), "")
    with pytest.raises(NotTheirs, match="codes on sheets of this version can be worked out"):
        sign_at_reader(
            mill, now(mill), read, "agree", read.name, code, "Ida Marlow", supervisors=["Ida Marlow"], as_of=NOW
        )


def test_two_workplaces_with_one_policy_print_other_codes(mill: Workspace) -> None:
    for _ in range(2):
        policy(mill, EARLIER, date(2026, 1, len(policy_versions(now(mill))) + 1), go_on=True)
    secrets = sheet_secrets(now(mill))
    assert len({code_of("ab" * 32, "P4", secret) for secret in secrets.values()}) == 2


def test_what_was_recorded_meanwhile_is_looked_at_first(mill: Workspace) -> None:
    before = now(mill)
    say(mill, "withdraw", "P3")
    with pytest.raises(Refusal, match="recorded of Lena Fisk just now"):
        record_consents(mill, before, [ConsentAsked("other_way", "P3", "Ida")], as_of=NOW)


def test_a_policy_of_the_settings_that_was_never_added_is_refused(mill: Workspace) -> None:
    two_versions(mill)
    with mill.settings_file.open("a") as settings:
        settings.write('[consent]\npolicy = "Hnads"\n')
    with pytest.raises(Refusal, match='policy "Hnads" is none that was added; name one of Hand readers'):
        kinds(mill)


def test_a_hand_enrolled_before_its_release_is_found_by_list_and_by_first_presentation(
    mill: Workspace, tmp_path: Path
) -> None:
    def taken(name: str, text: str) -> None:
        (tmp_path / name).write_text(text)
        take_files(mill, [tmp_path / name])

    def early() -> list[tuple[str, str]]:
        found = hands_given(reckon_period(mill, NOW)).early
        return sorted(found.select("person", "tells").iter_rows())

    assert early() == []
    taken("consent2.csv", "person,given_on,form\nP4,2026-11-06,H-1\n")
    taken("enrolled2.csv", ENROLMENTS + "GATE,2291,Omar Vale,no,2026-11-05\n")
    assert early() == [("P4", "reader's list")]
    taken("enrolled3.csv", ENROLMENTS + "GATE,2291,Omar Vale,no,\n")
    log = "reader,number,time,direction\nGATE,2291,{},in\n"
    taken("log1.csv", log.format("2026-10-30 08:00:00"))  # before Omar was hired it may have been somebody else's
    taken("log2.csv", log.format("2026-11-07 08:00:00"))
    assert early() == []
    taken("log3.csv", log.format("2026-11-04 08:00:00"))
    assert early() == [("P4", "first presentation")]


def test_a_rebuild_changes_nothing_of_it(mill: Workspace) -> None:
    two_versions(mill)
    say(mill, "withdraw", "P3")
    before = kinds(mill)
    assert rebuild(mill, is_try=False, author="Ida", as_of=NOW).differing == 0
    assert kinds(mill) == before


def test_a_list_that_dates_a_word_ahead_is_refused_by_the_row_and_stays_so_when_folded_anew(
    mill: Workspace, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Taken on the evening of the 9th in New York, which is the 10th in UTC already."""
    at = datetime(2026, 11, 10, 1, tzinfo=UTC).timestamp()
    monkeypatch.setattr("evenhand.jobs.keep.time", SimpleNamespace(time=lambda: at))
    before, place = kinds(mill), mill.directory.parent / "signed.csv"
    rows = ["P4,2026-11-10,H,", "P1,2026-01-05,H,2026-12-24", "P2,2026-11-09,H,"]
    place.write_text("person,given on,form,withdrawn on\n" + "\n".join(rows) + "\n")
    (seen,) = look_at_files(mill, [place], today=date(2026, 11, 9))
    assert isinstance(seen, Seen)
    assert seen.refused == 2
    (receipt,) = take_files(mill, [place], today=date(2026, 11, 9))
    assert isinstance(receipt, Receipt)
    assert (receipt.taken, receipt.rejected) == (1, 2)
    with mill.store.reading() as conn:
        told = refused_rows(conn, receipt.take)
    assert told.select("line", "column", "seen").rows() == [
        (2, "given_on", "2026-11-10"),
        (3, "withdrawn_on", "2026-12-24"),
    ]
    assert told["reason"][0].startswith("2026-11-10 is still to come; give the day on which it was signed")
    assert kinds(mill, date(2026, 12, 31)) == before | {"P2": "agreed"}
    assert rebuild(mill, is_try=True, as_of=NOW).differing == 0


def leave_out(mill: Workspace, *people: str) -> None:
    """Take a roster of the whole mill that lists everybody but these."""
    rows = [row for row in PEOPLE.splitlines(keepends=True) if row.split(",")[0] not in people]
    path = mill.directory.parent / "newer.csv"
    path.write_text("".join(rows))
    take_files(mill, [path])


def test_whom_the_roster_lists_no_longer_is_asked_nothing_and_counted_nowhere(mill: Workspace) -> None:
    policy(mill, EARLIER, date(2026, 1, 1), go_on=True)
    leave_out(mill, "P3")
    asked = PolicyAsked(CHANGED, "hands.toml", date(2026, 11, 1), "Ida", renew_by=date(2026, 11, 30))
    assert preview_policy(now(mill), asked).earlier == 2
    version = policy(mill, CHANGED, date(2026, 11, 1), renew_by=date(2026, 11, 30))
    assert campaign_of(now(mill), version, TODAY).rows["person"].to_list() == ["P1", "P2", "P4"]
    assert sorted(list_consents(now(mill), TODAY)["person"]) == ["P1", "P2", "P4"]
    found = find_today(reckon_period(mill, NOW), charts=False).findings
    assert [one.details["people"] for one in found if one.code == "consent_due"] == [["P1", "P2"]]


def test_whom_the_roster_lists_no_longer_is_planned_for_no_enrolment(mill: Workspace) -> None:
    say(mill, "agree", "P4", how="paper")
    before = read_sources(now(mill), AskedDay(TODAY)).steps
    assert before.filter(pl.col("action") != "remove")["person"].to_list() == ["P4"]
    leave_out(mill, "P4")
    after = read_sources(now(mill), AskedDay(TODAY)).steps
    assert after.filter(pl.col("action") != "remove").is_empty()


def test_somebody_who_comes_back_is_asked_again_whatever_they_signed_before_they_left(mill: Workspace) -> None:
    version = policy(mill, EARLIER, date(2026, 1, 1), go_on=True)
    for name, hired, left in (("left", "2020-01-01", "2026-03-31"), ("back", "2026-10-05", "")):
        path = mill.directory.parent / f"{name}.csv"
        rows = PEOPLE.replace("is_supervisor,hired_on", "is_supervisor,hired_on,left_on").splitlines()
        rows = [rows[0], *(f"{row}," for row in rows[1:] if not row.startswith("P3")),
                f"P3,Lena Fisk,2290,Mill,Packing,no,{hired},{left}"]  # fmt: skip
        path.write_text("\n".join(rows) + "\n")
        take_file(mill, path, answers=Answers(maps={"left_on": "left_on"}))
    assert kinds(mill) == {"P1": "agreed", "P2": "agreed", "P3": "lapsed", "P4": "nothing"}
    (why,) = [line for line in withheld(now(mill), consent_states(now(mill), TODAY)).values() if "Lena" in line]
    assert "for an employment that ended on Tue 31 Mar 2026, so that it no longer counts" in why
    found = find_today(reckon_period(mill, NOW), charts=False).findings
    assert [one.says for one in found if one.code == "consent_due"] == [
        "1 person of Mill enrolled under a release of an earlier employment."
    ]
    asked = campaign_of(now(mill), version, TODAY)
    assert sorted(asked.to_ask["person"]) == ["P3", "P4"]
    # what is read of one person at a reader says the same
    of_one = consents_on_file(mill, ["P3"])
    assert consent_states(of_one, TODAY).rows(named=True) == consent_states(now(mill), TODAY).filter(
        pl.col("person") == "P3"
    ).rows(named=True)
    assert of_one.people["person"].to_list() == ["P3"]
    say(mill, "agree", "P3", how="paper")
    assert kinds(mill)["P3"] == "agreed"
