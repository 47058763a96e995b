"""A tree of hashes over the ledger's entries: its root says of every entry what it is and where it stands.

A complete subtree of 2^level leaves is a node, named by its level and its position on that level, both from 0. Nodes
never change as leaves are added, so each is kept once; a root or a proof needs some twenty of a million leaves.

Source: RFC 6962 section 2.1 (hashes, proofs), RFC 9162 section 2.1.3 and 2.1.4 (how proofs are checked)
"""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterator, Sequence
from itertools import accumulate

__all__ = [
    "Node",
    "Span",
    "completed",
    "consistency_spans",
    "inclusion_spans",
    "is_consistent",
    "is_included",
    "join",
    "leaf_hash",
    "levels",
    "node_hash",
    "nodes_of",
]

Node = tuple[int, int]
"""The level and the position of a complete subtree."""
Span = tuple[int, int]
"""The first leaf of a subtree, and the first leaf after it."""


def leaf_hash(content: bytes) -> bytes:
    """Return the hash of a leaf."""
    return hashlib.sha256(b"\x00" + content).digest()


def node_hash(left: bytes, right: bytes) -> bytes:
    """Return the hash of a node above two others."""
    return hashlib.sha256(b"\x01" + left + right).digest()


def completed(size: int, leaf: bytes, node: Callable[[Node], bytes]) -> Iterator[tuple[Node, bytes]]:
    """Yield each node above the leaves that the leaf added to a tree of `size` leaves completes, with its hash.

    `node` returns the hash of one that is complete already; those of level 0 are the leaves.
    """
    level, position, hashed = 0, size, leaf
    while position & 1:
        hashed = node_hash(node((level, position - 1)), hashed)
        level, position = level + 1, position >> 1
        yield (level, position), hashed


def levels(leaves: Sequence[bytes]) -> Iterator[list[bytes]]:
    """Yield the hashes of all complete subtrees, level by level, the leaves first."""
    level = list(leaves)
    while level:
        yield level
        level = [node_hash(left, right) for left, right in zip(level[::2], level[1::2], strict=False)]


def nodes_of(span: Span) -> list[Node]:
    """Return the complete subtrees of which a subtree of the tree, complete or at its right edge, is made."""
    start, end = span
    found: list[Node] = []
    while start < end:
        level = (end - start).bit_length() - 1
        found.append((level, start >> level))
        start += 1 << level
    return found


def join(hashes: Sequence[bytes]) -> bytes:
    """Return the hash of a subtree from those of `nodes_of`; of nothing, the root of an empty tree."""
    if not hashes:
        return hashlib.sha256(b"").digest()
    return list(accumulate(reversed(hashes), lambda right, left: node_hash(left, right)))[-1]


def inclusion_spans(index: int, size: int) -> list[Span]:
    """Return the subtrees whose hashes prove that leaf `index` is in the tree of the first `size` leaves.

    Raises ValueError where there is no such leaf.
    """
    if not 0 <= index < size:
        raise ValueError(f"there is no leaf {index} among {size}")
    found: list[Span] = []
    start, end = 0, size
    while end - start > 1:
        middle = start + _split(end - start)
        if index < middle:
            found.append((middle, end))
            end = middle
        else:
            found.append((start, middle))
            start = middle
    return found[::-1]


def consistency_spans(old: int, size: int) -> list[Span]:
    """Return the subtrees whose hashes prove that the tree of `size` leaves begins with that of `old` leaves.

    Raises ValueError where it is no larger, or the old one is empty: of that nothing can be proved.
    """
    if not 0 < old <= size:
        raise ValueError(f"a tree of {size} leaves does not go on from one of {old}")
    found: list[Span] = []
    start, end, is_whole = 0, size, True
    while end != old:
        middle = start + _split(end - start)
        if old <= middle:
            found.append((middle, end))
            end = middle
        else:
            found.append((start, middle))
            start, is_whole = middle, False
    if not is_whole:
        found.append((start, end))
    return found[::-1]


def is_included(index: int, size: int, leaf: bytes, path: Sequence[bytes], root: bytes) -> bool:
    """Whether `path` proves that the leaf of this hash is number `index` of the `size` leaves under `root`."""
    if not 0 <= index < size:
        return False
    at, last, hashed = index, size - 1, leaf
    for sibling in path:
        if not last:
            return False
        if at & 1 or at == last:
            hashed = node_hash(sibling, hashed)
            while not at & 1 and at:
                at, last = at >> 1, last >> 1
        else:
            hashed = node_hash(hashed, sibling)
        at, last = at >> 1, last >> 1
    return not last and hashed == root


def is_consistent(old: int, size: int, old_root: bytes, root: bytes, path: Sequence[bytes]) -> bool:
    """Whether `path` proves that the `size` leaves under `root` begin with the `old` ones under `old_root`."""
    if not 0 < old <= size:
        return False
    if old == size:
        return not path and old_root == root
    hashes = list(path) if old & (old - 1) else [old_root, *path]
    if not hashes:
        return False
    at, last = old - 1, size - 1
    while at & 1:
        at, last = at >> 1, last >> 1
    before = now = hashes[0]
    for sibling in hashes[1:]:
        if not last:
            return False
        if at & 1 or at == last:
            before, now = node_hash(sibling, before), node_hash(sibling, now)
            while not at & 1 and at:
                at, last = at >> 1, last >> 1
        else:
            now = node_hash(now, sibling)
        at, last = at >> 1, last >> 1
    return not last and (before, now) == (old_root, root)


def _split(count: int) -> int:
    """Return the largest power of two below `count`, which is above 1."""
    return 1 << ((count - 1).bit_length() - 1)
