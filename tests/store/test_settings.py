"""The settings file is read as its owner meant it, or refused with the place and what is expected there."""

from dataclasses import replace
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evenhand.store.settings import parse_settings, read_settings, write_settings
from evenhand.terms.characters import hidden_in
from evenhand.terms.records import Refusal
from evenhand.terms.settings import AutomaticMeal, Differential, Grace, Intake, PayPeriod, Policy, Settings, SiteRules

WHOLE = """
[workplace]
name = "Harbour Mill"
zone = "America/Chicago"
paper = "a4"

[pay_period]
anchor = 2026-01-04
weeks = 2
deadline_hours = 12.5

[policy]
repeat_seconds = 90
longest_span_hours = 16

[site."Mill North"]
zone = "America/Denver"
jurisdiction = "us_federal"
workweek_starts = "monday 06:30"
rounding_minutes = 15

[handoff.columns]
"Zeit" = "hours"
"Employee" = "person"

[intake]
folder = "/srv/exports"
quiet_seconds = 30
afterwards = "leave"
"""


def write(folder: Path, text: str) -> Path:
    path = folder / "evenhand.toml"
    path.write_text(text, encoding="utf-8")
    return path


def test_every_key_means_what_it_says(tmp_path: Path) -> None:
    assert read_settings(write(tmp_path, WHOLE)) == Settings(
        workplace="Harbour Mill",
        zone="America/Chicago",
        paper="a4",
        period=PayPeriod(date(2026, 1, 4), weeks=2, deadline_s=45_000),  # 12.5 x 3600
        policy=Policy(repeat_gap_s=90, longest_span_s=57_600),  # 16 x 3600
        sites={"Mill North": SiteRules("Mill North", "America/Denver", "us_federal", 0, 23_400, 900)},  # 6.5 x 3600
        handoff_columns=(("Zeit", "hours"), ("Employee", "person")),
        intake=Intake("/srv/exports", quiet_s=30, is_moved=False),
    )


BEYOND = """
[workplace]
name = "Harbour Mill"

[pay_period]
anchor = 2026-01-04

[policy]
trifle_seconds = 90
call_back_hours = 3

[policy.grace]
start_early_minutes = 7
end_late_minutes = 5

[policy.automatic_meal]
minutes = 30
after_hours = 6
at_hours = 4

[[policy.differential]]
name = "night"
days = ["Friday", "holidays"]
starts = "22:00"
ends = "06:00"
an_hour = 1.25
multiple = 1.5

[site.North]
zone = "America/Los_Angeles"
jurisdiction = "us_federal"
holidays = "US-CA"
first_meal_waived = ["P1"]

[[site.North.from]]
date = 2026-07-01
jurisdiction = "california"
alternative_day_hours = 10
alternative_days = ["Thursday", "monday"]
health_care_schedule = true

[[site.North.from]]
date = 2027-01-03
workweek_starts = "Monday 00:00"

[[site.North.from]]
date = 2027-07-05
jurisdiction = "us_public_safety"
public_safety = "fire_protection"
work_period_days = 28
work_period_begins = 2027-07-05
"""


def test_policies_and_dated_rules_mean_what_they_say(tmp_path: Path) -> None:
    got = read_settings(write(tmp_path, BEYOND))
    assert got.policy == Policy(
        trifle_s=90,
        call_back_s=10_800,
        grace=Grace(start_early_s=420, end_late_s=300),
        automatic_meal=AutomaticMeal(1800, 21_600, 14_400),
        differentials=(Differential("night", (4,), True, 79_200, 21_600, Decimal("1.25"), Decimal("1.5")),),
    )
    first, second, third = got.sites["North"].changes
    assert (first.since, first.jurisdiction, first.alternative_day_s) == (date(2026, 7, 1), "california", 36_000)
    assert (first.alternative_days, first.health_care) == ((0, 3), True)
    assert (second.jurisdiction, second.workweek_day, second.holidays) == ("california", 0, "US-CA")
    assert second.first_meal_waived == ("P1",)
    assert (third.public_safety, third.work_period_days, third.work_period) == (
        "fire_protection", 28, date(2027, 7, 5)
    )  # fmt: skip


