"""What a file's columns are: by the words of eight languages, by what stands in them, and by what is known already."""

import random
import time
from datetime import date

import pytest
from babel.units import format_unit
from hypothesis import given, settings
from hypothesis import strategies as st

from evenhand.layouts import Answers, KnownCells, SourceFile, answered, propose, read
from evenhand.layouts.wording.header import concepts_of
from evenhand.terms.records import Refusal

from .proposed import layout_of

NAMES = ("Ida Marlow", "Rui Okoro", "Lena Fisk", "Tomas Brandt", "Ana Weir", "Jo Lindqvist", "Mia Castell", "Otto Renn")
READERS = {"GATE": "Europe/Berlin", "DOCK": "Europe/Berlin"}


def roster(header: str, row: str) -> SourceFile:
    """Return an invented roster: `row` is a line with {n} (0 to 7), {name}, {badge} and {person} in it."""
    lines = [
        row.format(n=n, name=name, badge=f"{907 * n + 412:04}", person=f"P{2031 + n}", day=f"{n + 13}.0{n + 1}.2019")
        for n, name in enumerate(NAMES)
    ]
    return SourceFile("f.csv", "\n".join([header, *lines, ""]).encode())


def log(rows: int = 60, line: str = "{number},{day}.10.26,{clock}\n", header: str = "") -> bytes:
    """Return an invented log, oldest first, of eight people who come and go once a day."""
    written = []
    for at in range(rows):
        day, turn, person = at // 16, at // 8 % 2, at % 8
        clock = f"{(6, 14)[turn]:02}:{51 + person:02}:33"
        written.append(line.format(number=f"{907 * person + 412:04}", day=f"{14 + day:02}", clock=clock))
    return (header + "".join(written)).encode()


# ---- headers, in eight languages, as people abbreviate them


@pytest.mark.parametrize(
    ("header", "columns"),
    [
        (
            "Emp #,Full Name,Badge No,Plant,Dept,Hire Dt,Term Date",
            "person name number site department hired_on left_on",
        ),
        (
            "Nº empleado,Nombre,Tarjeta,Sede,Depto.,Fecha de alta,Fecha de baja",
            "person name number site department hired_on left_on",
        ),
        (
            "Pers.-Nr,Name,Ausweis-Nr.,Werk,Kostenstelle,Eintritt,Austrittsdatum",
            "person name number site department hired_on left_on",
        ),
        (
            "Matricule,Nom,N° badge,Site,Service,Date d'embauche,Date de sortie",
            "person name number site department hired_on left_on",
        ),
        (
            "Nº func.,Nome completo,Crachá,Unidade,Setor,Data admissão,Data de demissão",
            "person name number site department hired_on left_on",
        ),
        (
            "Matricola,Nominativo,N. tessera,Stabilimento,Reparto,Data assunzione,Data cessazione",
            "person name number site department hired_on left_on",
        ),
        (
            "Personeelsnr,Naam,Pasnummer,Vestiging,Afdeling,Datum in dienst,Datum uit dienst",
            "person name number site department hired_on left_on",
        ),
        (
            "Nr pracownika,Imię i nazwisko,Numer karty,Zakład,Dział,Data zatrudnienia,Data zwolnienia",
            "person name number site department hired_on left_on",
        ),
    ],
)
def test_rosters_are_understood_in_eight_languages(header: str, columns: str) -> None:
    file = roster(header, "{person},{name},{badge},Mill,Press,{day},")
    layout = layout_of(file)
    assert layout.table == "people"
    assert list(layout.columns) == columns.split()
    assert [sources[0] for sources in layout.columns.values()] == header.split(",")


@pytest.mark.parametrize("language", ["en", "es", "de", "fr", "pt", "it", "nl", "pl"])
def test_the_words_for_day_and_hour_are_those_of_cldr(language: str) -> None:
    # Unicode CLDR, units duration-day and duration-hour, as Babel ships them: "1 Tag", "1 Stunde"
    for unit, concept in (("day", "date"), ("hour", "time")):
        said = format_unit(1, f"duration-{unit}", length="long", locale=language)
        assert concept in concepts_of(said), said


