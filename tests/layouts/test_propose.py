"""Files nobody described: table, form, header and columns as a person would see them."""

from dataclasses import replace
from datetime import date
from itertools import product

import pytest

from evenhand.layouts import Answers, KnownCells, Layout, SourceFile, propose, read, sketch, source_file
from evenhand.layouts.assignment import assign
from evenhand.layouts.forms.splitting import split

from .proposed import layout_of

ZONES = {"North Gate": "America/Chicago", "Tor Süd": "Europe/Berlin", "R3": "Europe/Madrid"}

ENGLISH_LOG = """Mill street works, punch report
Report printed on 4 March 2026, 16:02

Reader,Badge Number,Date/Time,In/Out,Result,Score
North Gate,0012,02/25/2026 7:05:10 AM,IN,Accepted,12
North Gate,0013,02/25/2026 3:31:00 PM,OUT,Refused,88
Total,2,,,,
"""
SPANISH_LOG = (
    "Lector;Número;Fecha;Hora;Sentido;Puntuación\nR3;0012;25/02/2026;07:05;E;12,5\nR3;0013;25/02/2026;15:31;S;8,25\n"
)
GERMAN_LOG = "Leser\tAusweis\tZeitpunkt\tRichtung\nTor Süd\t0012\t25.02.2026 07:05\tKommen\n\
Tor Süd\t0013\t25.02.2026 15:31\tGehen\n"
FRENCH_LOG = "Lecteur|Numéro|Horodatage|Sens\nR3|0012|25 févr. 2026 07:05|Entrée\nR3|0013|25 févr. 2026 15:31|Sortie\n"
ROSTER = "Employee ID,Last Name,First Name,Badge #,Location,Dept,Hire Date,Supervisor,Cell,Pay Rate\n\
E1,Ruiz,Ana,0012,Mill,Press,2019-03-04,Y,555-0100,$21.38\nE2,Berg,Bo,0013,Mill,Press,1998-11-30,N,555-0101,19.5\n"
READERS = "Reader;Site;Where;Time zone;Digits;Capacity\nNorth Gate;Mill;North door;America/Chicago;5;512\n"
ENROLMENTS = "Device,ID number,Name,Supervisor,Enrolled on,Placements\nNorth Gate,0012,RUIZ A,yes,2025-11-30,3\n"
SHIFTS = "Employee ID;Date;Start;End\nE1;25/02/2026;22:00;06:00\nE2;26/02/2026;06:00;14:00\n"
CONSENT = "Person,Signed on,Form,Withdrawn on\nE1,2025-11-30,2025-A,\nE2,2025-11-28,2025-A,2026-01-31\n"


def kept_for(file, layout):
    """Return the key of the layout that a file is read by, where only `layout` is kept."""
    return propose(file, known=KnownCells(readers=list(ZONES)), kept={"kept": layout}).kept


@pytest.mark.parametrize(
    ("text", "table", "columns"),
    [
        (ENGLISH_LOG, "punches", {"reader", "number", "at", "direction", "outcome", "score"}),
        (SPANISH_LOG, "punches", {"reader", "number", "at", "direction", "score"}),
        (GERMAN_LOG, "punches", {"reader", "number", "at", "direction"}),
        (FRENCH_LOG, "punches", {"reader", "number", "at", "direction"}),
        (
            ROSTER,
            "people",
            {"person", "name", "number", "site", "department", "hired_on", "is_supervisor", "phone", "hourly_rate"},
        ),
        (READERS, "readers", {"reader", "site", "place", "zone", "max_digits", "capacity"}),
        (ENROLMENTS, "enrolments", {"reader", "number", "name", "is_supervisor", "enrolled_on", "presentations"}),
        (SHIFTS, "schedules", {"person", "starts_at", "ends_at"}),
        (CONSENT, "consent", {"person", "given_on", "form", "withdrawn_on"}),
    ],
)
def test_each_table_is_known_by_its_columns(text, table, columns):
    layout = layout_of(SourceFile("file.csv", text.encode()), known_readers=ZONES)
    assert layout.table == table
    assert set(layout.columns) == columns
    assert kept_for(SourceFile("file.csv", text.encode()), layout) == "kept"
    assert layout_of(SourceFile("file.csv", text.encode()), table=table, known_readers=ZONES) == layout