@pytest.mark.parametrize(
    ("was", "now", "says"),
    [
        ("2027-01-03", "2026-06-01", "site.North.from 2.date: found '2026-06-01', expected a date after 2026-07-01"),
        (
            "work_period_days = 28",
            "work_period_days = 6",
            "work_period_days: found '6', expected a whole number of days",
        ),
        ('"fire_protection"', '"guarding"', 'expected "fire_protection" or "law_enforcement"'),
        ("trifle_seconds = 90", "trifle_seconds = -90", "policy.trifle_seconds: found '-90'"),
        ('"holidays"]', '"sometimes"]', "policy.differential 1.days"),
        ('starts = "22:00"', 'starts = "25:00"', "policy.differential 1.starts"),
        (
            "an_hour = 1.25",
            "an_hour = -1",
            "policy.differential 1.an_hour: found '-1', expected a number from 0 to 1000000",
        ),
        (
            "multiple = 1.5",
            "multiple = 0.5",
            "policy.differential 1.multiple: found '0.5', expected a number from 1 to 1000000",
        ),
        ("at_hours = 4", "", "policy.automatic_meal.at_hours: found nothing"),
    ],
)
def test_bad_policies_and_dates_are_refused_with_their_place(tmp_path: Path, was: str, now: str, says: str) -> None:
    assert was in BEYOND
    with pytest.raises(Refusal) as refused:
        read_settings(write(tmp_path, BEYOND.replace(was, now, 1)))
    assert says in str(refused.value)


def test_what_is_left_out_takes_the_default(tmp_path: Path) -> None:
    text = "[workplace]\nname = 'Mill'\n[pay_period]\nanchor = 2026-01-04\n[site.North]\nzone = 'America/Denver'\n"
    got = read_settings(write(tmp_path, text))
    assert (got.policy, got.period) == (Policy(), PayPeriod(date(2026, 1, 4)))
    assert got.sites == {"North": SiteRules("North", "America/Denver")}


def test_a_key_is_read_under_its_former_name_and_written_under_its_own(tmp_path: Path) -> None:
    was = read_settings(write(tmp_path, WHOLE.replace("repeat_seconds", "double_seconds")))
    assert was.policy.repeat_gap_s == 90
    path = tmp_path / "written.toml"
    write_settings(path, was)
    assert "repeat_seconds = 90" in path.read_text(encoding="utf-8")


def test_a_file_saved_with_a_byte_order_mark_is_read(tmp_path: Path) -> None:
    path = tmp_path / "evenhand.toml"
    path.write_bytes(WHOLE.encode("utf-8-sig"))
    assert read_settings(path).workplace == "Harbour Mill"


