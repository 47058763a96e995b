"""Taking files at a terminal: what is shown, one question at a time, and nothing drawn over a question.

The terminal is a pseudo-terminal of the system (Python's `pty`), so that the program draws as it does for a person.
"""

from __future__ import annotations

import fcntl
import json
import os
import pty
import re
import select
import struct
import sys
import termios
import time
from pathlib import Path

import pytest
from tests.cli.test_doors import run

ROSTER = """Pers.-Nr;Name;Ausweis;Werk;Eintritt;Vermerk
4711;Rot, Anke;0369;Nord;13.02.2019;x
4712;Ulm, Can;1370;Nord;31.03.2020;
4713;Ohm, Ida;1371;Nord;31.02.2021;
"""
LOG = "Nr;Zeit;Richtung\n" + "".join(
    f"{number};{day:02}.11.2026 {time};{way}\n"
    for day in (3, 4, 5)
    for number in ("0369", "1370")
    for time, way in (("07:58", "Kommen"), ("16:02", "Gehen"))
)
PROMPT = re.compile(r"(Your answer|\[y/n\]): $")


class Terminal:
    """A command at a terminal of some width; what it printed since it was last asked is `said`."""

    def __init__(self, *words: str, cwd: Path, width: int = 80) -> None:
        try:
            self.child, self.handle = pty.fork()
        except OSError:
            pytest.skip("this machine has no pseudo-terminals (nothing is mounted at /dev/pts)")
        if self.child == 0:
            os.chdir(cwd)
            os.environ.pop("COLUMNS", None)
            os.environ["TERM"] = "xterm"
            os.execv(sys.executable, [sys.executable, "-m", "evenhand", *words])
        fcntl.ioctl(self.handle, termios.TIOCSWINSZ, struct.pack("HHHH", 50, width, 0, 0))

    def until_asked(self) -> str:
        """Return what is printed up to the next question, or to the end."""
        raw, until = "", time.monotonic() + 120
        while not PROMPT.search(self.plain(raw)) and time.monotonic() < until:
            raw += (read := self.read(1.0))
            if not read and self.has_ended:
                break
        return self.plain(raw)

    has_ended = False

    def read(self, seconds: float) -> str:
        if not select.select([self.handle], [], [], seconds)[0]:
            return ""
        try:
            read = os.read(self.handle, 1 << 16)
        except OSError:  # Linux says so when the other side has closed
            read = b""
        self.has_ended = not read
        return read.decode()

    @staticmethod
    def plain(text: str) -> str:
        """What stands on the screen: no colours, and of what is drawn over only the last."""
        text = re.sub(r"\x1b\[[0-9;?]*[a-zA-Z]", "", text).replace("\r\n", "\n")
        return "\n".join(line.rpartition("\r")[2] for line in text.split("\n"))

    def answer(self, text: str) -> None:
        os.write(self.handle, text.encode() + b"\n")

    def end(self) -> int:
        code = os.waitstatus_to_exitcode(os.waitpid(self.child, 0)[1])
        os.close(self.handle)
        return code


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "readers.csv").write_text("reader,site,zone\nTOR,Nord,Europe/Berlin\nHOF,Nord,Europe/Berlin\n")
    (tmp_path / "roster.csv").write_text(ROSTER)
    (tmp_path / "log.csv").write_text(LOG)
    assert run("new", "w", cwd=tmp_path).returncode == 0
    assert run("-w", "w", "take", "--yes", "readers.csv", cwd=tmp_path).returncode == 0
    return tmp_path


@pytest.mark.parametrize("width", [80, 140])
def test_a_file_is_shown_before_it_is_asked_for_and_nothing_is_drawn_over_the_question(
    folder: Path, width: int
) -> None:
    terminal = Terminal("-w", "w", "take", "roster.csv", cwd=folder, width=width)
    said = terminal.until_asked()
    assert "roster.csv looks like people" in said
    used, rest = said.split("Not used")
    unused, _ = rest.split("First rows")
    assert re.search(r"^Pers\.-Nr +person +", used, re.MULTILINE)
    assert re.search(r"^Vermerk +x", unused, re.MULTILINE)
    assert "hired on Wed 13 Feb 2019" in " ".join(said.split())  # a Wednesday by Python's datetime
    assert '31.02.2021"' in " ".join(said.split())
    assert "Rot, Anke (4711) and Ulm, Can (4712)" in " ".join(said.split())
    assert said.endswith("Take it? [y/n]: ")
    assert max(map(len, said.splitlines())) <= width
    assert terminal.read(1.5) == ""  # the bar is redrawn several times a second where it is not stopped
    terminal.answer("y")
    assert "1 row rejected" in terminal.until_asked()
    assert terminal.end() == 3


