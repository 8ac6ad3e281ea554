"""A certificate made on this machine, for tablets in the workshop's own network.

A browser lets a page keep the screen on, and be opened again without a connection, only where the connection
is encrypted and its certificate is trusted.  So this machine has an authority of its own, which can vouch for
nothing but this machine's name and addresses of private networks (RFC 1918, RFC 3927, RFC 4193); it is
trusted only by the devices it is put on by hand.
"""

from __future__ import annotations

import ipaddress
import os
import socket
from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from cryptography.hazmat.primitives.asymmetric.ec import EllipticCurvePrivateKey
    from cryptography.x509 import Certificate, CertificateBuilder, Name

AUTHORITY, CHAIN, KEY = "authority.pem", "machine.pem", "machine.key"
AUTHORITY_KEY = "authority.key"
LASTS = timedelta(days=3650)
MACHINE_LASTS = timedelta(days=90)
"""The machine's own is made again at every start [our choice]."""
BEFORE = timedelta(days=1)
"""A tablet's clock may be behind [our choice]."""
PRIVATE = (
    "10.0.0.0/8",
    "172.16.0.0/12",
    "192.168.0.0/16",
    "169.254.0.0/16",
    "127.0.0.0/8",
    "fc00::/7",
    "::1/128",
)


@dataclass(frozen=True)
class Certified:
    """This machine's certificate and key, the authority for devices, and its fingerprint (SHA-256)."""

    certificate: Path
    key: Path
    authority: Path
    fingerprint: str


def certified(folder: Path, hosts: tuple[str, ...], now: datetime) -> Certified:
    """A certificate for these names and addresses; the authority is made once and kept in the folder.

    An authority that has run out, or was made for another name of this machine, is made again: then the
    devices need the new one.  Raises OSError where the folder cannot be written.
    """
    from cryptography import x509
    from cryptography.hazmat.primitives import hashes, serialization

    folder.mkdir(parents=True, exist_ok=True)
    folder.chmod(0o700)
    name = socket.gethostname().lower()
    authority, authority_key = _authority(folder, name, now)
    key = _new_key()
    alternatives: list[x509.GeneralName] = []
    for host in hosts:
        try:
            alternatives.append(x509.IPAddress(ipaddress.ip_address(host)))
        except ValueError:
            alternatives.append(x509.DNSName(host))
    made = (
        _builder(_named(f"Pleatwright on {name}"), authority.subject, key, now, MACHINE_LASTS)
        .add_extension(x509.SubjectAlternativeName(alternatives), critical=False)
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(x509.ExtendedKeyUsage([x509.oid.ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        .sign(authority_key, hashes.SHA256())
    )
    pem = serialization.Encoding.PEM
    _write(folder / CHAIN, made.public_bytes(pem) + authority.public_bytes(pem))
    _write(folder / KEY, _private(key))
    fingerprint = authority.fingerprint(hashes.SHA256()).hex(":").upper()
    return Certified(folder / CHAIN, folder / KEY, folder / AUTHORITY, fingerprint)


def _authority(folder: Path, name: str, now: datetime) -> tuple[Certificate, EllipticCurvePrivateKey]:
    """The kept authority where it is still good, else a new one."""
    from cryptography import x509
    from cryptography.hazmat.primitives import hashes, serialization
    from cryptography.hazmat.primitives.asymmetric.ec import EllipticCurvePrivateKey

    subject = _named(f"Pleatwright's own authority on {name}")
    try:
        kept = x509.load_pem_x509_certificate((folder / AUTHORITY).read_bytes())
        key = serialization.load_pem_private_key((folder / AUTHORITY_KEY).read_bytes(), None)
    except (OSError, ValueError):
        pass
    else:
        lasts = kept.not_valid_after_utc - now > MACHINE_LASTS
        if lasts and kept.subject == subject and isinstance(key, EllipticCurvePrivateKey):
            return kept, key
    fresh = _new_key()
    allowed: list[x509.GeneralName] = [x509.DNSName(one) for one in (name, "local", "localhost")]
    allowed += [x509.IPAddress(ipaddress.ip_network(one)) for one in PRIVATE]
    made = (
        _builder(subject, subject, fresh, now, LASTS)
        .add_extension(x509.BasicConstraints(ca=True, path_length=0), critical=True)
        .add_extension(x509.NameConstraints(allowed, None), critical=True)
        .sign(fresh, hashes.SHA256())
    )
    _write(folder / AUTHORITY_KEY, _private(fresh))
    _write(folder / AUTHORITY, made.public_bytes(serialization.Encoding.PEM))
    return made, fresh


def _builder(
    subject: Name, issuer: Name, key: EllipticCurvePrivateKey, now: datetime, lasts: timedelta
) -> CertificateBuilder:
    from cryptography import x509

    return (
        x509.CertificateBuilder()
        .subject_name(subject)
        .issuer_name(issuer)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(now - BEFORE)
        .not_valid_after(now + lasts)
    )


def _named(words: str) -> Name:
    from cryptography import x509

    return x509.Name([x509.NameAttribute(x509.oid.NameOID.COMMON_NAME, words[:64])])


def _new_key() -> EllipticCurvePrivateKey:
    from cryptography.hazmat.primitives.asymmetric import ec

    return ec.generate_private_key(ec.SECP256R1())


def _private(key: EllipticCurvePrivateKey) -> bytes:
    from cryptography.hazmat.primitives import serialization

    return key.private_bytes(
        serialization.Encoding.PEM, serialization.PrivateFormat.PKCS8, serialization.NoEncryption()
    )


def _write(path: Path, content: bytes) -> None:
    """Write a file that only this user may read, whole or not at all."""
    fresh = path.with_suffix(".new")
    fresh.unlink(missing_ok=True)
    with os.fdopen(os.open(fresh, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "wb") as out:
        out.write(content)
        out.flush()
        os.fsync(out.fileno())
    fresh.replace(path)