@pytest.mark.parametrize(
    ("was", "now", "place", "seen", "expected"),
    [
        ("repeat_seconds", "repete_seconds", "policy.repete_seconds", "nobody knows", "repeat_seconds"),
        ("[policy]", "[polices]", "polices", "nobody knows", "policy"),
        ("repeat_seconds = 90", "repeat_seconds = -1", "policy.repeat_seconds", "-1", "seconds from 0 to 3600"),
        ("repeat_seconds = 90", "repeat_seconds = 4000", "policy.repeat_seconds", "4000", "from 0 to 3600"),
        ("longest_span_hours = 16", "longest_span_hours = 0", "policy.longest_span_hours", "0", "hours above 0"),
        ("longest_span_hours = 16", "longest_span_hours = 960", "policy.longest_span_hours", "960", "up to 168"),
        ("longest_span_hours", "longest_span_minutes", "policy.longest_span_minutes", "nobody", "counts in hours"),
        ("deadline_hours = 12.5", "deadline_days = 2", "pay_period.deadline_days", "nobody", "one of anchor"),
        ("repeat_seconds = 90", "repeat_seconds = 0.5", "policy.repeat_seconds", "0.5", "whole seconds"),
        ("repeat_seconds = 90", "repeat_seconds = nan", "policy.repeat_seconds", "nan", "whole seconds"),
        ("repeat_seconds = 90", "repeat_seconds = true", "policy.repeat_seconds", "True", "a number"),
        ("repeat_seconds = 90", "repeat_seconds = 90\ndouble_seconds = 60", "policy.double_seconds", "60", "alone"),
        ("weeks = 2", "weeks = 0", "pay_period.weeks", "0", "1 or more"),
        ("weeks = 2", "weeks = -2", "pay_period.weeks", "-2", "1 or more"),
        ("anchor = 2026-01-04", "anchor = '4 January'", "pay_period.anchor", "4 January", "a date"),
        ("anchor = 2026-01-04", "anchor = 2026-01-04T00:00:00", "pay_period.anchor", "2026-01-04", "a date"),
        ("anchor = 2026-01-04", "", "pay_period.anchor", "nothing", "a date"),
        ("America/Denver", "Mountain", "site.Mill North.zone", "Mountain", "America/Chicago"),
        ("America/Denver", "../etc/passwd", "site.Mill North.zone", "../etc/passwd", "IANA"),
        ("America/Chicago", "", "workplace.zone", "''", "IANA"),
        ("monday 06:30", "Moonday 06:30", "site.Mill North.workweek_starts", "Moonday", "Sunday 00:00"),
        ("monday 06:30", "Monday 24:30", "site.Mill North.workweek_starts", "24:30", "Sunday 00:00"),
        ("monday 06:30", "Monday", "site.Mill North.workweek_starts", "Monday", "Sunday 00:00"),
        ("rounding_minutes = 15", "rounding_minutes = 10", "site.Mill North.rounding_minutes", "10", "0, 5, 6 or 15"),
        ('name = "Harbour Mill"', 'name = " "', "workplace.name", "' '", "text"),
        ('"Zeit" = "hours"', '"Zeit" = 3', "handoff.columns.Zeit", "3", "text"),
        ('folder = "/srv/exports"', "", "intake.folder", "nothing", "text in quotes"),
        ("quiet_seconds = 30", "quiet_seconds = 0", "intake.quiet_seconds", "0", "above 0 and up to 3600"),
        ("quiet_seconds = 30", "quiet_minutes = 1", "intake.quiet_minutes", "nobody", "counts in seconds"),
        ('afterwards = "leave"', 'afterwards = "delete"', "intake.afterwards", "delete", '"move" or "leave"'),
        ('[site."Mill North"]', "[site]", "site.zone", "America/Denver", "[zone]"),
    ],
)
def test_what_is_not_understood_is_refused(
    tmp_path: Path, was: str, now: str, place: str, seen: str, expected: str
) -> None:
    path = write(tmp_path, WHOLE.replace(was, now, 1))
    with pytest.raises(Refusal) as refusal:
        read_settings(path)
    sentence = str(refusal.value)
    assert sentence.startswith(f"{path}, {place}: found ")
    found, wanted = sentence.split(", expected ")
    assert seen in found
    assert expected in wanted


ODD = (
    "1e300",
    "-1",
    "1" + "0" * 30,
    "''",
    "[]",
    "{}",
    "true",
    "nan",
    "-inf",
    "2026-01-04",
    "12:30:00",
    "['x']",
    "[[]]",
)


@pytest.mark.parametrize("text", [WHOLE, BEYOND])
@pytest.mark.parametrize("odd", ODD)
def test_an_odd_value_is_refused_in_one_sentence_that_names_its_key_or_is_taken(text: str, odd: str) -> None:
    lines, refused = text.splitlines(), 0
    for at, line in enumerate(lines):
        key = line.partition(" = ")[0].strip('"')
        if key != line:
            changed = [*lines[:at], f'"{key}" = {odd}', *lines[at + 1 :]]
            try:
                parse_settings("\n".join(changed), Path("evenhand.toml"))
            except Refusal as refusal:
                refused += 1
                assert f".{key}: found " in str(refusal)
                assert str(refusal).startswith("evenhand.toml, ")
                assert str(refusal).endswith(".")
    assert refused > 4


def test_broken_toml_is_refused_with_its_line(tmp_path: Path) -> None:
    with pytest.raises(Refusal, match=r"evenhand\.toml is not valid TOML: .*line 2"):
        read_settings(write(tmp_path, "[workplace]\nname = Mill\n"))


def test_a_file_in_another_encoding_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "evenhand.toml"
    path.write_bytes('name = "Mühle"'.encode("latin-1"))
    with pytest.raises(Refusal, match="UTF-8"):
        read_settings(path)