@pytest.mark.parametrize("text", [ENGLISH_LOG, SPANISH_LOG, GERMAN_LOG, FRENCH_LOG])
def test_logs_in_four_languages_say_in_and_out(text):
    layout = layout_of(SourceFile("file.csv", text.encode()), known_readers=ZONES)
    rows = read(SourceFile("file.csv", text.encode()), layout, zones=ZONES)
    assert rows.frame["direction"].to_list() == ["in", "out"]
    assert rows.frame["number"].to_list() == ["0012", "0013"]
    # 07:05 to 15:31 is 8 hours and 26 minutes, but for the seconds of the first log.
    assert abs(rows.frame["at"][1] - rows.frame["at"][0] - (8 * 3600 + 26 * 60)) <= 10


def test_the_total_line_is_left_out_and_the_lines_above_the_header_are_told():
    rows = read(
        SourceFile("f.csv", ENGLISH_LOG.encode()), layout_of(SourceFile("f.csv", ENGLISH_LOG.encode())), zones=ZONES
    )
    assert rows.rejects.is_empty()
    assert any(one.startswith("Lines of totals, which are no rows, were left out: line 7 (") for one in rows.notices)
    assert "Lines before the header, not read as rows: 2." in rows.notices
    assert rows.lines.tolist() == [5, 6]
    assert rows.frame["outcome"].to_list() == ["accepted", "refused"]


def test_a_total_that_could_pass_for_a_person_is_left_out():
    text = "Name,Badge\nAna Ruiz,0012\nBo Berg,0013\nTotal,2\n"
    file = SourceFile("roster.csv", text.encode())
    rows = read(file, layout_of(file), zones={})
    assert rows.frame["name"].to_list() == ["Ana Ruiz", "Bo Berg"]
    assert (rows.rejects.height, rows.read) == (0, 2)
    assert "Lines of totals, which are no rows, were left out: line 4 (Total,2)." in rows.notices


def test_a_person_whose_name_is_a_word_for_totals_is_read():
    text = "Last,First,Badge\nRuiz,Ana,0012\nBerg,Bo,0013\nTotal,Ida,0014\nRows,Cy,0015\n"
    file = SourceFile("roster.csv", text.encode())
    rows = read(file, layout_of(file), zones={})
    assert rows.frame["number"].to_list() == ["0012", "0013", "0014", "0015"]


def test_a_roster_keeps_zeros_rates_and_early_hire_dates():
    rows = read(SourceFile("f.csv", ROSTER.encode()), layout_of(SourceFile("f.csv", ROSTER.encode())), zones={})
    assert rows.frame["name"].to_list() == ["Ruiz Ana", "Berg Bo"]
    assert rows.frame["hired_on"].to_list() == [date(2019, 3, 4), date(1998, 11, 30)]
    assert [str(rate) for rate in rows.frame["hourly_rate"]] == ["21.3800", "19.5000"]
    assert rows.frame["is_supervisor"].to_list() == [True, False]


def test_a_person_without_an_identifier_is_known_by_the_number():
    text = "Name,Badge,Site\nAna Ruiz,0012,Mill\nBo Berg,,Mill\n"
    rows = read(SourceFile("f.csv", text.encode()), layout_of(SourceFile("f.csv", text.encode())), zones={})
    assert rows.frame["person"].to_list() == ["0012"]
    assert rows.rejects["line"].to_list() == [3]


def test_a_log_without_header_is_known_by_its_cells():
    text = "".join(f"R3,00{n},2026-03-04 07:{n}:00,{'IO'[n % 2]}\n" for n in range(10, 40))
    layout = layout_of(SourceFile("x.csv", text.encode()), known_readers=ZONES)
    assert (layout.header, layout.width) == (0, 4)
    assert layout.columns == {"reader": (1,), "number": (2,), "at": (3,), "direction": (4,)}
    assert read(SourceFile("x.csv", text.encode()), layout, zones=ZONES).frame.height == 30


