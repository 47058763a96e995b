"""The invented sites and their readers, and the fault each reader was given."""

from __future__ import annotations

from dataclasses import dataclass, replace

from evenhand.terms.languages import told
from evenhand.terms.records import Refusal

__all__ = ["COMPANY", "SITES", "Reader", "hang_readers"]

COMPANY = "Brindlemoor Bread"
SITES = (
    ("Brindlemoor", "America/New_York"),
    ("Tallowby", "America/Chicago"),
    ("Greyfen", "America/Chicago"),
)


@dataclass(frozen=True)
class Reader:
    """One reader: `share` is the part of its site's people who use it first, `form` the form of its log.

    `resolution_s` is what its log keeps of the time; a `plain` log holds accepted punches without outcome and
    score; `supervisors` is how many the site has enrolled on it; `spare_digits` by how much it accepts longer
    numbers than the usual; `faults` are what the twin plants there.
    """

    name: str
    site: int
    place: str
    share: float
    form: str
    resolution_s: int = 1
    supervisors: int = 3
    spare_digits: int = 4
    faults: frozenset[str] = frozenset()


_EIGHT = (
    Reader("BM-OVEN", 0, "Oven hall", 0.5, "titled", faults=frozenset({"near_capacity"})),
    Reader("BM-PACK", 0, "Packing", 0.3, "semicolon", 60, faults=frozenset({"quiet"})),
    Reader("BM-YARD", 0, "Yard gate", 0.2, "fixed", faults=frozenset({"runs_off"})),
    Reader("TB-GATE", 1, "Mill gate", 0.4, "json_lines", faults=frozenset({"dirty"})),
    Reader("TB-SILO", 1, "Silo stairs", 0.35, "spanish", spare_digits=0, faults=frozenset({"broken_lines"})),
    Reader("TB-DOCK", 1, "Loading dock", 0.25, "tabs", 60, supervisors=1),
    Reader("GF-GATE", 2, "Cold store gate", 0.85, "fixed", faults=frozenset({"overlapping_exports"})),
    Reader("GF-DOCK", 2, "Cold dock", 0.15, "plain", supervisors=0, faults=frozenset({"set_back_late"})),
)


def hang_readers(count: int) -> list[Reader]:
    """Return `count` readers, the first eight as invented, more of them faultless copies.

    Raises Refusal for fewer than eight: each of these carries a fault of its own.
    """
    if count < len(_EIGHT):
        raise Refusal(
            told("The twin needs at least {least} readers, not {count}; ask for more.", least=len(_EIGHT), count=count)
        )
    more = [
        replace(
            _EIGHT[i % 7],  # never the small reader without supervisors
            name=f"{_EIGHT[i % 7].name}-{2 + i // 7}",
            place=f"{_EIGHT[i % 7].place} {2 + i // 7}",
            spare_digits=4,
            supervisors=3,
            faults=frozenset(),
        )
        for i in range(count - len(_EIGHT))
    ]
    return [*_EIGHT, *more]