@pytest.mark.parametrize(
    ("header", "concept"),
    [
        ("EmployeeID", "person_id"),
        ("EMP_NO", "person_id"),
        ("No. of employee", "person_id"),
        ("Mitarbeiternummern", "person_id"),
        ("Eintrittsdat.", "hired"),
        ("Gueltig ab", "valid_from"),
        ("Bagde number", "keyed_number"),
        ("Superv.", "supervisor"),
    ],
)
def test_word_order_plural_compound_cut_and_slip_change_nothing(header: str, concept: str) -> None:
    found = concepts_of(header)
    assert max(found, key=lambda one: found[one]) == concept


def test_what_no_table_has_is_used_for_nothing() -> None:
    header = "Emp No,Name,Badge,Date of Birth,E-mail,IBAN,Reports To,Home Phone,Cost Centre"
    file = roster(
        header, "{person},{name},{badge},{day},x{n}@example.org,XX00 1234 5678 {badge},Ada Crane,555-010{n},4700"
    )
    layout = layout_of(file)
    assert layout.columns == {
        "person": ("Emp No",),
        "name": ("Name",),
        "number": ("Badge",),
        "department": ("Cost Centre",),
        "phone": ("Home Phone",),
    }


def test_the_badge_number_is_no_personnel_identifier() -> None:
    # the trap: of two columns of digits the keyed one is not payroll's
    layout = layout_of(roster("Pers.-Nr.,Name,Ausweis", "7{badge},{name},{badge}"))
    assert layout.columns == {"person": ("Pers.-Nr.",), "name": ("Name",), "number": ("Ausweis",)}
    alone = layout_of(roster("Name,Badge", "{name},{badge}"), table="people")
    assert "person" not in alone.columns


def test_a_number_without_a_plain_word_is_told_by_what_is_known_or_asked() -> None:
    file = roster("ID,Name,Site", "{badge},{name},Mill")
    (asked,) = propose(file).questions
    assert (asked.about, asked.subject) == ("column", "ID")
    assert {choice.answer for choice in asked.choices} >= {"person", "number"}
    known = KnownCells(numbers=[f"{907 * n + 412:04}" for n in range(8)])
    assert propose(file, known=known).layout.columns["number"] == ("ID",)
    told = propose(file, answered(Answers(), asked, "person"))
    assert (told.questions, told.layout.columns["person"]) == ((), ("ID",))


def test_a_role_of_two_marks_tells_supervisors() -> None:
    file = roster("Emp #,Name,Badge,Role,Hired", "{person},{name},{badge},{n},{day}")
    file = SourceFile("f.csv", b"\n".join(
        line.replace(b",%d," % n, b",S," if n == 0 else b",E,", 1) if n >= 0 else line
        for n, line in enumerate(file.content.split(b"\n"), -1)
    ))  # fmt: skip
    layout = layout_of(file)
    assert layout.columns["is_supervisor"] == ("Role",)
    assert layout.columns["hired_on"] == ("Hired",)
    assert read(file, layout, zones={}).frame["is_supervisor"].to_list() == [True, *[False] * 7]


def test_a_list_of_readers_without_a_site_is_asked_for_it() -> None:
    text = "reader,place,tz,digits\nGATE,North door,Europe/Berlin,4\nDOCK,Dock,Europe/Berlin,4\n"
    proposal = propose(SourceFile("f.csv", text.encode()))
    assert proposal.layout.table == "readers"
    asked = proposal.questions[0]
    assert (asked.about, asked.subject) == ("field", "site")
    told = propose(SourceFile("f.csv", text.encode()), answered(Answers(), asked, "place"))
    assert (told.layout.columns["site"], told.questions) == (("place",), ())


