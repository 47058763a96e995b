"""Files that are no table of ours, of the second part."""

from __future__ import annotations

import random
from datetime import date, timedelta

__all__ = ["STRANGERS"]

Found = tuple[str, list[str], list[list[str]]]


def _day(rng: random.Random, pattern: str) -> str:
    return (date(2026, 1, 1) + timedelta(days=rng.randint(0, 270))).strftime(pattern)


def rooms(rng: random.Random) -> Found:
    """Return bookings of meeting rooms."""
    rows = [
        [
            rng.choice(("Oak", "Elm", "Ash")),
            _day(rng, "%d/%m/%Y"),
            f"{rng.randint(8, 12):02d}:00",
            f"{rng.randint(13, 17):02d}:30",
            rng.choice(("Budget", "Safety talk", "Interview")),
        ]
        for _ in range(rng.randint(8, 60))
    ]
    return "room bookings", ["Room", "Date", "From", "To", "Subject"], rows


def meters(rng: random.Random) -> Found:
    """Return readings of electricity meters."""
    rows = [
        [
            f"M{rng.randint(1, 9)}",
            _day(rng, "%Y-%m-%d"),
            f"{rng.randint(0, 23):02d}:15",
            f"{rng.randint(1_000, 90_000)}",
            "kWh",
        ]
        for at in range(rng.randint(20, 150))
    ]
    return "meter readings", ["Meter", "Date", "Time", "Reading", "Unit"], rows


def assets(rng: random.Random) -> Found:
    """Return a list of equipment."""
    rows = [
        [
            f"A-{rng.randint(1000, 9999)}",
            rng.choice(("Bohrmaschine", "Leiter", "Drucker")),
            f"Raum {rng.randint(1, 40)}",
            _day(rng, "%d.%m.%Y"),
            f"{rng.randint(50, 900)},00",
        ]
        for _ in range(rng.randint(10, 60))
    ]
    return "Inventar", ["Inventarnummer", "Gegenstand", "Raum", "Anschaffung", "Wert"], rows


def complaints(rng: random.Random) -> Found:
    """Return complaints of customers."""
    rows = [
        [
            f"R{rng.randint(100, 999)}",
            _day(rng, "%d/%m/%Y"),
            rng.choice(("Colis abîmé", "Retard", "Erreur de facture")),
            rng.choice(("ouvert", "clos")),
        ]
        for _ in range(rng.randint(8, 40))
    ]
    return "réclamations", ["N° dossier", "Reçu le", "Motif", "État"], rows


def weighings(rng: random.Random) -> Found:
    """Return a weighbridge's log: plates, times and weights."""
    begin = date(2026, 5, 4)
    rows = [
        [
            f"{begin + timedelta(days=at // 9):%d/%m/%Y}",
            f"{7 + at % 9:02d}:{rng.randint(0, 59):02d}",
            f"ZZ{rng.randint(100, 999)}",
            f"{rng.randint(3_000, 40_000)}",
            rng.choice(("entrada", "salida")),
        ]
        for at in range(rng.randint(20, 120))
    ]
    return "báscula", ["Fecha", "Hora", "Matrícula del camión", "Peso kg", "Movimiento"], rows


def payslips(rng: random.Random) -> Found:
    """Return sums paid: a gross, a tax and a net for each month."""
    rows = []
    for at in range(rng.randint(6, 50)):
        gross = rng.randint(1_500, 4_000)
        rows.append([f"{1_000 + at}", _day(rng, "%m/%Y"), f"{gross}.00", f"{gross * 0.2:.2f}", f"{gross * 0.8:.2f}"])
    return "payslips", ["Payslip", "Month", "Gross", "Tax", "Net"], rows


STRANGERS = {
    "en": (rooms, meters, payslips),
    "de": (assets,),
    "fr": (complaints,),
    "es": (weighings,),
}
