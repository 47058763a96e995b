"""The frames that are handed on: strays, and everybody who could own them."""

from __future__ import annotations

from evenhand.linkage.bits.match_weights import Floats
from evenhand.linkage.bits.scoring import Seen, total_bits
from evenhand.linkage.bits.weights import AGREEMENTS, Weights
from evenhand.linkage.seen.pairs import Pairs
from evenhand.linkage.seen.roster import Roster
from evenhand.linkage.seen.strays import Strays
from evenhand.linkage.tables import CANDIDATES, PARTS, STRAYS
from evenhand.linkage.together.solve import Flags
from evenhand.terms.columns import Frame

__all__ = ["candidates_frame", "strays_frame"]


def strays_frame(strays: Strays, nobody: Floats) -> Frame:
    """Return STRAYS, by reader and number, with the probability that nobody on the roster owns each."""
    last = strays.until - 1
    return STRAYS.frame(
        {
            "stray": strays.name,
            "reader": strays.reader,
            "number": strays.number,
            "holder": [holder or None for holder in strays.holder],
            "punches": strays.until - strays.first,
            "shifts": strays.shift_until - strays.shift_first,
            "first_at": strays.at[strays.first],
            "last_at": strays.at[last],
            "minutes": strays.minutes,
            "nobody": nobody,
        }
    )


def candidates_frame(
    strays: Strays,
    roster: Roster,
    pairs: Pairs,
    seen: Seen,
    bits: dict[str, Floats],
    chance: Floats,
    by_itself: Floats,
    is_best: Flags,
    weights: Weights,
) -> Frame:
    """Return CANDIDATES, by stray, the likeliest first."""
    kind, meant = _likeliest_kind(seen, weights, len(pairs.person))
    counts = {f"{name}_{what}": of[name] for name in AGREEMENTS for what, of in (("k", seen.k), ("n", seen.n))}
    frame = CANDIDATES.frame(
        {
            "stray": [strays.name[at] for at in pairs.stray.tolist()],
            "person": [roster.person[at] for at in pairs.person.tolist()],
            "probability": chance,
            "alone": by_itself,
            "is_best": is_best,
            "bits": total_bits(bits),
            **{part: bits[part] for part in PARTS},
            "kind": kind,
            "meant": meant,
            **counts,
            "minutes_off": seen.times.minutes_off,
            "impossible": seen.impossible,
            "unemployed": seen.unemployed,
        }
    )
    return frame.sort("stray", "probability", "bits", "person", descending=[False, True, True, False])


def _likeliest_kind(seen: Seen, weights: Weights, size: int) -> tuple[list[str | None], list[str | None]]:
    kind: list[str | None] = [None] * size
    meant: list[str | None] = [None] * size
    best = [0.0] * size
    for pair, name, likelihood, source in zip(
        seen.mechanism[0].tolist(), seen.mechanism[1], seen.mechanism[2].tolist(), seen.mechanism[3], strict=True
    ):
        share = weights.mechanisms[name] * likelihood
        if share > best[pair]:
            best[pair], kind[pair], meant[pair] = share, name, source
    return kind, meant