def test_one_zone_may_be_said_for_all_readers_of_a_list() -> None:
    file = SourceFile("f.csv", b"Reader,Site,Door\nGATE,Mill,North\nDOCK,Mill,South\n")
    (asked,) = propose(file).questions
    assert asked.about == "zone"
    layout = propose(file, answered(Answers(), asked, "Europe/Berlin")).layout
    assert read(file, layout, zones={}).frame["zone"].to_list() == ["Europe/Berlin"] * 2


# ---- logs


def test_no_column_is_both_the_date_and_the_time() -> None:
    # 19.10.26 could be a time of day, too
    file = SourceFile("GATE.csv", log())
    layout = layout_of(file, READERS)
    assert layout.columns["at"] == (2, 3)
    rows = read(file, layout, zones=READERS)
    assert rows.frame.height == 60
    assert rows.frame["at"].min() == 1_791_953_493  # 14 October 2026, 06:51:33 in Berlin, by Python's datetime


@pytest.mark.parametrize("line", ["{number};{day}1026;{clock}\n", "{number};202610{day}{clock}\n"])
def test_moments_of_digits_alone_are_those_of_a_log(line: str) -> None:
    content = log(line=line).replace(b":", b"")
    layout = propose(SourceFile("GATE.csv", content), known=KnownCells(readers=list(READERS), today=date(2026, 11, 1)))
    assert layout.layout.table == "punches"
    assert "at" in layout.layout.columns


def test_a_table_that_has_no_place_here_is_asked_about() -> None:
    text = "Invoice no,Article,Delivered on,Pieces\n" + "".join(
        f"ALB{n}7,Pallet,2026-0{n}-11,{n}\n" for n in range(1, 9)
    )
    proposal = propose(SourceFile("deliveries.csv", text.encode()))
    assert [one.about for one in proposal.questions][:1] == ["table"]


@given(st.randoms(use_true_random=False))
@settings(max_examples=12, deadline=None)
def test_the_order_of_columns_never_changes_the_reading(draw: random.Random) -> None:
    file = roster(
        "Pers.-Nr,Name,Ausweis,Werk,Eintritt,Geburtsdatum,Telefon",
        "{person},{name},{badge},Mill,{day},{day},55{n}-0100",
    )
    rows = [line.split(",") for line in file.content.decode().split("\n") if line]
    order = list(range(len(rows[0])))
    draw.shuffle(order)
    text = "\n".join(",".join(row[at] for at in order) for row in rows) + "\n"
    assert dict(layout_of(SourceFile("f.csv", text.encode())).columns) == dict(layout_of(file).columns)


# ---- what is asked, and what is answered


def test_lost_zeros_are_asked_about_once_and_remembered() -> None:
    numbers = ["369", "412", "58", *[str(1000 + 37 * n) for n in range(20)]]
    text = "Name,Badge,Site\n" + "".join(
        f"{NAMES[n % 8]} {'ABCDEFGHIJKLMNOPQRSTUVW'[n]}.,{one},Mill\n" for n, one in enumerate(numbers)
    )
    file = SourceFile("f.csv", text.encode())
    (asked,) = propose(file).questions
    assert (asked.about, [choice.answer for choice in asked.choices]) == ("zeros", ["4", "0"])
    for answer in ("4", "0"):
        layout = propose(file, answered(Answers(), asked, answer)).layout
        assert layout.number_width == int(answer)
        assert propose(file, kept={"people-1.toml": layout}).questions == ()
    known = KnownCells(numbers=[one.zfill(4) for one in numbers])
    assert (propose(file, known=known).questions, propose(file, known=known).layout.number_width) == ((), 4)


