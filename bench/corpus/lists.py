"""Files that list what is: people, readers, numbers enrolled, consents, rates."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta
from decimal import Decimal

from bench.corpus.kit import draw
from bench.corpus.records import AnyOf
from bench.corpus.sheets import WRITTEN, Sheet, which_reader, yes_no
from bench.corpus.workplaces import Person
from bench.corpus.writing import Field, Writer

__all__ = ["consent", "enrolments", "people", "rates", "readers"]


def people(w: Writer, size: int) -> Sheet:
    """Return a roster."""
    rng = w.rng
    listed = list(w.place.people[:size])
    if rng.random() < 0.7:
        listed.sort(key=lambda one: (one.family, one.given))
    keyed = draw(rng, (("both", 0.72), ("number only", 0.14), ("person only", 0.14)))
    fields: list[Field] = []
    truth: list[dict[str, object]] = [{} for _ in listed]
    if keyed != "number only":
        fields.append(Field(w.header("person"), [one.person for one in listed], ("person",)))
    if keyed != "person only":
        fields.append(Field(w.header("number"), [w.number(one.number) for one in listed], ("number",), right=True))
    name_fields, names = w.names(listed)
    fields += name_fields
    for row, one, name in zip(truth, listed, names, strict=True):
        row["name"] = name
        row["person"] = AnyOf((None, one.number)) if keyed == "number only" else one.person
        row["number"] = None if keyed == "person only" else one.number
        if keyed == "number only" and not w.keeps_zeros:
            row["person"] = AnyOf((None, one.number, one.number.lstrip("0")))

    def add(chance: float, concept: str, use: str, cells: Callable[[], tuple[list[object], list[object]]]) -> None:
        if rng.random() < chance:
            written, true = cells()
            fields.append(Field(w.header(concept), written, (use,)))  # type: ignore[arg-type]
            for row, value in zip(truth, true, strict=True):
                row[use] = value

    def texts(get: Callable[[Person], str]) -> Callable[[], tuple[list[object], list[object]]]:
        return lambda: ([get(one) for one in listed], [get(one) for one in listed])

    add(0.6, "site", "site", texts(lambda one: one.site))
    add(0.55, "department", "department", texts(lambda one: one.department))
    add(0.3, "phone", "phone", texts(lambda one: one.phone))
    add(0.25, "address", "address", texts(lambda one: one.street))
    if rng.random() < 0.6:
        fields.append(w.days("hired", "hired_on", [one.hired for one in listed]))
        for row, one in zip(truth, listed, strict=True):
            row["hired_on"] = one.hired
        if rng.random() < 0.6:
            fields.append(w.days("left", "left_on", [one.left for one in listed]))
            for row, one in zip(truth, listed, strict=True):
                row["left_on"] = one.left
    if rng.random() < 0.4:
        column, true = yes_no(w, rng.choice(("supervisor", "role")), [one.is_supervisor for one in listed])
        fields.append(column)
        for row, value in zip(truth, true, strict=True):
            row["is_supervisor"] = value
    if rng.random() < 0.15:
        fields.append(Field(w.header("rate"), [w.amount(one.rate) for one in listed], ("hourly_rate",), right=True))
        for row, one in zip(truth, listed, strict=True):
            row["hourly_rate"] = Decimal(one.rate)
    return Sheet(fields, truth, listed, WRITTEN, dimensions={"keys": keyed})


def readers(w: Writer, size: int) -> Sheet:
    """Return a list of readers."""
    rng, listed = w.rng, list(w.place.readers)
    fields = [
        Field(w.header("reader"), [one.reader for one in listed], ("reader",)),
        Field(w.header("site"), [one.site for one in listed], ("site",)),
        Field(w.header("zone"), [one.zone for one in listed], ("zone",)),
    ]
    truth: list[dict[str, object]] = [{"reader": one.reader, "site": one.site, "zone": one.zone} for one in listed]
    for chance, concept, use in ((0.6, "place", "place"), (0.5, "digits", "max_digits"), (0.5, "capacity", "capacity")):
        if rng.random() < chance:
            values = {
                "place": [one.place for one in listed],
                "max_digits": [one.digits for one in listed],
                "capacity": [one.capacity for one in listed],
            }[use]
            cells = [w.count(value) if isinstance(value, int) else value for value in values]
            fields.append(Field(w.header(concept), cells, (use,), right=use != "place"))
            for row, value in zip(truth, values, strict=True):
                row[use] = value
    return Sheet(fields, truth, [], WRITTEN)


def enrolments(w: Writer, size: int) -> Sheet:
    """Return the lists of numbers that the readers hold."""
    rng = w.rng
    pairs = [
        (reader, one)
        for reader in w.place.readers
        for one in w.place.people
        if one.site == reader.site or rng.random() < 0.1
    ] or [(w.place.readers[0], one) for one in w.place.people]
    how, only = which_reader(w)
    if only:
        pairs = [(reader, one) for reader, one in pairs if reader.reader == only] or [
            (reader, one) for reader in w.place.readers if reader.reader == only for one in w.place.people
        ]
    pairs = pairs[: max(3, size)]
    days = [max(one.hired, date(2021, 3, 1)) + timedelta(days=rng.randint(0, 9)) for _, one in pairs]
    days = [min(day, WRITTEN) for day in days]
    fields = [] if only else [Field(w.header("reader"), [reader.reader for reader, _ in pairs], ("reader",))]
    fields.append(Field(w.header("number"), [w.number(one.number) for _, one in pairs], ("number",), right=True))
    truth: list[dict[str, object]] = [{"reader": reader.reader, "number": one.number} for reader, one in pairs]

    if rng.random() < 0.75:
        short = rng.choice((40, 40, 16, 12))
        names = [f"{one.family} {one.given}"[:short].strip() for _, one in pairs]
        fields.append(Field(w.header("name"), list(names), ("name",)))
        for row, name in zip(truth, names, strict=True):
            row["name"] = name
    if rng.random() < 0.5:
        column, true = yes_no(w, "level", [one.is_supervisor for _, one in pairs])
        fields.append(column)
        for row, value in zip(truth, true, strict=True):
            row["is_supervisor"] = value
    if rng.random() < 0.6:
        fields.append(w.days("enrolled", "enrolled_on", days))
        for row, day in zip(truth, days, strict=True):
            row["enrolled_on"] = day
    if rng.random() < 0.3:
        tries = [rng.choice((3, 3, 3, 4, 5)) for _ in pairs]
        fields.append(
            Field(w.header("presentations"), [w.count(value) for value in tries], ("presentations",), right=True)
        )
        for row, value in zip(truth, tries, strict=True):
            row["presentations"] = value
    return Sheet(fields, truth, [one for _, one in pairs], WRITTEN, only, {"reader": how})


def consent(w: Writer, size: int) -> Sheet:
    """Return who gave consent and when."""
    rng, listed = w.rng, list(w.place.people[:size])
    given = [min(WRITTEN, max(one.hired, date(2019, 5, 6)) + timedelta(days=rng.randint(0, 40))) for one in listed]
    fields = [
        Field(w.header("person"), [one.person for one in listed], ("person",)),
        w.days("given_on", "given_on", given),
    ]
    truth: list[dict[str, object]] = [
        {"person": one.person, "given_on": day} for one, day in zip(listed, given, strict=True)
    ]
    if rng.random() < 0.6:
        forms = [rng.choice(("B-2", "B-3", "2021/1")) for _ in listed]
        fields.append(Field(w.header("form"), list(forms), ("form",)))
        for row, form in zip(truth, forms, strict=True):
            row["form"] = form
    if rng.random() < 0.4:
        back = [min(WRITTEN, day + timedelta(days=300)) if rng.random() < 0.1 else None for day in given]
        fields.append(w.days("withdrawn", "withdrawn_on", back))
        for row, day in zip(truth, back, strict=True):
            row["withdrawn_on"] = day
    if rng.random() < 0.5:
        fields.insert(1, Field(w.header("name"), [f"{one.family}, {one.given}" for one in listed]))
    return Sheet(fields, truth, listed, WRITTEN)


def rates(w: Writer, size: int) -> Sheet:
    """Return what people are paid by the hour, and from when."""
    rng, listed = w.rng, list(w.place.people[:size])
    since = [max(one.hired, date(2024, rng.randint(1, 12), rng.choice((1, 1, 15)))) for one in listed]
    fields = [
        Field(w.header("person"), [one.person for one in listed], ("person",)),
        w.days("valid_from", "valid_from", since),
        Field(w.header("amount"), [w.amount(one.rate) for one in listed], ("amount",), right=True),
    ]
    truth: list[dict[str, object]] = [
        {"person": one.person, "valid_from": day, "amount": Decimal(one.rate), "plan": AnyOf(("hourly", None))}
        for one, day in zip(listed, since, strict=True)
    ]
    if rng.random() < 0.3:
        fields.insert(1, Field(w.header("name"), [f"{one.family}, {one.given}" for one in listed]))
    return Sheet(fields, truth, listed, WRITTEN)
