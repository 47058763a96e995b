"""Two people under each other's number at a reader: a mill whose reader holds their names, told once wherever it is."""

from __future__ import annotations

from dataclasses import replace

import pytest

from evenhand.jobs.stray_proposals import Candidate, StrayProposal, StrayPunch
from evenhand.jobs.strays import _paired, once_each


def proposal(reader: str, number: str, holder: str, likeliest: str, probability: float = 0.99) -> StrayProposal:
    best = Candidate(likeliest, likeliest, probability, 7.0, (), True, frozenset())
    return StrayProposal(
        stray=f"{reader}/{number}",
        reader=reader,
        zone="UTC",
        number=number,
        holder=holder,
        holder_name=holder,
        minutes=480,
        shifts=1,
        nobody=1 - probability,
        others=0.0,
        punches=(StrayPunch(0, 0, "in"),),
        candidates=(best,),
        note="",
    )


ANAS, BENS = proposal("GATE", "4821", "Ana", "Ben"), proposal("GATE", "7360", "Ben", "Ana")


def test_each_half_of_a_swap_names_the_other_and_both_are_told_once() -> None:
    other = proposal("GATE", "5003", "", "Cy")
    found = _paired((ANAS, other, BENS))
    assert [one.swapped_with for one in found] == ["GATE/7360", "", "GATE/4821"]
    assert [(one.stray, half and half.stray) for one, half in once_each(found)] == [
        ("GATE/4821", "GATE/7360"),
        ("GATE/5003", None),
    ]


@pytest.mark.parametrize(
    "half",
    [
        replace(BENS, reader="DOCK", stray="DOCK/7360"),  # at another reader
        proposal("GATE", "7360", "Ben", "Cy"),  # somebody else's hand
        proposal("GATE", "7360", "Ben", "Ana", 0.4),  # nobody is likelier
    ],
)
def test_what_is_no_swap_is_told_one_by_one(half: StrayProposal) -> None:
    found = _paired((ANAS, half))
    assert [one.swapped_with for one in found] == ["", ""]
    assert len(once_each(found)) == 2