def test_a_log_of_fixed_width_is_known_by_its_blank_columns():
    text = "Badge   Date       Time     Dir  Score\n" + "".join(
        f"{n:05}   2026-03-04 07:{n % 60:02}:00 {'IN ' if n % 2 else 'OUT'} {n % 97:>6}\n" for n in range(1, 80)
    )
    layout = layout_of(SourceFile("north gate march.txt", text.encode()), known_readers=ZONES)
    assert (layout.table, layout.form, layout.reader) == ("punches", "fixed", "North Gate")
    rows = read(SourceFile("x.txt", text.encode()), layout, zones=ZONES)
    assert rows.frame.height == 79
    assert rows.frame["score"].to_list() == [float(n % 97) for n in range(1, 80)]
    assert rows.frame["reader"].unique().to_list() == ["North Gate"]


def test_the_reader_is_said_or_found_in_the_name_or_above_the_header_or_asked_for():
    body = "Badge;Time\n0012;2026-03-04 07:05\n0013;2026-03-04 07:06\n"
    assert layout_of(SourceFile("log.csv", body.encode()), reader="R3", known_readers=ZONES).reader == "R3"
    assert layout_of(SourceFile("2026-03 North-Gate.csv", body.encode()), known_readers=ZONES).reader == "North Gate"
    assert layout_of(SourceFile("log.csv", ("Clock: R3\n" + body).encode()), known_readers=ZONES).reader == "R3"
    asked = propose(SourceFile("log.csv", body.encode()), known=KnownCells(readers=list(ZONES))).questions
    assert [(one.about, {choice.answer for choice in one.choices}) for one in asked] == [("reader", set(ZONES))]


def test_a_table_that_can_do_without_readers_takes_none_from_the_name():
    text = "Employee ID,Rate,Effective date\nE1,21.375,2026-01-05\n"
    layout = layout_of(SourceFile("North Gate rates.csv", text.encode()), known_readers=ZONES)
    assert (layout.table, layout.reader) == ("rates", "")


def test_json_lines_are_known_by_their_names():
    text = '{"reader":"R3","badge":"0012","timestamp":"2026-03-04T07:05:00Z","io":"I"}\n'
    layout = layout_of(SourceFile("x.jsonl", text.encode()), known_readers=ZONES)
    assert layout.columns == {"reader": ("reader",), "number": ("badge",), "at": ("timestamp",), "direction": ("io",)}


def test_a_header_with_a_slip_of_the_pen_is_still_known():
    text = "Readr,Bagde number,Timestmp\nR3,0012,2026-03-04 07:05\n"
    layout = layout_of(SourceFile("x.csv", text.encode()), known_readers=ZONES)
    assert layout.columns == {"reader": ("Readr",), "number": ("Bagde number",), "at": ("Timestmp",)}


def test_a_kept_layout_fits_a_file_with_more_lines_above_the_header_and_columns_in_another_order():
    layout = layout_of(SourceFile("a.csv", SPANISH_LOG.encode()), known_readers=ZONES)
    other = "Informe\n\nFecha;Hora;Número;Lector;Sentido;Puntuación\n26/02/2026;07:05;0012;R3;E;12,5\n"
    assert kept_for(SourceFile("b.csv", other.encode()), layout) == "kept"
    assert read(SourceFile("b.csv", other.encode()), layout, zones=ZONES).frame["number"].to_list() == ["0012"]
    assert kept_for(SourceFile("c.csv", GERMAN_LOG.encode()), layout) == ""


def test_a_kept_layout_without_header_does_not_fit_other_columns():
    layout = Layout("punches", "delimited", {"reader": (1,), "number": (2,), "at": (3,)}, delimiter=",", width=3)
    assert kept_for(SourceFile("a.csv", b"R3,1,2026-03-04 07:05\n"), layout) == "kept"
    assert kept_for(SourceFile("a.csv", b"R3,2026-03-04 07:05,1\n"), layout) == ""
    assert kept_for(SourceFile("a.csv", b"R3,1,2026-03-04 07:05,in\n"), layout) == ""


