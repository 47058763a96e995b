"""Files that tell of times: logs of punches, and shifts that people are meant to work."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

from bench.corpus.kit import draw
from bench.corpus.records import AnyOf
from bench.corpus.sheets import Sheet, which_reader
from bench.corpus.workplaces import Person, Punch, punches
from bench.corpus.writing import Field, Writer

__all__ = ["log", "schedules"]


def log(w: Writer, size: int) -> Sheet:
    """Return a log of punches."""
    rng = w.rng
    span = draw(rng, (("a day", 0.1), ("two or three days", 0.15), ("a week", 0.35), ("a month", 0.4)))
    days = {"a day": 1, "two or three days": rng.choice((2, 3)), "a week": 7, "a month": 30}[span]
    first = date(2026, 1, 2) + timedelta(days=rng.randint(0, 270 - days))
    if rng.random() < 0.08:
        first = first.replace(day=rng.randint(1, 3))
    how, only = which_reader(w)
    made: list[Punch] = []
    for _ in range(4):
        made = punches(rng, w.place, first, days, size if not only else size * 3)
        if only:
            made = [punch for punch in made if punch.reader.reader == only][:size]
        if len(made) >= 3:
            break
        only = rng.choice(w.place.readers).reader if only else ""
    if len(made) < 3:
        how, only = "column", ""
        made = punches(rng, w.place, first, days, size)
    has_outcome = rng.random() < 0.3
    if not has_outcome:
        made = [punch for punch in made if punch.outcome == "accepted"]
    order = draw(rng, (("forward", 0.68), ("backward", 0.12), ("by person", 0.12), ("unsorted", 0.08)))
    if order == "backward":
        made.reverse()
    elif order == "by person":
        made.sort(key=lambda punch: (punch.person.family, punch.person.person, punch.at))
    elif order == "unsorted":
        rng.shuffle(made)
    zones = [punch.reader.zone for punch in made]
    whole = [punch.at if w.has_seconds else punch.at.replace(second=0) for punch in made]
    fields = [] if only else [Field(w.header("reader"), [punch.reader.reader for punch in made], ("reader",))]
    fields.append(Field(w.header("number"), [w.number(punch.person.number) for punch in made], ("number",), right=True))
    fields += w.moments("at", "at", whole, zones)
    truth: list[dict[str, object]] = [
        {
            "reader": punch.reader.reader,
            "number": punch.person.number,
            "at": w.true(punch.at, punch.reader.zone),
            "outcome": punch.outcome if has_outcome else AnyOf(("accepted", None)),
        }
        for punch in made
    ]
    said = "no"
    if rng.random() < 0.72:
        said = draw(rng, (("words", 0.62), ("codes", 0.38)))
        inward, outward = rng.choice(w.kit.directions[w.language]) if said == "words" else draw(rng, w.kit.codes)
        w.words |= {inward: "in", outward: "out"}
        plain = said == "words" or (inward, outward) in {("0", "1"), ("I", "O")}
        if ("", inward, outward) in w.kit.doubtful:
            w.doubted.add(inward)
        cells = [inward if punch.direction == "in" else outward for punch in made]
        fields.append(Field(w.header("direction"), list(cells), ("direction",)))
        for row, punch in zip(truth, made, strict=True):
            row["direction"] = punch.direction if plain else AnyOf((punch.direction, None))
    if has_outcome:
        yes, no = rng.choice(w.kit.outcomes[w.language])
        w.words |= {yes: "accepted", no: "refused"}
        cells = [yes if punch.outcome == "accepted" else no for punch in made]
        fields.append(Field(w.header("outcome"), list(cells), ("outcome",)))
    if rng.random() < 0.3:
        whole_scores = rng.random() < 0.5
        scores = [float(round(punch.score)) if whole_scores else punch.score for punch in made]
        written = [w.amount(str(int(score)) if whole_scores else f"{score:.1f}") for score in scores]
        fields.append(Field(w.header("score"), list(written), ("score",), right=True))
        for row, score in zip(truth, scores, strict=True):
            row["score"] = score
    last = max(civil.date() for civil in (punch.at.astimezone(ZoneInfo(punch.reader.zone)) for punch in made))
    dimensions = {"reader": how, "log order": order, "span": span, "direction": said}
    return Sheet(fields, truth, [punch.person for punch in made], last, only, dimensions)


def schedules(w: Writer, size: int) -> Sheet:
    """Return the shifts that people are meant to work."""
    rng = w.rng
    count = max(1, min(len(w.place.people), size // 5))
    first = date(2026, 2, 2) + timedelta(days=7 * rng.randint(0, 32))
    rows: list[tuple[Person, datetime, datetime, str]] = []
    for one in rng.sample(w.place.people, count):
        begin, hours = rng.choice(w.place.parts.get("duties", ((6, 8), (8, 9), (14, 8), (22, 8), (16, 8))))
        zone = w.place.site_zones[one.site]
        for day in range(max(5, -(-size // count))):
            start = datetime(first.year, first.month, first.day, begin) + timedelta(days=day + 2 * (day // 5))
            placed = [moment.replace(tzinfo=ZoneInfo(zone)) for moment in (start, start + timedelta(hours=hours))]
            if any(moment.utcoffset() != moment.replace(fold=1).utcoffset() for moment in placed):
                continue
            rows.append((one, placed[0].astimezone(UTC), placed[1].astimezone(UTC), zone))
    if rng.random() < 0.5:
        rows.sort(key=lambda row: row[1])
    rows = rows[: max(size, 3)]
    zones = [zone for *_, zone in rows]
    fields = [Field(w.header("person"), [one.person for one, *_ in rows], ("person",))]
    way = rng.choice(("day, from, to", "start, end", "day, from, to"))
    if way == "day, from, to" and w.moment in {"two", "one", "two real"}:
        clocks = [(start.astimezone(ZoneInfo(zone)), end.astimezone(ZoneInfo(zone))) for _, start, end, zone in rows]
        shared = w.days("day", "", [start.date() for start, _ in clocks])
        fields += [
            Field(shared.header, shared.cells, ("starts_at", "ends_at")),
            Field(w.header("from"), [w._time(start.replace(tzinfo=None)) for start, _ in clocks], ("starts_at",)),
            Field(w.header("to"), [_end(w, end.replace(tzinfo=None)) for _, end in clocks], ("ends_at",)),
        ]
    else:
        if w.moment in {"two", "parts"}:
            w.moment = "one"
        fields += w.moments("starts_at", "starts", [start for _, start, _, _ in rows], zones)
        fields += w.moments("ends_at", "ends", [end for _, _, end, _ in rows], zones)
    truth: list[dict[str, object]] = [
        {"person": one.person, "starts_at": int(start.timestamp()), "ends_at": int(end.timestamp())}
        for one, start, end, _ in rows
    ]
    if rng.random() < 0.4:
        fields.insert(1, Field(w.header("name"), [f"{one.family}, {one.given}" for one, *_ in rows]))
    last = max(start for _, start, _, _ in rows).date()
    return Sheet(fields, truth, [one for one, *_ in rows], last, dimensions={"shift": way})


def _end(w: Writer, clock: datetime) -> object:
    """Return the end of a shift; midnight may be written as 24:00."""
    if not w.typed and clock.hour == clock.minute == 0 and w.times.startswith("{HH}") and w.rng.random() < 0.7:
        return w.times.replace("{HH}", "24").format(mm="00", ss="00")
    return w._time(clock)
