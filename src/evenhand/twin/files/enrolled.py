"""The lists of enrolments that the readers give: fixed width, Spanish headings, tabs, by site."""

from __future__ import annotations

from evenhand.twin.files.written import delimited, fixed_width, in_order
from evenhand.twin.workplace import Workplace

__all__ = ["enrolment_lists"]


def enrolment_lists(workplace: Workplace) -> dict[str, bytes]:
    """Return one list a reader; the fixed-width lists do not say which reader they are from but in their name."""
    written = {}
    for reader in workplace.hung:
        held = workplace.enrolments.filter(workplace.enrolments["reader"] == reader.name).drop("reader").rows()
        name = f"enrolled_{reader.name}"
        if reader.site == 0:
            columns = (("NUMBER", 8), ("NAME", 16), ("AUTHORITY", 9), ("ENROLLED", 10), ("TRIES", 5))
            text = fixed_width(
                columns,
                ((number, who, "yes" if leads else "no", in_order(day, "iso"), str(tries))
                 for number, who, leads, day, tries in held),
            )  # fmt: skip
            written[f"{name}.txt"] = text.encode("cp1252")
        elif reader.site == 1:
            text = delimited(
                ("Lector", "Número", "Nombre", "Supervisora", "Fecha", "Intentos"),
                (
                    (reader.name, number, who, "sí" if leads else "no", in_order(day, "dots"), tries)
                    for number, who, leads, day, tries in held
                ),
                ";",
            )
            written[f"{name}.csv"] = text.encode("utf-8-sig")
        else:
            text = delimited(
                ("Reader", "Badge", "Name", "Supervisor", "Enrolled on", "Placements"),
                (
                    (reader.name, number, who, "Y" if leads else "N", in_order(day, "us"), tries)
                    for number, who, leads, day, tries in held
                ),
                "\t",
            )
            written[f"{name}.tsv"] = text.encode("utf-8")
    return written
