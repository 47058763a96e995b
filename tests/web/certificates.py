"""Throwaway certificates, signed by themselves, from the openssl program."""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path

import pytest

HOST = "clock-desk.test"  # .test names nobody: RFC 6761 section 6.2


def certificate_for(name: str, directory: Path, *, days: int = 2, passphrase: str | None = None) -> tuple[Path, Path]:
    """Write a certificate for `name` and its key; with `days` below nought it is over already."""
    openssl = shutil.which("openssl")
    if openssl is None:
        pytest.fail("the program openssl is missing; install it, these tests make throwaway certificates with it.")
    asked, certificate, key = (directory / f"{name}.{kind}" for kind in ("asked", "pem", "key"))
    lock = ["-passout", f"pass:{passphrase}"] if passphrase else ["-nodes"]
    signed_with = ["-passin", f"pass:{passphrase}"] if passphrase else []
    speaks_for = f"subjectAltName={'IP' if name[0].isdigit() else 'DNS'}:{name}"
    curve = ["-newkey", "ec", "-pkeyopt", "ec_paramgen_curve:prime256v1"]
    request = ["req", "-new", *curve, *lock, "-keyout", key, "-subj", f"/CN={name}", "-addext", speaks_for]
    signing = ["x509", "-req", "-in", asked, "-signkey", key, *signed_with, "-days", str(days)]
    for command in ([*request, "-out", asked], [*signing, "-copy_extensions", "copy", "-out", certificate]):
        made = subprocess.run([openssl, *command], capture_output=True, text=True, check=False)
        assert made.returncode == 0, made.stderr
    return certificate, key