def test_an_answer_that_cannot_be_followed_says_which_columns_there_are() -> None:
    file = roster("Emp #,Name,Badge", "{person},{name},{badge}")
    with pytest.raises(Refusal, match=r"no column 'Bagde'.*Emp #, Name, Badge"):
        propose(file, Answers(maps={"Bagde": "number"}))
    with pytest.raises(Refusal, match=r"'salary' is no declared column"):
        propose(file, Answers(table="people", maps={"Badge": "salary"}))
    assert "number" not in propose(file, Answers(ignored=frozenset({"Badge"}))).layout.columns


# ---- kept layouts


def kept(content: bytes, **said: object):  # type: ignore[no-untyped-def]
    return layout_of(SourceFile("GATE.csv", content), READERS, **said)


def test_a_kept_layout_without_header_is_not_used_where_its_values_do_not_fit() -> None:
    positional = kept(log())
    assert not positional.header
    people = roster("Emp #,Name,Badge", "{person},{name},{badge}")
    assert propose(people, kept={"a.toml": positional}).kept == ""
    again = SourceFile("DOCK.csv", log(40))
    assert propose(again, known=KnownCells(readers=list(READERS)), kept={"a.toml": positional}).kept == "a.toml"


def test_an_exact_header_wins_over_a_vague_layout_whatever_the_names() -> None:
    content = log(header="number,day,time\n")
    exact, vague = kept(content), kept(log())
    for keys in (("a.toml", "b.toml"), ("b.toml", "a.toml")):
        both = dict(zip(keys, (exact, vague), strict=True))
        found = propose(SourceFile("GATE.csv", content), known=KnownCells(readers=list(READERS)), kept=both)
        assert found.kept == keys[0]


def test_two_kept_layouts_that_fit_alike_are_a_question() -> None:
    file = roster("No,Name,PIN,Card", "{person},{name},{badge},1{badge}")
    one = propose(file, Answers(table="people", maps={"PIN": "number"})).layout
    other = propose(file, Answers(table="people", maps={"Card": "number"})).layout
    proposal = propose(file, kept={"a.toml": one, "b.toml": other})
    asked = next(question for question in proposal.questions if question.about == "layout")
    assert {choice.answer for choice in asked.choices} == {"a.toml", "b.toml"}
    told = propose(file, answered(Answers(), asked, "b.toml"), kept={"a.toml": one, "b.toml": other})
    assert (told.kept, told.layout.columns["number"]) == ("b.toml", ("Card",))


def test_columns_that_a_kept_layout_misses_are_offered() -> None:
    file = roster("Emp #,Name,Badge,Hired,Supervisor", "{person},{name},{badge},{day},no")
    narrow = propose(file, Answers(ignored=frozenset())).layout
    columns = {name: sources for name, sources in narrow.columns.items() if name in ("person", "name", "number")}
    narrow = type(narrow)("people", "delimited", columns, delimiter=",", header=1)
    proposal = propose(file, kept={"a.toml": narrow})
    assert proposal.kept == "a.toml"
    assert {name for use in proposal.offers for name in use.names} == {"hired_on", "is_supervisor"}


def test_a_layout_whose_header_fits_and_whose_values_do_not_is_not_passed_over_in_silence() -> None:
    written = kept(log(header="number,day,time\n"))
    other = log(header="number,day,time\n", line="{number},Friday,{clock}\n")
    proposal = propose(SourceFile("GATE.csv", other), known=KnownCells(readers=list(READERS)), kept={"a.toml": written})
    assert proposal.kept == ""
    assert any("a.toml" in notice and "'day'" in notice for notice in proposal.notices)


def test_the_time_a_file_takes_grows_with_its_columns_and_no_faster() -> None:
    def spent(columns: int) -> float:
        header = "Emp #,Name,Badge," + ",".join(["Hours worked"] * columns)
        file = roster(header, "{person},{name},{badge}," + ",".join("7" * columns))
        begun = time.process_time()
        assert propose(file).layout.columns["person"] == ("Emp #",)
        return time.process_time() - begun

    spent(30)
    assert spent(400) < 30 * spent(40)
