"""A second pair of times in the rows of a plan is not left out in silence. Common practice, no source."""

import pytest

from evenhand.layouts import Answers, SourceFile, propose
from evenhand.layouts.proposal import KnownCells


def notices(headers: str, cells: str, **said: object) -> str:
    first, last = headers.split(",")[:2]
    rows = [f"P{310 + 7 * (at % 5)},2026-11-{16 + at // 5},{cells}" for at in range(20)]
    file = SourceFile("plan.csv", "\n".join([f"employee,date,{headers}", *rows, ""]).encode())
    maps = {first: "starts_at", last: "ends_at"}
    return " ".join(propose(file, Answers(table="schedules", maps=maps, **said), KnownCells()).notices)


@pytest.mark.parametrize("headers", ["in 1,out 1,in 2,out 2", "start,end,start2,end2", "Von,Bis,Von 2,Bis 2"])
def test_a_second_pair_of_times_is_named(headers: str) -> None:
    said = notices(headers, "07:00,11:00,12:00,16:00")
    assert all(f"'{header}'" in said for header in headers.split(",")[2:])


def test_a_break_and_what_a_person_left_out_are_not() -> None:
    assert notices("start,end,break", "07:00,11:00,00:30") == ""
    assert notices("in 1,out 1,in 2", "07:00,11:00,12:00", ignored=("in 2",)) == ""
