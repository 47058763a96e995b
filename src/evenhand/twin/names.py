"""Invented people: names, telephone numbers and addresses that belong to nobody."""

from __future__ import annotations

import numpy as np

__all__ = ["address", "people_names", "phone"]

FIRST = (
    "Adlen", "Brisa", "Calum", "Dorrit", "Éloïn", "Fenna", "Gundar", "Hestia", "Ilvar", "Joriet", "Kessa",
    "Lorvan", "Mirel", "Nandor", "Odile", "Perrin", "Quilla", "Ramón", "Sunniva", "Tobren", "Ursel", "Valko",
    "Wrenna", "Ximén", "Yorick", "Zelda", "Anselm", "Bodil", "Corvin", "Delphé", "Emeric", "Fjóla", "Garrow",
    "Hadley", "Inès", "Jarek", "Kolby", "Lunete", "Marlo", "Noémie",
)  # fmt: skip
LAST = (
    "Abelund", "Barrowick", "Castañer", "Dunmarsh", "Eskelby", "Fairrow", "Grünwalder", "Holmquay", "Istrander",
    "Jessamy", "Kestrelby", "Lockmere", "Muñarriz", "Nethercot", "Oakhollow", "Pellandine", "Quarleston",
    "Ridgeway", "Søndermark", "Tarnfield", "Ulvestad", "Vantongeren", "Wexcombe", "Yarrowby", "Zetterholm",
    "Applegarth", "Brackenby", "Çelmar", "Dovecote", "Ellerwick", "Fenwright", "Gåsland", "Hartsmere",
    "Inglebright", "Juniperhill", "Kirkhallow", "Larkenby", "Mossgrave", "Norrendal", "Ottershaw",
)  # fmt: skip
STREETS = ("Kiln Lane", "Millrace Road", "Rye Street", "Granary Way", "Cooper's Row", "Sluice Avenue", "Barley Court")


def people_names(rng: np.random.Generator, people: int) -> list[str]:
    """Return invented names `Last, First`; beyond 1,600 people a middle initial tells them apart."""
    pairs = [f"{last}, {first}" for last in LAST for first in FIRST]
    order = rng.permutation(len(pairs))
    names = []
    for i in range(people):
        round_, at = divmod(i, len(pairs))
        initial = f" {chr(ord('A') + (round_ - 1) % 26)}." if round_ else ""
        names.append(pairs[order[at]] + initial)
    return names


def phone(exchange: int, last_four: str) -> str:
    """Return a telephone number in the area code 555, which no place has."""
    return f"555-{exchange:03d}-{last_four}"


def address(house: str, street: int) -> str:
    """Return a street address."""
    return f"{house} {STREETS[street % len(STREETS)]}"
