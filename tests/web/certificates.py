"""Throwaway certificates, signed by themselves."""

from __future__ import annotations

import ipaddress
from datetime import UTC, datetime, timedelta
from pathlib import Path

from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import NameOID

HOST = "clock-desk.test"  # .test names nobody: RFC 6761 section 6.2


def certificate_for(name: str, directory: Path, *, days: int = 2, passphrase: str | None = None) -> tuple[Path, Path]:
    """Write a certificate for `name` and its key; with `days` below nought it is over already."""
    key = ec.generate_private_key(ec.SECP256R1())
    itself = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, name)])
    speaks_for = x509.IPAddress(ipaddress.ip_address(name)) if name[0].isdigit() else x509.DNSName(name)
    until = datetime.now(UTC) + timedelta(days=days)
    builder = (
        x509.CertificateBuilder(issuer_name=itself, subject_name=itself, public_key=key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(until - timedelta(days=4))
        .not_valid_after(until)
        .add_extension(x509.SubjectAlternativeName([speaks_for]), critical=False)
    )
    lock = serialization.BestAvailableEncryption(passphrase.encode()) if passphrase else serialization.NoEncryption()
    form = (serialization.Encoding.PEM, serialization.PrivateFormat.PKCS8)
    certificate_file, key_file = (directory / f"{name}.{kind}" for kind in ("pem", "key"))
    certificate_file.write_bytes(builder.sign(key, hashes.SHA256()).public_bytes(form[0]))
    key_file.touch(0o600)
    key_file.write_bytes(key.private_bytes(*form, lock))
    return certificate_file, key_file
