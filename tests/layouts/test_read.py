"""What a file as a whole gives: values, notices, and the same rows by every way of writing them."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evenhand.layouts import KnownCells, Layout, SourceFile, propose, read
from evenhand.terms.records import Refusal

ZONES = {"North Gate": "America/Chicago", "R3": "Europe/Madrid"}
COLUMNS = {name: (name,) for name in ("reader", "number", "at", "direction", "outcome", "score")}
LOG = Layout("punches", "delimited", COLUMNS, delimiter=",", header=1)
HEADER = "reader,number,at,direction,outcome,score\n"


def log(*lines, layout=LOG):
    return read(SourceFile("log.csv", (HEADER + "".join(f"{line}\n" for line in lines)).encode()), layout, zones=ZONES)


def test_identical_rows_are_all_kept():
    row = "R3,0012,2026-03-04 07:05,in,accepted,12"
    assert log(row, row, row).frame.height == 3


def test_a_layout_that_says_the_zone_of_its_times_places_them_by_it():
    row = "R3,0012,2026-03-04 07:05,in,accepted,12"
    [madrid] = log(row).frame["at"]
    [tokyo] = log(row, layout=replace(LOG, zone="Asia/Tokyo")).frame["at"]
    # Madrid is an hour ahead of UTC in winter, Tokyo nine.
    assert madrid - tokyo == 8 * 3600


def test_the_header_again_in_the_middle_is_said_to_be_that():
    rows = log("R3,0012,2026-03-04 07:05,in,accepted,12", HEADER.strip(), "R3,0012,2026-03-04 07:06,in,accepted,12")
    assert rows.rejects.select("line", "reason").rows() == [(3, "this is the header again, not a row; nothing to do")]


def test_a_log_without_outcomes_does_not_say_them():
    layout = Layout(
        "punches", "delimited", {k: COLUMNS[k] for k in ("reader", "number", "at")}, delimiter=",", header=1
    )
    assert log("R3,0012,2026-03-04 07:05,in,,", layout=layout).frame["outcome"].to_list() == [None]


def test_an_empty_outcome_is_refused_until_the_layout_says_what_it_means():
    line = "R3,0012,2026-03-04 07:05,in,,"
    assert "[words.outcome]" in log(line).rejects["reason"][0]
    said = Layout("punches", "delimited", COLUMNS, delimiter=",", header=1, words={"outcome": {"": "accepted"}})
    assert log(line, layout=said).frame["outcome"].to_list() == ["accepted"]


def test_words_of_the_layout_go_before_our_own():
    layout = Layout(
        "punches", "delimited", COLUMNS, delimiter=",", header=1, words={"direction": {"0": "out", "arr": "in"}}
    )
    rows = log(
        "R3,1,2026-03-04 07:05,0,ok,", "R3,1,2026-03-04 07:05,ARR,ok,", "R3,1,2026-03-04 07:05,1,ok,", layout=layout
    )
    assert rows.frame["direction"].to_list() == ["out", "in", "out"]
    assert any("'1' as out" in notice and "'0'" not in notice for notice in rows.notices)


def test_a_reader_spelt_otherwise_is_taken_for_the_known_one_and_said_so():
    rows = log("NORTH  gate,0012,2026-03-04 07:05,in,ok,")
    assert rows.frame["reader"].to_list() == ["North Gate"]
    assert any("'North Gate'" in notice for notice in rows.notices)


def test_missing_zeros_are_noticed_by_their_width():
    lines = [f"R3,{n},2026-03-04 07:05,in,ok," for n in [*range(10_001, 10_090), 123, 4567]]
    notice = next(n for n in log(*lines).notices if "number_width" in n)
    assert "2 of 91" in notice
    assert "number_width = 5" in notice


def test_zeros_that_are_there_are_kept_and_not_noticed():
    rows = log(*[f"R3,{n:05},2026-03-04 07:05,in,ok," for n in range(90, 200)])
    assert rows.frame["number"][0] == "00090"
    assert rows.notices == ()


@pytest.mark.parametrize(
    ("text", "decimal", "value"),
    [("12.5", ".", 12.5), ("12,5", ",", 12.5), ("1,234.5", ".", 1234.5), ("1.234,5", ",", 1234.5), ("12,5", ".", None)]
    + [(bad, ".", None) for bad in ("nan", "inf", "1e3", "twelve", "0x1F", "1_000", "١٢")],
)
def test_scores_are_plain_decimals(text, decimal, value):
    layout = Layout("punches", "delimited", COLUMNS, delimiter=";", header=1, decimal=decimal)
    content = HEADER.replace(",", ";") + f"R3;0012;2026-03-04 07:05;in;ok;{text}\n"
    rows = read(SourceFile("f.csv", content.encode()), layout, zones=ZONES)
    assert rows.frame["score"].to_list() == ([] if value is None else [value])
    assert rows.rejects["column"].to_list() == (["score"] if value is None else [])


def test_money_is_exact_and_more_than_four_decimals_are_refused():
    layout = Layout("people", "delimited", {"name": (1,), "number": (2,), "hourly_rate": (3,)}, delimiter=";", width=3)
    rows = read(SourceFile("f.csv", "A;1;21.3750\nB;2;0.1\nC;3;€ 12.50\nD;4;1.00005\n".encode()), layout, zones={})
    assert [str(rate) for rate in rows.frame["hourly_rate"]] == ["21.3750", "0.1000", "12.5000"]
    assert rows.rejects["line"].to_list() == [4]


def test_a_zone_of_a_reader_must_exist():
    layout = Layout("readers", "delimited", {"reader": (1,), "site": (2,), "zone": (3,)}, delimiter=",", width=3)
    rows = read(SourceFile("f.csv", b"A,Mill,America/Chicago\nB,Mill,Central\n"), layout, zones={})
    assert rows.frame["reader"].to_list() == ["A"]
    assert "IANA" in rows.rejects["reason"][0]


SHIFTS = Layout(
    "schedules",
    "delimited",
    {"person": ("person",), "starts_at": ("day", "from"), "ends_at": ("day", "to")},
    delimiter=",",
    header=1,
)


def shifts(*lines, **zones):
    content = "person,day,from,to\n" + "".join(f"{line}\n" for line in lines)
    return read(SourceFile("s.csv", content.encode()), SHIFTS, zones={}, **zones)


def test_shifts_are_in_the_zone_of_the_persons_site_and_may_end_the_next_day():
    rows = shifts(
        "E1,2026-03-04,22:00,06:00",
        "E2,2026-03-04,06:00,14:00",
        person_zones={"E1": "America/Chicago", "E2": "Europe/Madrid"},
    )
    # Chicago is UTC-6 and Madrid UTC+1: 22:00 there is 04:00Z the next day, 06:00 is 05:00Z: 23 hours apart.
    assert rows.frame["starts_at"][0] - rows.frame["starts_at"][1] == 23 * 3600
    assert (rows.frame["ends_at"] - rows.frame["starts_at"]).to_list() == [8 * 3600] * 2
    assert "Shifts that end on the day after the date in their row: 1." in rows.notices


def test_a_person_nobody_knows_gets_the_one_zone_of_all_sites_or_is_refused():
    line = "E9,2026-03-04,06:00,14:00"
    assert shifts(line, site_zones={"Mill": "Europe/Madrid", "Yard": "Europe/Madrid"}).frame.height == 1
    assert "E9" in shifts(line, site_zones={"Mill": "Europe/Madrid", "Yard": "Europe/Lisbon"}).rejects["reason"][0]


def test_a_shift_that_ends_before_it_starts_is_refused():
    layout = Layout(
        "schedules", "delimited", {"person": (1,), "starts_at": (2,), "ends_at": (3,)}, delimiter=",", width=3
    )
    rows = read(
        SourceFile("s.csv", b"E1,2026-03-04 22:00,2026-03-04 06:00\n"),
        layout,
        zones={},
        person_zones={"E1": "Europe/Madrid"},
    )
    assert rows.rejects["line"].to_list() == [1]


@pytest.mark.parametrize("time", ["00:00", "07:00"])
def test_a_shift_that_ends_as_it_starts_is_a_day_off_or_24_hours_and_is_refused(time):
    # Common practice, no source: plans write a day off as 00:00-00:00, and some a shift of 24 hours as 07:00-07:00.
    rows = shifts(f"E1,2026-03-04,{time},{time}", "E1,2026-03-05,00:00,24:00", site_zones={"Mill": "Europe/Madrid"})
    assert (rows.frame["ends_at"] - rows.frame["starts_at"]).to_list() == [24 * 3600]
    assert rows.rejects["line"].to_list() == [2]
    assert "starts and ends at the same time" in rows.rejects["reason"][0]


def test_progress_runs_from_nothing_to_all():
    seen = []
    content = (HEADER + "R3,1,2026-03-04 07:05,in,ok,\n").encode()
    read(SourceFile("f.csv", content), LOG, zones=ZONES, progress=lambda stage, share: seen.append((stage, share)))
    assert [share for _, share in seen] == sorted(share for _, share in seen)
    assert (seen[0][1], seen[-1][1]) == (0.0, 1.0)
    assert all(stage for stage, _ in seen)


# ---- what holds of every file

pieces = st.sampled_from(
    [b"R3", b"North Gate", b"0012", b"2026-03-04 07:05", b"03/04/2026 7:05 PM", b"in", b"ok", b"12", b",", b",", b",",
     b"\n", b"\r\n", b'"', b'""', b"\0", b"\xff", b"\xc3\xa9", b"\xe9", b" ", b";", b"\t", b"Total", b"\r", b"\x1a"]
)  # fmt: skip


@given(st.lists(st.one_of(pieces, st.binary(max_size=3)), max_size=60).map(b"".join))
@settings(max_examples=250, deadline=None)
def test_rows_taken_and_refused_add_up_whatever_bytes_come(body):
    try:
        rows = read(SourceFile("f.csv", HEADER.encode() + body), LOG, zones=ZONES)
    except Refusal as refused:
        assert str(refused).startswith("f.csv")
        return
    assert rows.read == rows.frame.height + rows.rejects.height
    assert len(rows.lines) == rows.frame.height
    rows.table.check(rows.frame)
    places = [*rows.lines.tolist(), *rows.rejects["line"].to_list()]
    assert len(set(places)) == len(places)


@given(st.binary(max_size=400))
@settings(max_examples=150, deadline=None)
def test_proposing_never_fails_but_by_a_refusal(content):
    try:
        layout = propose(SourceFile("f.bin", content), known=KnownCells(readers=list(ZONES))).layout
    except Refusal as refused:
        assert str(refused).startswith("f.bin")
        return
    assert Layout.from_toml(layout.to_toml(), "kept") == layout


@given(st.permutations(list(COLUMNS)), st.randoms(use_true_random=False))
@settings(max_examples=25, deadline=None)
def test_columns_in_another_order_change_nothing(order, draw):
    records = [
        dict(
            zip(
                COLUMNS,
                (
                    f"R{draw.choice('39')}",
                    f"{n:04}",
                    f"2026-03-04 07:{n}",
                    "X" if n == 20 else draw.choice("IO"),
                    "ok",
                    n,
                ),
                strict=True,
            )
        )
        for n in range(10, 40)
    ]

    def written(names):
        return "".join(
            ";".join(str(cell) for cell in row) + "\n" for row in [names, *([r[n] for n in names] for r in records)]
        )

    texts = [written(list(COLUMNS)).encode(), written(list(order)).encode()]
    one, other = (
        read(
            SourceFile("f", text),
            propose(SourceFile("f", text), known=KnownCells(readers=list(ZONES))).layout,
            zones=ZONES,
        )
        for text in texts
    )
    assert one.frame.equals(other.frame)
    assert one.rejects.select("line", "column", "reason").equals(other.rejects.select("line", "column", "reason"))


def test_a_log_sorted_by_number_tells_nothing_of_the_hour_that_occurs_twice():
    """The same punches in order of time and in order of numbers are the same instants, and the same lines are named."""
    rows = [
        (f"2026-10-{day:02d} {out}", number)
        for number, out in (("0041", "02:22:08"), ("0042", "02:11:37"), ("0043", "02:31:02"))
        for day in range(19, 31)
    ]

    def taken(ordered):
        text = "Reader,Number,Time\n" + "".join(f"GATE,{number},{at}\n" for at, number in ordered)
        layout = Layout(
            "punches",
            "delimited",
            {"reader": ("Reader",), "number": ("Number",), "at": ("Time",)},
            delimiter=",",
            header=1,
        )
        return read(SourceFile("log.csv", text.encode()), layout, zones={"GATE": "Europe/Berlin"})

    by_number, by_time = taken(rows), taken(sorted(rows))
    assert set(by_number.frame.select("number", "at").rows()) == set(by_time.frame.select("number", "at").rows())
    assert any("occurs twice" in notice and "line 8, 20, 32" in notice for notice in by_number.notices)
