"""The certificate made on this machine: for its names, for 397 days, read by its owner alone."""

from __future__ import annotations

import os
import ssl
from datetime import UTC, datetime, timedelta
from hashlib import sha256
from pathlib import Path

import pytest
from cryptography import x509
from cryptography.hazmat.primitives.asymmetric import ec

from baitwright.terms.errors import InputError
from baitwright.workshop.keys.certificate import LASTS, certificate

NOW = datetime(2026, 11, 27, 18, 0, tzinfo=UTC)
NAMES = ("localhost", "127.0.0.1", "[::1]", "192.0.2.2", "shop.local")


@pytest.fixture
def place(tmp_path: Path) -> Path:
    return tmp_path / "shop" / "notebook.sqlite"


def chain_of(path: Path) -> tuple[x509.Certificate, x509.Certificate]:
    leaf, root = x509.load_pem_x509_certificates(path.read_bytes())
    return leaf, root


def test_it_is_for_every_name_and_address(place: Path) -> None:
    made = certificate(place, NAMES, now=NOW)
    leaf, root = chain_of(made.chain)
    told = leaf.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    assert set(told.get_values_for_type(x509.DNSName)) == {"localhost", "shop.local"}
    addresses = {str(one) for one in told.get_values_for_type(x509.IPAddress)}
    assert addresses == {"127.0.0.1", "::1", "192.0.2.2"}
    for one in (leaf, root):
        assert isinstance(one.public_key(), ec.EllipticCurvePublicKey)
        assert isinstance(one.public_key().curve, ec.SECP256R1)
        assert one.not_valid_after_utc - one.not_valid_before_utc == LASTS == timedelta(days=397)
        assert one.not_valid_before_utc < NOW
    leaf.verify_directly_issued_by(root)
    root.verify_directly_issued_by(root)


def test_what_it_tells_is_what_is_there(place: Path) -> None:
    made = certificate(place, NAMES, now=NOW)
    pem = made.chain.read_text()
    first = ssl.PEM_cert_to_DER_cert(pem.partition("-----END")[0] + "-----END CERTIFICATE-----\n")
    assert made.fingerprint.replace(":", "") == sha256(first).hexdigest().upper()
    assert made.root_fingerprint.replace(":", "") == sha256(made.root).hexdigest().upper()
    assert made.ends == chain_of(made.chain)[0].not_valid_after_utc


def test_only_its_owner_reads_the_key_and_the_roots_is_nowhere(place: Path) -> None:
    made = certificate(place, NAMES, now=NOW)
    if os.name == "posix":
        assert made.key.stat().st_mode & 0o777 == 0o600
    written = [path for path in place.parent.iterdir() if b"PRIVATE KEY" in path.read_bytes()]
    assert written == [made.key]
    assert made.key.read_bytes().count(b"BEGIN") == 1
    leaf, root = chain_of(made.chain)
    assert leaf.public_key() != root.public_key()
    assert not leaf.extensions.get_extension_for_class(x509.BasicConstraints).value.ca
    assert root.extensions.get_extension_for_class(x509.BasicConstraints).value.path_length == 0


def test_it_stays_until_names_change_or_it_runs_out(place: Path) -> None:
    first = certificate(place, NAMES, now=NOW)
    same = certificate(place, tuple(reversed(NAMES)), now=NOW + timedelta(days=380))
    assert same.fingerprint == first.fingerprint
    other = certificate(place, (*NAMES, "hob.local"), now=NOW)
    assert other.fingerprint != first.fingerprint
    later = certificate(place, (*NAMES, "hob.local"), now=NOW + timedelta(days=392))
    assert later.fingerprint != other.fingerprint
    assert later.ends > other.ends
    before = certificate(place, (*NAMES, "hob.local"), now=NOW)  # the clock was put back
    assert before.fingerprint != later.fingerprint


@pytest.mark.parametrize("name", ["door.certificate", "door.certificate.key"])
def test_a_damaged_one_is_made_anew(place: Path, name: str) -> None:
    first = certificate(place, NAMES, now=NOW)
    (place.parent / name).write_bytes(b"-----BEGIN CERTIFICATE-----\nrubbish\n")
    again = certificate(place, NAMES, now=NOW)
    assert again.fingerprint != first.fingerprint
    context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    context.load_cert_chain(again.chain, again.key)


def test_a_folder_that_takes_none_says_so(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    with pytest.raises(InputError, match="a folder that can be written to"):
        certificate(tmp_path / "file" / "notebook.sqlite", NAMES, now=NOW)
