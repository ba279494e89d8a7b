"""The certificate of a workshop for other devices: made on this machine, for its own names.

A root signs one certificate and is then forgotten: its key is never written down. A phone that
trusts the root trusts this workshop and nothing that anybody could make later.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path

from cryptography import x509
from cryptography.hazmat.primitives import hashes
from cryptography.hazmat.primitives.serialization import Encoding, load_pem_private_key

from baitwright.notebook.where import Where, folder_of
from baitwright.workshop.keys.certificate_made import made, san
from baitwright.workshop.told.own_file import cannot_be_written, write_own

LASTS = timedelta(days=397)
"""A year and a month (judgement): a phone is not asked to trust a new root every few weeks."""
_RENEWED = timedelta(days=7)
"""Before its end (judgement), so that it does not run out while the workshop is open."""


@dataclass(frozen=True, slots=True)
class Certificate:
    """A certificate on the disk.

    Parameters
    ----------
    chain: the file of the certificate and of its root.
    key: the file of its key.
    root: what a device is to trust, in bytes (DER).
    fingerprint: of the certificate, SHA-256, as browsers show it.
    root_fingerprint: of the root, as a phone shows it.
    ends: when it runs out.
    """

    chain: Path
    key: Path
    root: bytes
    fingerprint: str
    root_fingerprint: str
    ends: datetime


def certificate(place: Where, names: tuple[str, ...], *, now: datetime) -> Certificate:
    """The certificate beside a notebook; made anew where its names changed or it runs out.

    Raises
    ------
    InputError: the folder cannot be written to.
    """
    folder = folder_of(place)
    chain, key = folder / "door.certificate", folder / "door.certificate.key"
    found = _standing(chain, key)
    if not found or not _holds(found[0], names, now=now):
        pem, secret = made(names, begins=now - timedelta(hours=1), lasts=LASTS)
        try:
            write_own(key, secret)
            write_own(chain, pem)
        except OSError as error:
            raise cannot_be_written("certificate", chain, error) from None
        found = _standing(chain, key)
    leaf, root = found
    prints = [one.fingerprint(hashes.SHA256()).hex(":").upper() for one in (leaf, root)]
    ends = leaf.not_valid_after_utc
    return Certificate(chain, key, root.public_bytes(Encoding.DER), prints[0], prints[1], ends)


def _standing(chain: Path, key: Path) -> list[x509.Certificate]:
    """Certificate and root on the disk; nothing where they or their key are not whole."""
    try:
        found = x509.load_pem_x509_certificates(chain.read_bytes())
        secret = load_pem_private_key(key.read_bytes(), password=None)
    except (OSError, ValueError):
        return []
    is_whole = len(found) == 2 and found[0].public_key() == secret.public_key()
    return found if is_whole else []


def _holds(leaf: x509.Certificate, names: tuple[str, ...], *, now: datetime) -> bool:
    told = leaf.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    is_in_time = leaf.not_valid_before_utc <= now < leaf.not_valid_after_utc - _RENEWED
    return is_in_time and list(told) == san(names)
