"""Files of the part that is kept aside from which no row may be taken without asking.

Some are of another matter altogether; the others, whose names end in _unsaid, may be a table of ours, but do not say
which of their columns is what, so that a careful clerk would have to ask.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Sequence
from datetime import date, timedelta

__all__ = ["STRANGERS"]

Found = tuple[str, list[str], list[list[str]]]


def _day(rng: random.Random, pattern: str) -> str:
    return (date(2026, 2, 2) + timedelta(days=rng.randint(0, 230))).strftime(pattern)


def _clock(rng: random.Random, first: int = 5, last: int = 22) -> str:
    return f"{rng.randint(first, last):02d}:{rng.randint(0, 59):02d}"


def _rows(rng: random.Random, least: int, most: int, row: Callable[[], list[str]]) -> list[list[str]]:
    return [row() for _ in range(rng.randint(least, most))]


def _figures(rng: random.Random, digits: int) -> str:
    return f"{rng.randrange(10**digits):0{digits}d}"


def _one(rng: random.Random, *words: str) -> str:
    return rng.choice(words)


def locker_list(rng: random.Random) -> Found:
    """Return who has which locker."""
    rows = _rows(
        rng,
        10,
        70,
        lambda: [_figures(rng, 3), _one(rng, "Carter, M", "Vang, W", "Begay, L", ""), _one(rng, "Blue", "Red"), "yes"],
    )
    return "lockers", ["Locker", "Used by", "Row colour", "Key returned"], rows


def visitors(rng: random.Random) -> Found:
    """Return who came to visit."""
    rows = _rows(
        rng,
        8,
        50,
        lambda: [
            _one(rng, "A. Hill", "J. Mora", "P. Quist"),
            _one(rng, "Courier", "Auditor", "Supplier"),
            f"V{rng.randint(1, 20)}",
            _day(rng, "%d/%m/%Y"),
            _clock(rng, 8, 11),
            _clock(rng, 12, 17),
        ],
    )
    return "visitor book", ["Visitor", "From company", "Visitor pass", "Date", "Time in", "Time out"], rows


def leave_requests(rng: random.Random) -> Found:
    """Return who asked for leave, which is no shift."""

    def row() -> list[str]:
        first = date(2026, 3, 2) + timedelta(days=rng.randint(0, 150))
        last = first + timedelta(days=rng.randint(0, 12))
        return [_figures(rng, 5), f"{first:%d %b %Y}", f"{last:%d %b %Y}", _one(rng, "annual", "sick", "unpaid"), "ok"]

    return (
        "leave requests",
        ["Employee no.", "Leave from", "Leave to", "Kind of leave", "Approved"],
        _rows(rng, 8, 60, row),
    )


def numbers_unsaid(rng: random.Random) -> Found:
    """Return numbers and names, where nothing says which number it is."""
    rows = _rows(rng, 10, 80, lambda: [_figures(rng, 4), _one(rng, "Hill Ann", "Mora Juan", "Quist Per", "Tan Li")])
    return "list", ["No.", "Name"], rows


def two_dates_unsaid(rng: random.Random) -> Found:
    """Return people with two days of which nothing says what happened on them."""
    rows = _rows(
        rng, 10, 60, lambda: [_figures(rng, 5), _day(rng, "%Y-%m-%d"), _one(rng, "", _day(rng, "%Y-%m-%d")), "C"]
    )
    return "extract 7", ["Employee ID", "Date 1", "Date 2", "Code"], rows


def pump_log(rng: random.Random) -> Found:
    """Return when pumps ran: machines, not people."""
    rows = _rows(
        rng,
        20,
        150,
        lambda: [
            f"Pumpe {rng.randint(1, 6)}",
            _day(rng, "%d.%m.%Y"),
            _clock(rng, 0, 23),
            _one(rng, "Ein", "Aus"),
            f"{rng.randint(20, 90)},{rng.randint(0, 9)}",
        ],
    )
    return "Pumpenprotokoll", ["Pumpe", "Datum", "Uhrzeit", "Schaltung", "Druck (bar)"], rows


def prices(rng: random.Random) -> Found:
    """Return what goods cost, and since when."""
    rows = _rows(
        rng,
        10,
        90,
        lambda: [f"ART{_figures(rng, 5)}", _day(rng, "%d.%m.%Y"), f"{rng.randint(2, 90)},{rng.randint(10, 99)}", "Stk"],
    )
    return "Preisliste", ["Artikelnummer", "Gültig ab", "Preis", "Einheit"], rows


def advertising(rng: random.Random) -> Found:
    """Return which customers agreed to be written to."""
    rows = _rows(
        rng,
        10,
        60,
        lambda: [
            f"K{_figures(rng, 6)}",
            _day(rng, "%d.%m.%Y"),
            _one(rng, "Messe", "Webseite"),
            _one(rng, "ja", "nein"),
        ],
    )
    return "Kunden Werbung", ["Kundennummer", "Werbeeinwilligung vom", "Herkunft", "Newsletter"], rows


def fields_unsaid(rng: random.Random) -> Found:
    """Return a log with two numbers of one shape, of which nothing says which was keyed."""
    rows = _rows(
        rng,
        15,
        120,
        lambda: [_figures(rng, 5), _figures(rng, 5), _day(rng, "%d.%m.%Y"), _clock(rng), _one(rng, "1", "2", "3")],
    )
    return "Abzug", ["Feld 1", "Feld 2", "Feld 3", "Feld 4", "Feld 5"], rows


def stock_moves(rng: random.Random) -> Found:
    """Return goods that went into and out of a store."""
    rows = _rows(
        rng,
        20,
        120,
        lambda: [
            _figures(rng, 6),
            _day(rng, "%d/%m/%Y"),
            _clock(rng),
            _one(rng, "Entrée", "Sortie"),
            str(rng.randint(1, 400)),
            _one(rng, "Boîtes", "Palettes"),
        ],
    )
    return "mouvements de stock", ["Réf. article", "Date", "Heure", "Sens", "Quantité", "Conditionnement"], rows


def courses(rng: random.Random) -> Found:
    """Return who is entered for which course."""
    rows = _rows(
        rng,
        8,
        50,
        lambda: [
            _one(rng, "Secourisme", "Cariste", "Incendie"),
            _figures(rng, 4),
            _one(rng, "Le Goff Hervé", "Sow Awa", "Payet Bruno"),
            _day(rng, "%d/%m/%Y"),
            _one(rng, "acquis", "à revoir"),
        ],
    )
    return "formations", ["Stage", "N° stagiaire", "Stagiaire", "Inscrit au stage le", "Bilan"], rows


def hours_unsaid(rng: random.Random) -> Found:
    """Return an arrival and a departure in one line, which may be worked or planned."""
    rows = _rows(
        rng,
        12,
        80,
        lambda: [_figures(rng, 4), _day(rng, "%d/%m/%Y"), _clock(rng, 6, 9), _clock(rng, 14, 18), "0:30"],
    )
    return "horas", ["Empleado", "Fecha", "Entrada", "Salida", "Descanso"], rows


def fuel(rng: random.Random) -> Found:
    """Return what lorries tanked."""
    rows = _rows(
        rng,
        12,
        90,
        lambda: [
            f"ZZ-{_figures(rng, 3)}",
            _day(rng, "%d/%m/%Y %H:%M").replace("00:00", _clock(rng)),
            str(rng.randint(20, 300)),
            str(rng.randint(10_000, 400_000)),
            _one(rng, "Ospina", "Tovar"),
        ],
    )
    return "combustible", ["Placa", "Fecha y hora", "Litros", "Kilometraje", "Conductor"], rows


def suppliers(rng: random.Random) -> Found:
    """Return suppliers with their phones."""
    rows = _rows(
        rng,
        8,
        50,
        lambda: [
            f"PR-{_figures(rng, 3)}",
            _one(rng, "Aceites del Sur", "Cartones Norte", "Envases Mar"),
            f"600 0{rng.randint(10, 99)} {_figures(rng, 3)}",
            f"Calle Ancha, {rng.randint(1, 99)}",
            "30 días",
        ],
    )
    return "proveedores", ["Cód. proveedor", "Proveedor", "Teléfono", "Domicilio", "Forma de pago"], rows


def cold_rooms(rng: random.Random) -> Found:
    """Return how cold it was."""
    rows = _rows(
        rng,
        20,
        150,
        lambda: [
            f"Câmara {rng.randint(1, 5)}",
            _day(rng, "%d/%m/%Y"),
            _clock(rng, 0, 23),
            f"-{rng.randint(16, 24)},{rng.randint(0, 9)}",
            _one(rng, "OK", "Alarme"),
        ],
    )
    return "temperaturas", ["Câmara", "Data", "Hora", "Temperatura", "Estado"], rows


def keys_lent(rng: random.Random) -> Found:
    """Return which keys were lent to whom."""
    rows = _rows(
        rng,
        8,
        60,
        lambda: [
            f"CH{rng.randint(1, 60)}",
            _one(rng, "Inês F.", "Simão B.", "Rúben A."),
            _day(rng, "%d-%m-%Y"),
            _one(rng, "", _day(rng, "%d-%m-%Y")),
        ],
    )
    return "chaves", ["Chave", "Entregue a", "Levantada em", "Devolvida em"], rows


def columns_unsaid(rng: random.Random) -> Found:
    """Return a list whose columns bear letters."""
    rows = _rows(rng, 10, 80, lambda: [_figures(rng, 4), _figures(rng, 4), _day(rng, "%d/%m/%Y"), _one(rng, "S", "N")])
    return "lista", ["A", "B", "C", "D"], rows


def warehouse(rng: random.Random) -> Found:
    """Return pallets that came and went."""
    rows = _rows(
        rng,
        20,
        140,
        lambda: [
            _figures(rng, 8),
            _day(rng, "%d/%m/%Y"),
            _clock(rng),
            _one(rng, "Carico", "Scarico"),
            str(rng.randint(1, 60)),
        ],
    )
    return "movimenti magazzino", ["Cod. pallet", "Data", "Ora", "Causale", "Colli"], rows


def exams(rng: random.Random) -> Found:
    """Return marks of a course."""
    rows = _rows(
        rng,
        8,
        50,
        lambda: [
            _figures(rng, 5),
            _one(rng, "Antincendio", "Muletto", "Igiene"),
            _day(rng, "%d/%m/%Y"),
            str(rng.randint(40, 100)),
            _one(rng, "superato", "non superato"),
        ],
    )
    return "esami corsi", ["Matricola", "Corso", "Data esame", "Voto", "Esito esame"], rows


def meals(rng: random.Random) -> Found:
    """Return meals eaten in the canteen."""
    rows = _rows(
        rng,
        12,
        90,
        lambda: [
            _day(rng, "%d-%m-%Y"),
            _one(rng, "soep", "warm", "brood"),
            str(rng.randint(3, 80)),
            f"{rng.randint(2, 9)},50",
        ],
    )
    return "kantineverkoop", ["Datum", "Maaltijd", "Aantal verkocht", "Prijs per stuk"], rows


def printers(rng: random.Random) -> Found:
    """Return printers, where they stand and how many sheets they hold."""
    rows = _rows(
        rng,
        6,
        30,
        lambda: [
            f"PRT{rng.randint(10, 99)}",
            _one(rng, "Kantoor Zuid", "Veiling"),
            _one(rng, "Gang", "Balie"),
            str(rng.choice((250, 500))),
            _one(rng, "laser", "inkt"),
        ],
    )
    return "printers", ["Printer", "Vestiging", "Plaats", "Papierlade (vel)", "Soort"], rows


def number_dates_unsaid(rng: random.Random) -> Found:
    """Return numbers with a day and nothing else that says what they are."""
    rows = _rows(
        rng, 10, 60, lambda: [_figures(rng, 5), _day(rng, "%d-%m-%Y"), f"{rng.randint(11, 44)},{rng.randint(10, 99)}"]
    )
    return "overzicht", ["Nummer", "Datum", "Bedrag"], rows


def parcels(rng: random.Random) -> Found:
    """Return parcels received."""
    rows = _rows(
        rng,
        12,
        90,
        lambda: [
            f"PK{_figures(rng, 7)}",
            _day(rng, "%Y-%m-%d"),
            _clock(rng),
            _one(rng, "przyjęta", "wydana"),
            f"{rng.randint(1, 30)},{rng.randint(0, 9)}",
        ],
    )
    return "paczki", ["Nr przesyłki", "Data", "Godzina", "Status przesyłki", "Waga kg"], rows


def vehicles(rng: random.Random) -> Found:
    """Return cars with their drivers and inspections."""
    rows = _rows(
        rng,
        8,
        40,
        lambda: [
            f"ZZ {_figures(rng, 5)}",
            _one(rng, "furgon", "wózek", "ciągnik"),
            _day(rng, "%d.%m.%Y"),
            _one(rng, "Górski", "Łapińska", ""),
        ],
    )
    return "pojazdy", ["Nr rejestracyjny", "Pojazd", "Przegląd ważny do", "Kierowca"], rows


def codes_unsaid(rng: random.Random) -> Found:
    """Return two codes and a moment, of which nothing says whose they are."""
    rows = _rows(
        rng,
        15,
        120,
        lambda: [_figures(rng, 4), _figures(rng, 4), _day(rng, "%Y-%m-%d ") + _clock(rng), _one(rng, "1", "0")],
    )
    return "wyciag", ["Kod 1", "Kod 2", "Kiedy", "Stan"], rows


STRANGERS: dict[str, Sequence[Callable[[random.Random], Found]]] = {
    "en": (locker_list, visitors, leave_requests, numbers_unsaid, two_dates_unsaid),
    "de": (pump_log, prices, advertising, fields_unsaid, fields_unsaid),
    "fr": (stock_moves, courses),
    "es": (hours_unsaid, hours_unsaid, fuel, suppliers),
    "pt": (cold_rooms, keys_lent, columns_unsaid, columns_unsaid),
    "it": (warehouse, exams),
    "nl": (meals, printers, number_dates_unsaid),
    "pl": (parcels, vehicles, codes_unsaid, codes_unsaid),
}
