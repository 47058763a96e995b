"""No column is given a use silently where another would do as well, and none is left out where it may be missing.

The headers are invented words of no language, or words that mean something else: what counts is what stands below.
"""

from __future__ import annotations

import random

import pytest

from evenhand.layouts import Answers, KnownCells, Question, SourceFile, answered, propose
from evenhand.layouts.evidence.column import KnownTexts, columns_seen
from evenhand.layouts.evidence.profile import profiles_of
from evenhand.layouts.evidence.suits import suits
from evenhand.layouts.evidence.told import is_explained

FAMILIES = ("Marlow", "Okoro", "Fisk", "Brandt", "Weir", "Lindqvist", "Castell", "Renn", "Ashby", "Dorn")
GIVEN = ("Ida", "Rui", "Lena", "Tomas", "Ana", "Jo", "Mia", "Otto")
ROWS = 60
KNOWN = KnownCells(readers=["GATE", "DOCK"])


def cells_of(kind: str) -> list[str]:
    """Return invented cells of sixty people of one kind."""
    rng = random.Random(kind)
    made = {
        "person": lambda at: f"P{2031 + 7 * at}",
        "other id": lambda at: f"{10_412 + 907 * at}",
        "number": lambda at: f"{(4_412 + 907 * at) % 9_000 + 1_000}",
        "family": lambda at: rng.choice(FAMILIES),
        "given": lambda at: rng.choice(GIVEN) if at % 5 else f"{rng.choice(GIVEN)} {rng.choice(GIVEN)}",
        "name": lambda at: f"{GIVEN[at % 8]} {rng.choice(GIVEN)} {FAMILIES[at % 10]}",
        "site": lambda at: ("Mill", "Quarry")[at % 2],
        "department": lambda at: ("Press", "Stores", "Canteen", "Paint")[at * 7 % 4],
        "hired": lambda at: f"20{10 + at % 16}-0{1 + at % 9}-{10 + at % 18}",
        "born": lambda at: f"19{60 + at % 35}-0{1 + at % 9}-{10 + at % 18}",
        "left": lambda at: "" if at % 9 else f"2025-0{1 + at % 9}-1{at % 10}",
        "phone": lambda at: f"+32 9 0{at + 10} 11 {at + 10}",
        "rate": lambda at: f"{12 + at % 20}.{25 + at % 70}",
        "count": lambda at: str(at + 1),
        "sign": lambda at: "x" if at % 8 == 0 else "",
        "superior": lambda at: f"{FAMILIES[at % 3]} {GIVEN[at % 3]}",
    }
    return [made[kind](at) for at in range(ROWS)]


def file_of(name: str, columns: dict[str, str]) -> SourceFile:
    rows = zip(*(cells_of(kind) for kind in columns.values()), strict=True)
    return SourceFile(name, "\n".join([";".join(columns), *map(";".join, rows), ""]).encode())


def asked_of(file: SourceFile, answers: Answers = Answers(table="people")) -> dict[str, Question]:  # noqa: B008
    """Return the questions about columns, by the column they are about."""
    return {one.subject: one for one in propose(file, answers, KNOWN).questions if one.about == "column"}


PLAIN = {"Employee No": "person", "Badge": "number", "Name": "name", "Site": "site", "Department": "department"}


def test_a_roster_with_plain_words_leaves_nothing_to_ask() -> None:
    assert propose(file_of("roster.csv", PLAIN), known=KNOWN).questions == ()


@pytest.mark.parametrize(
    ("header", "kind", "may_be"),
    [
        ("Xqu", "left", "left_on"),
        ("Xqu", "hired", "hired_on"),
        ("Xqu", "phone", "phone"),
        ("Xqu", "rate", "hourly_rate"),
        ("Xqu", "sign", "is_supervisor"),
    ],
)
def test_a_column_that_may_be_a_missing_one_is_asked_about(header: str, kind: str, may_be: str) -> None:
    asked = asked_of(file_of("roster.csv", {**PLAIN, header: kind}))
    assert list(asked) == [header]
    assert may_be in [choice.answer for choice in asked[header].choices]


LEVELS = {
    "levels of a short list": ["2", "2", "0"],
    "of a list of three sorts": ["1", "5", "3", "1", "1", "1", "3", "1", "1"],
    "two sorts, neither of them a mark of no": ["3", "4", "4", "4", "3", "4"],
}


