"""Which people and readers can be compared at all: groups joined by somebody's use of two readers."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

__all__ = ["groups_of", "sharing_groups"]

Ints = npt.NDArray[np.int64]


def groups_of(person: Ints, reader: Ints, people: int, readers: int) -> tuple[Ints, int]:
    """Return the group of each node, people first and then readers, and how many groups there are.

    The rank of a design with person and reader effects is nodes minus groups: across groups only the prior speaks.
    """
    from scipy.sparse import csr_array
    from scipy.sparse.csgraph import connected_components

    n = people + readers
    edges = csr_array((np.ones(len(person)), (person, people + reader)), shape=(n, n))
    count, labels = connected_components(edges, directed=False)
    return labels.astype(np.int64), int(count)


def sharing_groups(person: Ints, reader: Ints, people: int, readers: int, *, fewest: int, share: float) -> Ints:
    """Return the group of each reader; two belong together if enough people use both.

    Enough are `fewest`, and `share` of the people of the one that has fewer: a handful of odd days, or of numbers
    that two people key, joins nothing.
    """
    from scipy.sparse import csr_array
    from scipy.sparse.csgraph import connected_components

    uses = csr_array((np.ones(len(person)), (person, reader)), shape=(people, readers))
    uses.data[:] = 1.0
    both = (uses.T @ uses).toarray()
    shared = both >= np.maximum(fewest, share * np.minimum.outer(np.diag(both), np.diag(both)))
    return np.asarray(connected_components(shared, directed=False)[1], dtype=np.int64)