def test_questions_come_one_at_a_time_and_what_is_no_answer_is_asked_again(folder: Path) -> None:
    terminal = Terminal("-w", "w", "take", "log.csv", cwd=folder)
    whose = terminal.until_asked()
    assert "log.csv looks like punches" in whose
    assert "which reader" in whose
    terminal.answer("NOPE")
    assert '"NOPE" is no answer to this; give one of HOF, TOR.' in " ".join(terminal.until_asked().split())
    terminal.answer("TOR")
    when = terminal.until_asked()
    assert "looks like" not in when  # it was shown already
    assert "03.11.2026 is 3 November 2026" in " ".join(when.split())
    terminal.answer("ymd")
    assert '"ymd" is no answer to this; give one of dmy, mdy.' in " ".join(terminal.until_asked().split())
    terminal.answer("dmy")
    seen = terminal.until_asked()
    assert "Tue 3 Nov 2026, 07:58" in " ".join(seen.split())  # a Tuesday by Python's datetime
    assert "Of 12 rows: 12 new." in seen
    assert seen.endswith("Take it? [y/n]: ")
    terminal.answer("n")
    left = " ".join(terminal.until_asked().split())
    assert terminal.end() == 2
    assert "--layout w/layouts/drafts/punches-1.toml" in left
    assert 'date_order = "dmy"' in (folder / "w/layouts/drafts/punches-1.toml").read_text()
    taken = run("-w", "w", "take", "--layout", "w/layouts/drafts/punches-1.toml", "log.csv", cwd=folder)
    assert (taken.returncode, taken.stderr) == (0, "")


def test_an_interruption_leaves_this_file_and_those_after_it_and_tells_of_those_before(folder: Path) -> None:
    terminal = Terminal("-w", "w", "take", "readers.csv", "roster.csv", "log.csv", cwd=folder)
    terminal.until_asked()
    terminal.answer("\x03")
    said = " ".join(terminal.until_asked().split())
    assert terminal.end() == 3
    assert "roster.csv was not taken, since you stopped at it." in said
    assert "log.csv was not taken, since you stopped before it." in said
    assert re.search(r"readers\.csv readers 2 0 2", said)


def test_without_a_terminal_yes_accepts_what_is_asked_as_yes_or_no_only(folder: Path) -> None:
    answer = run("-w", "w", "take", "--yes", "roster.csv", "log.csv", cwd=folder)
    assert answer.returncode == 3
    assert "log.csv does not say which reader it comes from" in answer.stderr
    assert "Answer it by an option, such as --reader HOF or --reader TOR." in answer.stderr
    asked = run("-w", "w", "take", "--yes", "--reader", "TOR", "log.csv", cwd=folder)
    assert asked.returncode == 2
    assert "Answer it by an option, such as --dates dmy or --dates mdy." in asked.stderr
    assert run("-w", "w", "take", "--yes", "--reader", "TOR", "--dates", "dmy", "log.csv", cwd=folder).returncode == 0
    # The order was answered once; another month's log is read by it.
    (folder / "october.csv").write_text(LOG.replace(".11.", ".10."))
    assert run("-w", "w", "take", "--yes", "--reader", "TOR", "october.csv", cwd=folder).returncode == 0


def test_trying_takes_nothing_and_ends_as_taking_would(folder: Path) -> None:
    (folder / "new.csv").write_text("reader,site,zone\nYARD,Nord,Europe/Berlin\n")
    rows = (
        "reader,number,at",
        "YARD,0369,2026-10-21 07:58",
        "YARD,0369,2026-10-21 16:02",
        "YARD,0369,2026-10-32 07:58",
    )
    (folder / "yard.csv").write_text("\n".join(rows))
    tried = run("-w", "w", "take", "--try", "yard.csv", "new.csv", cwd=folder)
    assert tried.returncode == 3
    assert "yard.csv looks like punches" in tried.stdout  # the reader of the other file counts as known
    assert "Of 3 rows: 2 new and 1 refused." in tried.stdout
    assert tried.stdout.endswith("Nothing was taken.\n")
    assert run("-w", "w", "take", "--try", "roster.csv", cwd=folder).returncode == 3
    assert run("-w", "w", "take", "--try", "log.csv", cwd=folder).returncode == 2
    assert [path.name for path in (folder / "w/layouts").iterdir()] == ["readers-1.toml"]
    assert "readers.csv" in run("-w", "w", "takes", cwd=folder).stdout.splitlines()[1]
    assert len(run("-w", "w", "takes", cwd=folder).stdout.splitlines()) == 2


def test_columns_are_mapped_and_ignored_by_header_or_position(folder: Path) -> None:
    words = ("take", "--yes", "--map", "Vermerk=department", "--map", "1=person", "--ignore", "Werk", "roster.csv")
    assert run("-w", "w", *words, cwd=folder).returncode == 3
    people = json.loads(run("-w", "w", "people", "--json", cwd=folder).stdout)
    assert {(one["person"], one["site"], one["department"]) for one in people} == {
        ("4711", None, "x"),
        ("4712", None, None),
    }
    bad = run("-w", "w", "take", "--map", "=person", "roster.csv", cwd=folder)
    assert bad.returncode == 2
    assert '--map "=person" is not COLUMN=USE' in bad.stderr