@pytest.mark.parametrize("levels", LEVELS.values(), ids=LEVELS)
@pytest.mark.parametrize("header", ["AUTH", "Level", "Rights", "Stufe", "Reader rights", "PRIV", "Role", "Xqu"])
def test_levels_that_may_tell_who_may_enrol_others_are_asked_about(header: str, levels: list[str]) -> None:
    rows = [f"{4102 + 97 * at};{FAMILIES[at]} {GIVEN[at % 8]};{level}" for at, level in enumerate(levels)]
    file = SourceFile("listed.csv", "\n".join([f"ID;NAME;{header}", *rows, ""]).encode())
    asked = propose(file, Answers(table="enrolments", maps={"ID": "number", "NAME": "name"}), KNOWN).questions
    about = [one for one in asked if one.about in ("column", "words")]
    assert {one.about for one in about} in ({"column"}, {"words"})
    if about[0].about == "column":
        assert about[0].subject == header
        assert "is_supervisor" in [choice.answer for choice in about[0].choices]
        after = answered(Answers(table="enrolments", maps={"ID": "number", "NAME": "name"}), about[0], "is_supervisor")
        about = [one for one in propose(file, after, KNOWN).questions if one.about == "words"]
    assert {one.subject for one in about} == {*levels}, "each level is asked about, word by word"


@pytest.mark.parametrize("header", ["Tries", "Row", "Department"])
def test_few_small_numbers_under_a_plain_word_for_something_else_are_not_asked_about(header: str) -> None:
    rows = [f"{4102 + 97 * at};{FAMILIES[at]} {GIVEN[at % 8]};{level}" for at, level in enumerate("223")]
    file = SourceFile("listed.csv", "\n".join([f"ID;NAME;{header}", *rows, ""]).encode())
    asked = propose(file, Answers(table="enrolments", maps={"ID": "number", "NAME": "name"}), KNOWN).questions
    assert "is_supervisor" not in [choice.answer for one in asked for choice in one.choices]


def test_what_a_known_word_and_its_cells_say_of_a_column_is_not_asked() -> None:
    others = {"Date of Birth": "born", "Row": "count", "Manager": "superior"}
    assert asked_of(file_of("roster.csv", {**PLAIN, **others})) == {}


@pytest.mark.parametrize("header", ["Unit", "Enrolled"])
def test_a_known_word_of_another_table_explains_no_column(header: str) -> None:
    # a column of readers, or of days of enrolment, that holds people's identifiers is called so by another meaning
    columns = {"Badge": "number", "Name": "name", "Site": "site", "Department": "department", header: "other id"}
    assert "person" in [choice.answer for choice in asked_of(file_of("roster.csv", columns))[header].choices]


def test_of_two_identifiers_without_a_plain_word_neither_is_taken_silently() -> None:
    columns = {"Xqu": "other id", "Zkt": "number", "Name": "name", "Site": "site", "Department": "department"}
    assert set(asked_of(file_of("roster.csv", columns))) == {"Xqu", "Zkt"}


def test_both_parts_of_a_name_are_asked_for_and_joined() -> None:
    columns = {"Employee No": "person", "Badge": "number", "Xqu": "family", "Name": "given", "Site": "site"}
    file = file_of("roster.csv", {**columns, "Department": "department"})
    answers = Answers(table="people")
    for _ in range(4):
        if not (questions := propose(file, answers, KNOWN).questions):
            break
        for one in questions:
            assert (one.about, one.subject) in {("column", "Xqu"), ("column", "Name")}
            answers = answered(answers, one, "name")
    assert set(propose(file, answers, KNOWN).layout.columns["name"]) == {"Xqu", "Name"}


def test_superiors_are_no_department_and_no_site() -> None:
    columns = {"Employee No": "person", "Badge": "number", "Name": "name", "Site": "site"}
    file = file_of("roster.csv", {**columns, "Xqu": "department"})
    assert "department" in [choice.answer for choice in asked_of(file)["Xqu"].choices]
    rows = [f"{FAMILIES[at % 3]} {GIVEN[at % 3]}" for at in range(ROWS)]
    names = [f"{GIVEN[at % 8]} {FAMILIES[at % 10]}" for at in range(ROWS)]
    lines = [
        f"P{at + 2031};{at * 907 % 9_000 + 1_000};{name};Mill;{boss}"
        for at, (name, boss) in enumerate(zip(names, rows, strict=True))
    ]
    bosses = SourceFile("roster.csv", "\n".join(["Employee No;Badge;Name;Site;Xqu", *lines, ""]).encode())
    assert asked_of(bosses) == {}


