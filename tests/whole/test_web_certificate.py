"""The machine's own certificate: trusted by who trusts its authority, and good for nothing else."""

from __future__ import annotations

import socket
import ssl
import stat
import threading
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec

from pleatwright.web.certificate import Certified, certified

HOSTS = ("127.0.0.1", "192.168.4.20", "localhost")


def now() -> datetime:
    return datetime.now(UTC)


def greeted(made: Certified, trusted: Path | None, name: str = "127.0.0.1") -> bytes:
    """What a client hears from a server with this certificate, if it trusts that authority alone."""
    server = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    server.load_cert_chain(made.certificate, made.key)
    client = ssl.SSLContext(ssl.PROTOCOL_TLS_CLIENT)
    if trusted is not None:
        client.load_verify_locations(trusted)
    here, there = socket.socketpair()

    def serve() -> None:
        try:
            with server.wrap_socket(here, server_side=True) as secure:
                secure.sendall(b"come in")
        except (ssl.SSLError, OSError):
            here.close()

    thread = threading.Thread(target=serve)
    thread.start()
    try:
        with client.wrap_socket(there, server_hostname=name) as secure:
            return secure.recv(20)
    finally:
        there.close()
        thread.join(5)


def test_a_device_that_trusts_the_authority_trusts_the_machine(tmp_path):
    made = certified(tmp_path / "kept", HOSTS, now())
    assert greeted(made, made.authority) == b"come in"
    assert greeted(made, made.authority, "192.168.4.20") == b"come in"


def test_a_device_without_it_and_another_name_are_refused(tmp_path):
    made = certified(tmp_path / "kept", HOSTS, now())
    with pytest.raises(ssl.SSLCertVerificationError):
        greeted(made, None)
    with pytest.raises(ssl.SSLCertVerificationError):
        greeted(made, made.authority, "192.168.4.21")


def test_at_the_next_start_the_devices_still_trust_it(tmp_path):
    first = certified(tmp_path / "kept", HOSTS, now())
    authority = first.authority.read_bytes()
    second = certified(tmp_path / "kept", ("127.0.0.1",), now())
    assert second.authority.read_bytes() == authority
    assert second.fingerprint == first.fingerprint
    assert greeted(second, second.authority) == b"come in"


def test_an_authority_that_has_run_out_or_is_spoilt_is_made_again(tmp_path):
    old = certified(tmp_path / "kept", HOSTS, now() - timedelta(days=3650))
    fresh = certified(tmp_path / "kept", HOSTS, now())
    assert fresh.fingerprint != old.fingerprint
    fresh.authority.write_bytes(b"spoilt")
    again = certified(tmp_path / "kept", HOSTS, now())
    assert again.fingerprint != fresh.fingerprint
    assert greeted(again, again.authority) == b"come in"


def test_the_authority_cannot_vouch_for_a_name_elsewhere(tmp_path):
    made = certified(tmp_path / "kept", HOSTS, now())
    authority = x509.load_pem_x509_certificate(made.authority.read_bytes())
    signing = serialization.load_pem_private_key((tmp_path / "kept" / "authority.key").read_bytes(), None)
    assert isinstance(signing, ec.EllipticCurvePrivateKey)
    key = ec.generate_private_key(ec.SECP256R1())
    forged = (
        x509.CertificateBuilder()
        .subject_name(x509.Name([x509.NameAttribute(x509.oid.NameOID.COMMON_NAME, "bank")]))
        .issuer_name(authority.subject)
        .public_key(key.public_key())
        .serial_number(7)
        .not_valid_before(now() - timedelta(days=1))
        .not_valid_after(now() + timedelta(days=1))
        .add_extension(x509.SubjectAlternativeName([x509.DNSName("bank.example")]), critical=False)
        .sign(signing, hashes.SHA256())
    )
    chain, private = tmp_path / "forged.pem", tmp_path / "forged.key"
    chain.write_bytes(forged.public_bytes(serialization.Encoding.PEM))
    private.write_bytes(
        key.private_bytes(
            serialization.Encoding.PEM, serialization.PrivateFormat.PKCS8, serialization.NoEncryption()
        )
    )
    with pytest.raises(ssl.SSLCertVerificationError, match="permitted subtree"):
        greeted(Certified(chain, private, made.authority, ""), made.authority, "bank.example")


def test_nobody_else_on_the_machine_can_read_its_keys(tmp_path):
    certified(tmp_path / "kept", HOSTS, now())
    assert stat.S_IMODE((tmp_path / "kept").stat().st_mode) == 0o700
    for kept in (tmp_path / "kept").iterdir():
        assert stat.S_IMODE(kept.stat().st_mode) == 0o600
