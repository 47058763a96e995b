"""Pages leave this machine only under a name that a certificate speaks for; anything else is refused in a sentence."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from evenhand.terms.records import Refusal
from evenhand.web.certificate import certified
from tests.web.certificates import HOST, certificate_for


@pytest.fixture(scope="module")
def pair(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Path]:
    return certificate_for(HOST, tmp_path_factory.mktemp("pair"))


def test_nothing_asked_for_keeps_the_pages_here() -> None:
    assert certified(None, None, None) is None


@pytest.mark.parametrize("name", [HOST, HOST.upper()])
def test_a_certificate_speaks_for_its_name_however_it_is_written(pair: tuple[Path, Path], name: str) -> None:
    beyond = certified(name, *pair)
    assert beyond
    assert (beyond.host, beyond.certificate, beyond.key) == (HOST, *pair)


def test_an_address_may_be_the_name(tmp_path: Path) -> None:
    # 192.0.2.0/24 is for documentation: RFC 5737
    assert certified("192.0.2.7", *certificate_for("192.0.2.7", tmp_path))


@pytest.mark.parametrize("given", [(1, 0, 0), (1, 1, 0), (1, 0, 1), (0, 1, 1), (0, 1, 0), (0, 0, 1)])
def test_one_of_the_three_is_refused_without_the_others(pair: tuple[Path, Path], given: tuple[int, int, int]) -> None:
    host, certificate, key = (one if is_given else None for one, is_given in zip((HOST, *pair), given, strict=True))
    with pytest.raises(Refusal, match="together, or none of them"):
        certified(host, certificate, key)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    "name",
    [
        "",
        "localhost",
        "127.0.0.1",
        "127.0.0.9",
        "0.0.0.0",
        "::1",
        "https://desk.test",
        "desk.test:8765",
        "desk test",
        "*",
    ],
)
def test_what_no_phone_could_open_is_no_name(pair: tuple[Path, Path], name: str) -> None:
    with pytest.raises(Refusal, match="no name under which a phone could open"):
        certified(name, *pair)


def test_a_file_that_is_not_there_is_named(pair: tuple[Path, Path], tmp_path: Path) -> None:
    with pytest.raises(Refusal, match=r"gone\.pem cannot be read .*--certificate"):
        certified(HOST, tmp_path / "gone.pem", pair[1])
    with pytest.raises(Refusal, match=r"cannot be read .*--key"):
        certified(HOST, pair[0], tmp_path)


def test_a_key_of_another_certificate_is_refused(pair: tuple[Path, Path], tmp_path: Path) -> None:
    _, other = certificate_for(HOST, tmp_path)
    with pytest.raises(Refusal, match="give the two files that belong together"):
        certified(HOST, pair[0], other)


def test_what_is_no_certificate_is_refused(pair: tuple[Path, Path], tmp_path: Path) -> None:
    (tmp_path / "words.pem").write_text("not a certificate\n")
    with pytest.raises(Refusal, match="no certificate and its key in PEM"):
        certified(HOST, tmp_path / "words.pem", pair[1])


def test_a_key_under_a_passphrase_is_refused_and_nobody_is_asked(tmp_path: Path) -> None:
    with pytest.raises(Refusal, match="locked with a passphrase"):
        certified(HOST, *certificate_for(HOST, tmp_path, passphrase="of the test"))


def test_a_certificate_for_another_name_or_another_time_is_refused(pair: tuple[Path, Path], tmp_path: Path) -> None:
    with pytest.raises(Refusal, match=r"does not speak for other\.test now \(Hostname mismatch"):
        certified("other.test", *pair)
    with pytest.raises(Refusal, match=r"does not speak for .* now .*expired"):
        certified(HOST, *certificate_for(HOST, tmp_path, days=-1))


def test_the_command_refuses_with_one_sentence_and_exit_code_2(mill_directory: Path) -> None:
    command = [sys.executable, "-m", "evenhand", "--workspace", str(mill_directory), "serve", "--host", HOST]
    done = subprocess.run(command, capture_output=True, text=True, check=False, timeout=60)
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr.startswith("evenhand: pages leave this machine only under a name and over TLS; give --host")
    assert len(done.stderr.splitlines()) == 1


@pytest.mark.parametrize("mode", [0o640, 0o604, 0o660])
def test_a_key_that_others_may_read_is_refused(tmp_path: Path, mode: int) -> None:
    certificate, key = certificate_for(HOST, tmp_path)
    key.chmod(mode)
    with pytest.raises(Refusal, match=r"other users of this machine.*chmod 600"):
        certified(HOST, certificate, key)