def test_what_does_not_change_from_punch_to_punch_of_a_number_is_no_direction() -> None:
    people = {"4412": "Cook", "5319": "Smith", "6226": "Cook"}
    lines = [
        f"GATE;{number};2026-06-{day:02} {hour:02}:0{at};{title}"
        for day in range(1, 21)
        for hour in (6, 14)
        for at, (number, title) in enumerate(people.items())
    ]
    file = SourceFile("log.csv", "\n".join(["Reader;Badge;Date/Time;Xqu", *lines, ""]).encode())
    assert asked_of(file, Answers(table="punches")) == {}
    turned = file.content.replace(b"Cook", b"Wej").replace(b"Smith", b"Wyj")
    lines = [
        line[:-3] + ("Wej" if " 06:" in line else "Wyj") if ";Wej" in line or ";Wyj" in line else line
        for line in turned.decode().splitlines()
    ]
    asked = propose(SourceFile("log.csv", "\n".join([*lines, ""]).encode()), Answers(table="punches"), KNOWN)
    assert "Xqu" in [str(sources[0]) for sources in asked.layout.columns.values()]


@pytest.mark.parametrize("header", ["Turno", "Schicht", "Shift", "Zmiana"])
def test_the_name_of_a_shift_is_no_site_to_ask_about(header: str) -> None:
    columns = {name: kind for name, kind in PLAIN.items() if name not in ("Site", "Department")}
    first, *rows = file_of("roster.csv", columns).content.decode().splitlines()
    named = [f"{row};{('Early', 'Late', 'Night')[at % 3]}" for at, row in enumerate(rows)]
    assert asked_of(SourceFile("roster.csv", "\n".join([f"{first};{header}", *named, ""]).encode())) == {}


def test_answers_close_the_questions() -> None:
    file = file_of("roster.csv", {**PLAIN, "Xqu": "left", "Zkt": "rate"})
    said = Answers(table="people", maps={"Xqu": "left_on"}, ignored=frozenset({"Zkt"}))
    assert propose(file, said, KNOWN).questions == ()


def test_cells_alone_tell_what_a_column_cannot_be() -> None:
    kinds = ["person", "count", "born", "hired", "left", "site"]
    seen = columns_seen(kinds, profiles_of([cells_of(kind) for kind in kinds]), KnownTexts.of(KNOWN))
    fits = {
        one.header: {name for name in ("person", "hired_on", "left_on", "site") if suits(one, "people", name)}
        for one in seen
    }
    assert fits == {
        "person": {"person"},
        "count": set(),
        "born": set(),
        "hired": {"hired_on", "left_on"},  # later than the birthdays
        "left": {"left_on"},
        "site": {"site"},
    }
    assert not is_explained(seen[0], "readers")


@pytest.mark.parametrize(("other", "width"), [("Wert", 4), ("Score", 4), ("Value", 6), ("col", 4)])
def test_a_log_whose_known_numbers_all_stand_in_another_column_is_asked_about(other: str, width: int) -> None:
    known = [f"{(at * 379 + 21) % 9000 + 10 ** (width - 1)}" for at in range(14)]
    rows = [
        f"G1;{1000 + (at * 613) % 2600};{known[at % 14]};2026-11-{2 + at // 28:02d} {5 + at % 14:02d}:47:{at % 60:02d}"
        for at in range(84)
    ]
    file = SourceFile("log.csv", (f"Reader;ID;{other};Time\n" + "\n".join(rows)).encode())
    proposal = propose(file, Answers(table="punches"), KnownCells(readers=["G1"], numbers=known))
    assert "ID" in [one.subject for one in proposal.questions] or proposal.layout.columns["number"] == (other,)
    said = Answers(table="punches", maps={"ID": "number"}, ignored=(other,))
    assert propose(file, said, KnownCells(readers=["G1"], numbers=known)).questions == ()
