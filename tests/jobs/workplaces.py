"""A small workplace on its own files: two sites in two zones, one night over a clock change."""

from __future__ import annotations

import json
import shutil
import zlib
from collections.abc import Callable
from pathlib import Path

from evenhand.jobs.take import Receipt, take_files
from evenhand.jobs.workspace import Workspace, create_workspace, open_workspace

READERS = """reader,site,place,zone,max_digits,capacity
GATE,Mill,Main gate,America/New_York,4,100
SILO,Mill,Silo stairs,America/New_York,4,100
"""
PEOPLE = """person,name,number,site,department,is_supervisor,hired_on,left_on,hourly_rate
P1,Ida Marlow,0042,Mill,Milling,yes,2020-01-01,,18.25
P2,Rui Okoro,7315,Mill,Milling,yes,2020-01-01,,21.00
P3,Lena Fisk,2290,Mill,Packing,no,2020-01-01,,17.00
"""
ENROLMENTS = """reader,number,name,is_supervisor,enrolled_on
GATE,0042,Ida Marlow,yes,2020-01-02
GATE,7315,Rui Okoro,yes,2020-01-02
GATE,2290,Lena Fisk,no,2020-01-02
SILO,0042,Ida Marlow,yes,2020-01-02
SILO,7315,Rui Okoro,yes,2020-01-02
"""

# Sunday 1 November 2026: New York sets its clocks back from 02:00 to 01:00 (15 USC 260a).
# P1 works five days of nine hours and takes 20 minutes at ten, P2 the night of the change, P3 forgets to punch out.
PUNCHES = ["reader,number,at,direction"]
for _day in range(2, 7):
    PUNCHES += [
        f"GATE,0042,2026-11-{_day:02d} 08:00:00,in",
        f"GATE,0042,2026-11-{_day:02d} 10:00:00,out",
        f"GATE,0042,2026-11-{_day:02d} 10:20:00,in",
        f"GATE,0042,2026-11-{_day:02d} 17:00:00,out",
    ]
PUNCHES += [
    "GATE,7315,2026-10-31 23:00:00,in",
    "GATE,7315,2026-11-01 03:00:00,out",
    "GATE,7315,2026-11-01 03:30:00,in",
    "GATE,7315,2026-11-01 07:30:00,out",
    "GATE,2290,2026-11-03 08:00:00,in",
    "GATE,2290,2026-11-03 16:00:00,out",
    "GATE,2290,2026-11-04 08:00:00,in",
]


def copied(directory: Path, name: str, make: Callable[[Path], Workspace]) -> Workspace:
    """Return the workspace that `make` makes in a folder, copied into `directory` from the first that this run made.

    Taking the files anew would cost more than most tests do.
    """
    first = directory.parent / f"first-{name}"
    if not first.exists():
        making = first.with_suffix(".making")
        shutil.rmtree(making, ignore_errors=True)
        making.mkdir()
        make(making).close()
        making.rename(first)
    shutil.copytree(first, directory, dirs_exist_ok=True)
    return open_workspace(directory / "mill")


def made(directory: Path, punches: list[str] = PUNCHES) -> Workspace:
    """Return a workspace with everything taken; every row of the files is in order."""
    files = {
        "readers.csv": READERS,
        "people.csv": PEOPLE,
        "enrolments.csv": ENROLMENTS,
        "punches.csv": "\n".join(sorted(punches[1:], key=lambda row: row.split(",")[2])).join(
            (punches[0] + "\n", "\n")
        ),
    }
    name = f"mill-{zlib.crc32(json.dumps(files).encode()):08x}"
    return copied(directory, name, lambda folder: _make(folder, files))


def _make(directory: Path, files: dict[str, str]) -> Workspace:
    source = directory / "exports"
    source.mkdir()
    for name, text in files.items():
        (source / name).write_text(text)
    workspace = create_workspace(directory / "mill", "Mill", is_invented=True)
    for receipt in take_files(workspace, sorted(source.iterdir())):
        assert isinstance(receipt, Receipt), receipt
        assert receipt.rejected == 0, receipt
        assert receipt.taken == receipt.read
    return workspace