NAMES = (
    st.text(st.characters(exclude_categories=["Cs"]), min_size=1, max_size=8)
    .map(str.strip)
    .filter(lambda name: bool(name) and not hidden_in(name))
)
SITES = st.builds(
    SiteRules,
    NAMES,
    st.sampled_from(["America/Chicago", "Europe/Paris"]),
    st.just("us_federal"),
    st.integers(0, 6),
    st.integers(0, 1439).map(lambda minute: minute * 60),
    st.sampled_from([0, 300, 360, 900]),
    st.sampled_from([0, 36_000]),
    st.sampled_from([(), (0, 3), (1, 2, 4, 6)]),
    st.booleans(),
    st.lists(NAMES, max_size=2).map(tuple),
    st.lists(NAMES, max_size=2).map(tuple),
    st.sampled_from([date(2026, 1, 4), date(2026, 1, 5)]),
    st.sampled_from(["fire_protection", "law_enforcement"]),
    st.integers(7, 28),
    st.sampled_from([date(2026, 1, 4), date(2026, 1, 5)]),
    st.sampled_from(["US", "US-CA"]),
)
HOUR = st.integers(0, 3600)
DAY = st.integers(0, 86_400)
WEEK = st.integers(1, 604_800)
TIMES = st.integers(0, 1439).map(lambda minute: minute * 60)
GRACES = st.builds(Grace, DAY, DAY, DAY, DAY)
MEALS = st.builds(AutomaticMeal, st.integers(1, 86_400), DAY, DAY)
WINDOWS = st.builds(
    Differential,
    NAMES,
    st.lists(st.integers(0, 6), max_size=3).map(tuple),
    st.booleans(),
    TIMES,
    st.one_of(TIMES, st.just(86_400)),
    st.decimals(0, 99, places=2),
    st.decimals(1, 3, places=2),
)
POLICIES = st.builds(
    Policy,
    repeat_gap_s=HOUR,
    longest_span_s=WEEK,
    long_span_s=WEEK,
    shift_gap_s=WEEK,
    meal_s=DAY,
    trifle_s=HOUR,
    call_back_s=DAY,
    grace=GRACES,
    automatic_meal=st.none() | MEALS,
    differentials=st.lists(WINDOWS, max_size=2).map(tuple),
)


@st.composite
def dated_sites(draw: st.DrawFn) -> SiteRules:
    """Return a site's rules with later ones in order of time."""
    first, later = draw(SITES), draw(st.lists(SITES, max_size=2))
    changes = tuple(replace(rules, site=first.site, since=date(2026 + year, 1, 1)) for year, rules in enumerate(later))
    return replace(first, changes=changes)


@settings(max_examples=60, deadline=None)
@given(
    st.builds(
        Settings,
        NAMES,
        st.builds(
            PayPeriod, st.dates(date(1991, 1, 1), date(2059, 12, 31)), st.integers(1, 8), st.integers(0, 500_000)
        ),
        st.lists(dated_sites(), max_size=3).map(lambda sites: {site.site: site for site in sites}),
        POLICIES,
        st.dictionaries(NAMES, NAMES, max_size=3).map(lambda columns: tuple(columns.items())),
        st.sampled_from(["", "Europe/Paris"]),
        st.sampled_from(["", "postgresql://clock@db.example/mill"]),
        st.just(Intake()) | st.builds(Intake, NAMES, st.integers(1, 3600), st.booleans()),
    )
)
def test_what_is_written_is_read_back(tmp_path_factory: pytest.TempPathFactory, written: Settings) -> None:
    path = tmp_path_factory.mktemp("settings") / "evenhand.toml"
    write_settings(path, written)
    assert read_settings(path) == written
    assert [entry.name for entry in path.parent.iterdir()] == ["evenhand.toml"]


@pytest.mark.parametrize(
    ("was", "written", "place"),
    [
        ('name = "Harbour Mill"', 'name = "Harbour \\u202eMill"', "workplace.name"),
        ('name = "Harbour Mill"', 'name = "Harbour \u200bMill"', "workplace.name"),
        ('[site."Mill North"]', '[site."Mill\u202e North"]', "the name of"),
        ('"Zeit" = "hours"', '"Zeit\u200b" = "hours"', "the name of"),
    ],
)
def test_what_does_not_show_or_turns_the_text_is_refused_with_its_place(was: str, written: str, place: str) -> None:
    with pytest.raises(Refusal, match="found characters that do not show") as refused:
        parse_settings(WHOLE.replace(was, written), Path("evenhand.toml"))
    assert place in str(refused.value)
    assert not {"\u202e", "\u200b"} & set(str(refused.value))
