"""Hashes, proofs and canonical texts of RFC 6962 and RFC 8785; each case names its source.

Cases that say "memory" were written down from memory; `rfc8785`, an independent implementation of the latter, agrees.
"""

from __future__ import annotations

import hashlib
import json
import struct
from pathlib import Path
from typing import Any

import pytest

from evenhand.terms.ledger.canonical import canonical
from evenhand.terms.ledger.merkle import (
    Span,
    consistency_spans,
    inclusion_spans,
    is_consistent,
    is_included,
    join,
    leaf_hash,
    levels,
    node_hash,
    nodes_of,
)

CASES: dict[str, Any] = {
    case["id"]: case for case in json.loads(Path(__file__).with_name("cases.json").read_text(encoding="utf-8"))
}
LEAVES = [leaf_hash(bytes.fromhex(leaf)) for leaf in CASES["LED-001"]["inputs"]["leaves_hex"]]


def of_kind(kind: str) -> list[Any]:
    found = [pytest.param(case, id=case["id"]) for case in CASES.values() if case["kind"] == kind]
    assert found
    return found


def hash_of(span: Span, leaves: list[bytes]) -> bytes:
    tree = list(levels(leaves))
    return join([tree[level][position] for level, position in nodes_of(span)])


def test_every_case_is_looked_at() -> None:
    kinds = {"merkle_root", "inclusion_proof", "consistency_proof", "hash", "jcs", "jcs_order", "jcs_numbers"}
    assert {case["kind"] for case in CASES.values()} == kinds | {"hash_chain"}
    assert all(case["source"] for case in CASES.values())


@pytest.mark.parametrize("size", range(9))
def test_roots(size: int) -> None:
    assert hash_of((0, size), LEAVES[:size]).hex() == CASES["LED-001"]["expected"]["roots"][size]


def test_leaf_and_node() -> None:
    case = CASES["LED-008"]
    given, expected = case["inputs"], case["expected"]
    assert leaf_hash(given["leaf"].encode()).hex() == expected["leaf_hash"]
    assert node_hash(given["left"].encode(), given["right"].encode()).hex() == expected["node_hash"]


@pytest.mark.parametrize("case", of_kind("inclusion_proof"))
def test_inclusion(case: Any) -> None:
    index, size = case["inputs"]["index"], case["inputs"]["size"]
    path = [hash_of(span, LEAVES[:size]) for span in inclusion_spans(index, size)]
    assert [one.hex() for one in path] == case["expected"]["path"]
    leaf, root = bytes.fromhex(case["expected"]["leaf_hash"]), bytes.fromhex(case["expected"]["root"])
    assert [at for at in range(size + 1) if is_included(at, size, leaf, path, root)] == [index]


@pytest.mark.parametrize("case", of_kind("consistency_proof"))
def test_consistency(case: Any) -> None:
    old, size = case["inputs"]["first"], case["inputs"]["second"]
    path = [hash_of(span, LEAVES[:size]) for span in consistency_spans(old, size)]
    assert [one.hex() for one in path] == case["expected"]["proof"]
    roots = [bytes.fromhex(case["expected"][name]) for name in ("root_first", "root_second")]
    assert is_consistent(old, size, *roots, path)
    assert not is_consistent(old, size, *reversed(roots), path)
    assert not is_consistent(old, size, *roots, path[:-1])


def test_the_sample_of_the_standard() -> None:
    case = CASES["LED-010"]
    made = canonical(case["inputs"]["value"])
    assert made.hex() == case["expected"]["utf8_hex"]
    assert hashlib.sha256(made).hexdigest() == case["expected"]["sha256"]


def test_names_are_ordered_by_their_utf_16_units() -> None:
    case = CASES["LED-011"]
    made = json.loads(canonical(case["inputs"]["object"]))
    assert list(made.values()) == case["expected"]["order_of_values"]


def test_numbers() -> None:
    case = CASES["LED-012"]
    for bits, text in zip(case["inputs"]["ieee754_hex"], case["expected"]["text"], strict=True):
        (value,) = struct.unpack(">d", bytes.fromhex(bits))
        assert canonical(value).decode() == text


def test_a_change_of_an_event_changes_the_root_and_every_link_after_it() -> None:
    case = CASES["LED-013"]
    events, expected = case["inputs"]["events"], case["expected"]

    def chain() -> list[str]:
        links, link = [], bytes(32)
        for event in events:
            link = hashlib.sha256(link + canonical(event)).digest()
            links.append(link.hex())
        return links

    assert chain() == expected["chain"]
    leaves = [leaf_hash(canonical(event)) for event in events]
    assert hash_of((0, 3), leaves).hex() == expected["merkle_root"]
    events[1]["person"] = "4812"
    assert chain() == expected["after_change_of_event_2_person_to_4812"]
    leaves[1] = leaf_hash(canonical(events[1]))
    assert hash_of((0, 3), leaves).hex() != expected["merkle_root"]