def test_an_undecidable_date_order_is_asked_by_its_first_date():
    text = "Reader,Badge,Time\nR3,0012,03/04/2026 07:05\nR3,0013,03/04/2026 07:06\n"
    file = SourceFile("x.csv", text.encode())
    (asked,) = propose(file, known=KnownCells(readers=list(ZONES))).questions
    assert asked.about == "dates"
    assert "03/04/2026" in asked.asks
    assert layout_of(file, known_readers=ZONES, dates="dmy").date_order == "dmy"


def test_the_order_of_the_log_decides_where_only_one_reading_runs():
    days = [f"{d:02}/{m:02}/2026" for m in (4, 5, 6) for d in range(1, 13)]
    text = "Reader,Badge,Time\n" + "".join(f"R3,0012,{day} 07:05\n" for day in days)
    layout = layout_of(SourceFile("x.csv", text.encode()), known_readers=ZONES)
    assert layout.date_order == "dmy"
    rows = read(SourceFile("x.csv", text.encode()), replace(layout, date_order=""), zones=ZONES)
    assert rows.frame.height == 36
    assert any("day-month-year" in notice for notice in rows.notices)
    rows = read(SourceFile("x.csv", text.encode()), layout, zones=ZONES)
    assert rows.frame.height == 36
    assert rows.frame["at"].is_sorted()


def test_a_stated_order_is_followed_and_dates_that_do_not_fit_are_refused():
    text = "Reader,Badge,Time\nR3,0012,03/04/2026 07:05\nR3,0013,04/25/2026 07:06\n"
    layout = layout_of(SourceFile("x.csv", text.encode()), known_readers=ZONES)
    assert layout.date_order == "mdy"
    stated = Layout.from_toml(layout.to_toml().replace('"mdy"', '"dmy"'), "kept.toml")
    rows = read(SourceFile("x.csv", text.encode()), stated, zones=ZONES)
    assert rows.rejects["line"].to_list() == [3]
    assert "day-month-year" in rows.rejects["reason"][0]


def test_a_reader_whose_name_holds_anothers_is_told_from_it():
    content = b"number,name,enrolled on\n0042,Ida Marlow,2026-03-14\n7315,Rui Okoro,2026-03-15\n"
    known = ["DOCK", "DOCK-2", "GATE"]
    assert layout_of(SourceFile("enrolled_DOCK-2.csv", content), known_readers=known).reader == "DOCK-2"
    assert layout_of(SourceFile("enrolled_DOCK.csv", content), known_readers=known).reader == "DOCK"


def long_log(rows, at):
    return "Reader,Badge,Time,In/Out\n" + "".join(f"R3,{n % 7000:04},{at(n)},{'IO'[n % 2]}\n" for n in range(rows))


def test_a_long_file_is_known_from_some_of_its_lines_and_its_dates_from_all():
    # One day above twelve stands in the whole log, far from its beginning and its end.
    text = long_log(40_000, lambda n: f"{25 if n == 23_456 else n % 12 + 1:02}/03/2026 07:{n % 60:02}")
    file = SourceFile("log.csv", text.encode())
    (cut,) = sketch(file).cuts
    assert len(cut.grid.lines) < 5000
    layout = layout_of(file, known_readers=ZONES)
    assert (layout.table, layout.date_order) == ("punches", "dmy")
    assert read(file, layout, zones=ZONES).frame.height == 40_000


def test_a_name_that_one_object_of_many_has_is_a_column():
    lines = [f'{{"reader":"R3","badge":"{n:04}","timestamp":"2026-03-04T07:{n % 60:02}:00"}}' for n in range(20_000)]
    lines[13_579] = lines[13_579].replace("}", ',"score":12.5}')
    layout = layout_of(SourceFile("log.jsonl", "\n".join(lines).encode()), known_readers=ZONES)
    assert layout.columns["score"] == ("score",)


