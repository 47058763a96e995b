"""The readers list, the schedules and the consent register."""

from __future__ import annotations

from evenhand.twin.files.written import civil_times, delimited, in_order
from evenhand.twin.workplace import Workplace

__all__ = ["other_lists"]


def other_lists(workplace: Workplace) -> dict[str, bytes]:
    """Return the files that the offices keep beside the rosters, one schedule a site."""
    readers = delimited(
        ("Reader", "Site", "Place", "Time zone", "Max digits", "Capacity"),
        workplace.readers.select("reader", "site", "place", "zone", "max_digits", "capacity").rows(),
    )
    consent = delimited(
        ("Personnel number", "Signed on", "Form", "Withdrawn on"),
        (
            (person, in_order(given, "iso"), form, in_order(withdrawn, "iso"))
            for person, given, form, withdrawn in workplace.consent.select(
                "person", "given_on", "form", "withdrawn_on"
            ).rows()
        ),
    )
    named = {"readers.csv": readers.encode(), "consent.csv": consent.encode()}
    return {**named, **_schedules(workplace)}


def _schedules(workplace: Workplace) -> dict[str, bytes]:
    site_of = dict(workplace.people.select("person", "site").rows())
    here = workplace.schedules["person"].replace_strict(site_of)
    written = {}
    for site, zone in workplace.zones.items():
        planned = workplace.schedules.filter(here == site)
        starts, ends = civil_times(planned["starts_at"], zone), civil_times(planned["ends_at"], zone)
        rows = (
            (person, f"{start:%Y-%m-%d %H:%M}", f"{end:%Y-%m-%d %H:%M}")
            for person, start, end in zip(planned["person"].to_list(), starts, ends, strict=True)
        )
        written[f"schedule_{site.lower()}.csv"] = delimited(("Personnel number", "Start", "End"), rows).encode()
    return written
