"""Files of a workplace that are no table of ours: each function gives a name, the headers and the rows."""

from __future__ import annotations

import random
from datetime import date, timedelta

__all__ = ["STRANGERS"]

Found = tuple[str, list[str], list[list[str]]]


def _day(rng: random.Random, pattern: str = "%d.%m.%Y") -> str:
    return (date(2026, 1, 1) + timedelta(days=rng.randint(0, 270))).strftime(pattern)


def _money(rng: random.Random, mark: str = ".") -> str:
    return f"{rng.randint(100, 99_999) / 100:.2f}".replace(".", mark)


def invoices(rng: random.Random) -> Found:
    """Return a list of invoices received."""
    firms = ("Brightwater Supplies", "Oak & Son", "Northern Bolts", "Pale Moon Catering")
    rows = [
        [
            f"INV-{rng.randint(1000, 9999)}",
            rng.choice(firms),
            _day(rng, "%m/%d/%Y"),
            _day(rng, "%m/%d/%Y"),
            _money(rng),
            "open",
        ]
        for _ in range(rng.randint(8, 60))
    ]
    return "invoices", ["Invoice No.", "Vendor", "Invoice Date", "Due Date", "Amount", "Status"], rows


def suppliers(rng: random.Random) -> Found:
    """Return the telephone directory of suppliers."""
    rows = [
        [
            f"Firm {letter}",
            f"contact{at}@example.org",
            f"555-01{rng.randint(10, 99)}",
            rng.choice(("paint", "paper", "bolts")),
        ]
        for at, letter in enumerate("ABCDEFGHJKLMNP")
    ]
    return "supplier phones", ["Company", "Email", "Phone", "Goods"], rows


def parts(rng: random.Random) -> Found:
    """Return a list of parts in stock."""
    rows = [
        [
            f"{rng.randint(10_000, 99_999)}",
            rng.choice(("Bolt M8", "Washer", "Bearing 6204")),
            f"A{rng.randint(1, 40)}",
            str(rng.randint(0, 900)),
        ]
        for _ in range(rng.randint(10, 120))
    ]
    return "stock", ["Part Number", "Description", "Bin", "On Hand"], rows


def statement(rng: random.Random) -> Found:
    """Return a bank statement."""
    rows = [
        [
            _day(rng),
            _day(rng),
            rng.choice(("Miete", "Strom", "Gutschrift", "Lastschrift Büro")),
            _money(rng, ","),
            "EUR",
        ]
        for _ in range(rng.randint(10, 50))
    ]
    return "Kontoauszug", ["Buchungstag", "Wertstellung", "Verwendungszweck", "Betrag", "Währung"], rows


def orders(rng: random.Random) -> Found:
    """Return orders placed."""
    rows = [
        [
            f"B-{rng.randint(100, 999)}",
            rng.choice(("Farbe weiß", "Schrauben", "Kartons")),
            str(rng.randint(1, 90)),
            _money(rng, ","),
            _day(rng),
        ]
        for _ in range(rng.randint(8, 60))
    ]
    return "Bestellungen", ["Bestellnummer", "Artikel", "Menge", "Einzelpreis", "Lieferdatum"], rows


def deliveries(rng: random.Random) -> Found:
    """Return notes of deliveries."""
    rows = [
        [
            f"ALB{rng.randint(1000, 9999)}",
            rng.choice(("Cajas", "Palés", "Tinta")),
            str(rng.randint(1, 40)),
            _day(rng, "%d/%m/%Y"),
            _money(rng, ","),
        ]
        for _ in range(rng.randint(8, 60))
    ]
    return "albaranes", ["Nº albarán", "Artículo", "Cantidad", "Fecha de entrega", "Importe"], rows


def temperatures(rng: random.Random) -> Found:
    """Return the temperatures of a cold store."""
    begin = date(2026, 3, 1)
    rows = [
        [
            f"{begin + timedelta(days=at // 24):%Y-%m-%d} {at % 24:02d}:00",
            f"{rng.gauss(3, 0.6):.1f}",
            f"{rng.gauss(61, 4):.0f}",
        ]
        for at in range(rng.randint(30, 200))
    ]
    return "cold store", ["Timestamp", "Temperature C", "Humidity %"], rows


def vehicles(rng: random.Random) -> Found:
    """Return the mileage of lorries."""
    rows = [
        [
            f"LK {rng.randint(10, 99)} ZZ",
            _day(rng, "%d/%m/%Y"),
            str(rng.randint(10_000, 90_000)),
            str(rng.randint(20, 300)),
        ]
        for _ in range(rng.randint(8, 80))
    ]
    return "vehicles", ["Plate", "Date", "Odometer", "Fuel l"], rows


def timesheet(rng: random.Random) -> Found:
    """Return days with the first and last time on one line: hours worked, neither punches nor shifts."""
    rows = []
    for at in range(rng.randint(6, 60)):
        rows.append(
            [
                str(4_000 + at % 9),
                _day(rng, "%Y-%m-%d"),
                f"0{rng.randint(6, 8)}:{rng.randint(0, 59):02d}",
                f"1{rng.randint(4, 7)}:{rng.randint(0, 59):02d}",
                "8.0",
            ]
        )
    return "timesheet", ["Badge", "Date", "Clocked In", "Clocked Out", "Hours"], rows


def prices(rng: random.Random) -> Found:
    """Return a list of prices."""
    rows = [
        [f"REF{rng.randint(100, 999)}", rng.choice(("Peinture", "Vis", "Carton")), _money(rng, ","), "20 %"]
        for _ in range(30)
    ]
    return "tarifs", ["Référence", "Désignation", "Prix unitaire HT", "TVA"], rows


STRANGERS = {
    "en": (invoices, suppliers, parts, temperatures, vehicles, timesheet),
    "de": (statement, orders),
    "es": (deliveries,),
    "fr": (prices,),
}