def test_a_file_is_cut_once_for_each_way_of_cutting(monkeypatch):
    cuts = []
    monkeypatch.setattr(source_file, "split", lambda *way: cuts.append(way[1:]) or split(*way))
    file = SourceFile("log.csv", SPANISH_LOG.encode())
    layout = layout_of(file, known_readers=ZONES)
    kept_for(file, layout)
    read(file, layout, zones=ZONES)
    assert len(cuts) == len(set(cuts))


def test_the_ways_that_are_weighed_grow_no_faster_than_the_columns(monkeypatch):
    calls = 0

    def counted(worth):
        nonlocal calls
        calls += 1
        return assign(worth)

    monkeypatch.setattr("evenhand.layouts.matching.assign", counted)
    weighed = []
    for more in (20, 40, 80):
        headers = ["Family name", "Given name", "Number", *(["Family name", "Extra", "Given name"] * more)[:more]]
        words = ["".join(parts) for parts in product("abcdefgh", repeat=4)]
        rows = [[*words[row::31][:2], str(4000 + row), *words[row::41][:more]] for row in range(30)]
        calls = 0
        propose(SourceFile("roster.csv", "\n".join(",".join(row) for row in [headers, *rows]).encode()))
        weighed.append(calls)
    assert weighed[2] <= 4.5 * weighed[0], weighed
    assert weighed[2] < 80 * 10, weighed


def test_a_superiors_name_beside_the_persons_is_no_part_of_it():
    names = ["Hervé Mia", "Garçon Zoé", "Moreau Léa", "Petit Eva", "Leroy Lou", "Roux Ada"]
    rows = "".join(f"{22000 + at},{name},Jean-Luc d'Artois,3\n" for at, name in enumerate(names))
    file = SourceFile("liste.csv", f"Num. badge,Nom Prén.,N+1,Prés.\n{rows}".encode())
    proposal = propose(file, Answers(reader="Quai"), KnownCells(readers=["Quai"]))
    assert "N+1" not in proposal.layout.columns.get("name", ())


def test_beside_a_family_name_a_name_is_the_given_one_even_where_it_has_two_words():
    people = ["Maria Pia,Ferrari", "Giulia Loredana,Rossi", "Anna Sofia,Lo Cascio", "Niccolò,Rossi"]
    rows = "".join(f"{at},{person},Officina\n" for at, person in enumerate(people, start=63814))
    file = SourceFile("dipendenti.csv", f"COD_DIP,nome,COGNOME,stabilimento\n{rows}".encode())
    assert propose(file).layout.columns["name"] == ("COGNOME", "nome")


def test_the_other_part_of_a_name_and_an_identifier_are_asked_for_where_headers_do_not_tell():
    people = ["Byrne,Declan", "Moran,Aoife", "Walsh,Niamh", "Doyle,Cian", "Kelly,Orla", "Nolan,Rory"]
    rows = "".join(f"{56204 + 7 * at},{person},{43722 + 31 * at}\n" for at, person in enumerate(people))
    file = SourceFile("staff.csv", f"Badge,Surname,Xq,Zt\n{rows}".encode())
    asked = {one.subject: one.choices[0].answer for one in propose(file).questions if one.about == "column"}
    assert asked == {"Xq": "name", "Zt": "person"}
    said = Answers(maps={"Xq": "name", "Zt": "person"})
    layout = propose(file, said).layout
    assert (set(layout.columns["name"]), layout.columns["person"]) == ({"Surname", "Xq"}, ("Zt",))
    assert propose(file, Answers(ignored=frozenset({"Xq", "Zt"}))).questions == ()


def test_a_column_of_times_of_day_speaks_for_a_log():
    rows = "".join(
        f"{73000 + at % 7};{3 + at // 20:02d}/06/2026;{6 + at % 12:02d}:05:{at % 60:02d};\n" for at in range(60)
    )
    file = SourceFile("registraties.txt", f"prik_nr;reg_datum;reg_tijd;vrije_tekst\n{rows}".encode())
    proposal = propose(file, Answers(dates="dmy"), KnownCells(readers=["001", "002"]))
    assert proposal.layout.table == "punches" or any(one.about == "table" for one in proposal.questions)
