"""Proofs over trees of any size, held against the recursive definitions of RFC 6962 section 2.1."""

from __future__ import annotations

import hashlib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evenhand.terms.ledger.merkle import (
    Span,
    completed,
    consistency_spans,
    inclusion_spans,
    is_consistent,
    is_included,
    join,
    leaf_hash,
    levels,
    nodes_of,
)

SIZES = st.integers(1, 150)


def split(count: int) -> int:
    k = 1
    while 2 * k < count:
        k *= 2
    return k


def mth(leaves: list[bytes]) -> bytes:
    """MTH, as the standard writes it."""
    if not leaves:
        return hashlib.sha256(b"").digest()
    if len(leaves) == 1:
        return hashlib.sha256(b"\x00" + leaves[0]).digest()
    k = split(len(leaves))
    return hashlib.sha256(b"\x01" + mth(leaves[:k]) + mth(leaves[k:])).digest()


def audit_path(m: int, leaves: list[bytes]) -> list[bytes]:
    """PATH(m, D[n]), as the standard writes it."""
    if len(leaves) == 1:
        return []
    k = split(len(leaves))
    if m < k:
        return [*audit_path(m, leaves[:k]), mth(leaves[k:])]
    return [*audit_path(m - k, leaves[k:]), mth(leaves[:k])]


def subproof(m: int, leaves: list[bytes], *, is_whole: bool) -> list[bytes]:
    """SUBPROOF(m, D[n], b), as the standard writes it."""
    if m == len(leaves):
        return [] if is_whole else [mth(leaves)]
    k = split(len(leaves))
    if m <= k:
        return [*subproof(m, leaves[:k], is_whole=is_whole), mth(leaves[k:])]
    return [*subproof(m - k, leaves[k:], is_whole=False), mth(leaves[:k])]


def leaves_of(size: int) -> list[bytes]:
    return [b"leaf %d" % place for place in range(size)]


def hash_of(span: Span, tree: list[list[bytes]]) -> bytes:
    return join([tree[level][position] for level, position in nodes_of(span)])


@given(SIZES)
def test_the_root_is_that_of_the_definition(size: int) -> None:
    leaves = leaves_of(size)
    assert hash_of((0, size), list(levels([leaf_hash(leaf) for leaf in leaves]))) == mth(leaves)


@given(SIZES)
def test_adding_leaf_by_leaf_gives_the_nodes_of_the_whole_tree(size: int) -> None:
    leaves = [leaf_hash(leaf) for leaf in leaves_of(size)]
    kept: dict[tuple[int, int], bytes] = {}
    for place, leaf in enumerate(leaves):
        kept[0, place] = leaf
        kept |= dict(completed(place, leaf, kept.__getitem__))
    whole = {
        (level, position): hashed
        for level, hashes in enumerate(levels(leaves))
        for position, hashed in enumerate(hashes)
    }
    assert kept == whole


@given(SIZES, st.data())
def test_an_inclusion_proof_is_that_of_the_definition_and_proves_its_leaf_alone(size: int, data: st.DataObject) -> None:
    index = data.draw(st.integers(0, size - 1))
    leaves = leaves_of(size)
    hashed = [leaf_hash(leaf) for leaf in leaves]
    tree, root = list(levels(hashed)), mth(leaves)
    path = [hash_of(span, tree) for span in inclusion_spans(index, size)]
    assert path == audit_path(index, leaves)
    assert is_included(index, size, hashed[index], path, root)
    other = data.draw(st.integers(0, size - 1).filter(lambda one: one != index)) if size > 1 else None
    if other is not None:
        assert not is_included(other, size, hashed[index], path, root)
        assert not is_included(index, size, hashed[other], path, root)
        place = data.draw(st.integers(0, len(path) - 1))
        assert not is_included(index, size, hashed[index], [*path[:place], b"\0" * 32, *path[place + 1 :]], root)
        assert not is_included(index, size, hashed[index], path[:-1], root)
    assert not is_included(index, size, hashed[index], [*path, root], root)
    assert not is_included(size, size, hashed[index], path, root)


@given(SIZES, st.data())
def test_a_consistency_proof_is_that_of_the_definition_and_proves_nothing_else(size: int, data: st.DataObject) -> None:
    old = data.draw(st.integers(1, size))
    leaves = leaves_of(size)
    tree = list(levels([leaf_hash(leaf) for leaf in leaves]))
    path = [hash_of(span, tree) for span in consistency_spans(old, size)]
    assert path == ([] if old == size else subproof(old, leaves, is_whole=True))
    before, now = mth(leaves[:old]), mth(leaves)
    assert is_consistent(old, size, before, now, path)
    altered = [*leaves]
    altered[data.draw(st.integers(0, old - 1))] = b"another"
    assert not is_consistent(old, size, mth(altered[:old]), now, path)
    assert not is_consistent(old, size, before, mth(altered), path)
    if path:
        assert not is_consistent(old, size, before, now, path[:-1])
    assert not is_consistent(old, size, before, now, [*path, now])


@pytest.mark.parametrize(("index", "size"), [(-1, 4), (4, 4), (0, 0)])
def test_of_a_leaf_that_is_not_there_nothing_is_proved(index: int, size: int) -> None:
    with pytest.raises(ValueError, match="no leaf"):
        inclusion_spans(index, size)


@pytest.mark.parametrize(("old", "size"), [(0, 4), (5, 4)])
def test_a_tree_goes_on_from_a_smaller_one_that_is_not_empty(old: int, size: int) -> None:
    with pytest.raises(ValueError, match="does not go on"):
        consistency_spans(old, size)
    assert not is_consistent(old, size, b"", b"", [])
