"""The name and certificate under which other machines reach the pages, tried before anybody is let near."""

from __future__ import annotations

import ipaddress
import re
import ssl
from dataclasses import dataclass
from pathlib import Path

from evenhand.store.owner_only import is_open_to_others
from evenhand.terms.disk_faults import why_of
from evenhand.terms.languages import told
from evenhand.terms.records import Refusal
from evenhand.web.doorkeeper import is_loopback

__all__ = ["Certified", "certified"]

# RFC 1123 section 2.1: letters, digits and hyphens between dots; an IPv4 address has the same shape.
NAME = re.compile(r"(?=.{1,253}$)[a-z0-9]([a-z0-9-]{0,61}[a-z0-9])?(\.[a-z0-9]([a-z0-9-]{0,61}[a-z0-9])?)*")


@dataclass(frozen=True)
class Certified:
    """A host name with the certificate (and its chain) and the private key that speak for it, both PEM."""

    host: str
    certificate: Path
    key: Path


def certified(host: str | None, certificate: Path | None, key: Path | None) -> Certified | None:
    """Return what serves beyond this machine, or None where nothing was asked for.

    Raises Refusal where one of the three is missing, the name is none that a phone could open, a file cannot be read,
    others may read the key, it is another certificate's, or the certificate is for another name or another time.
    """
    if host is None and certificate is None and key is None:
        return None
    if host is None or certificate is None or key is None:
        raise Refusal(
            told(
                "pages leave this machine only under a name and over TLS; give --host NAME, --certificate "
                "CERT.pem and --key KEY.pem together, or none of them."
            )
        )
    name = host.lower()
    if not NAME.fullmatch(name) or is_loopback(name) or _is_nobody(name):
        raise Refusal(
            told(
                '"{host}" is no name under which a phone could open these pages; give --host the name in the '
                "certificate, such as clock-desk.example.org, without port or scheme.",
                host=host,
            )
        )
    for option, file in (("--certificate", certificate), ("--key", key)):
        try:
            file.read_bytes()
        except OSError as fault:
            raise Refusal(
                told(
                    "{file} cannot be read ({strerror}); give {option} a PEM file.",
                    file=file,
                    strerror=why_of(fault),
                    option=option,
                )
            ) from fault
    if is_open_to_others(key):
        raise Refusal(
            told(
                "{key} can be read by other users of this machine, who could then pass for these pages; let its "
                "owner alone read it (chmod 600), and give the certificate a new key if anybody else may have.",
                key=key,
            )
        )
    _try_out(name, certificate, key)
    return Certified(name, certificate, key)


def _is_nobody(name: str) -> bool:
    try:
        address = ipaddress.ip_address(name)
    except ValueError:
        return False
    return address.is_unspecified or address.is_loopback or address.is_multicast


def _try_out(host: str, certificate: Path, key: Path) -> None:
    """Shake hands with ourselves as a phone would that trusts this very certificate."""

    def locked() -> str:
        raise Refusal(
            told("{key} is locked with a passphrase; give --key a key without one that only you can read.", key=key)
        )

    ours, theirs = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER), ssl.SSLContext(ssl.PROTOCOL_TLS_CLIENT)
    try:
        ours.load_cert_chain(certificate, key, password=locked)
        theirs.load_verify_locations(certificate)
    except ssl.SSLError as fault:
        raise Refusal(
            told(
                "{certificate} and {key} are no certificate and its key in PEM ({reason}); give the two files "
                "that belong together.",
                certificate=certificate,
                key=key,
                reason=fault.reason or fault,
            )
        ) from fault
    theirs.verify_flags |= ssl.VERIFY_X509_PARTIAL_CHAIN
    there, back = ssl.MemoryBIO(), ssl.MemoryBIO()
    phone, desk = theirs.wrap_bio(back, there, server_hostname=host), ours.wrap_bio(there, back, server_side=True)
    try:
        # TLS 1.3 needs one flight each way and the phone's last word; verification falls into the phone's second step.
        for end in (phone, desk, phone):
            try:
                end.do_handshake()
            except ssl.SSLWantReadError:
                continue
    except ssl.SSLError as fault:
        why = getattr(fault, "verify_message", "") or fault.reason or fault
        raise Refusal(
            told(
                "{certificate} does not speak for {host} now ({why}); give a certificate that holds this name "
                "and is in force.",
                certificate=certificate,
                host=host,
                why=why,
            )
        ) from fault
