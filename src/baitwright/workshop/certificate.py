"""The certificate of a workshop for other devices: made on this machine, for its own names.

A root signs one certificate and is then forgotten: its key is never written down. A phone that
trusts the root trusts this workshop and nothing that anybody could make later.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING

from baitwright.notebook.where import Where, folder_of
from baitwright.terms.errors import InputError
from baitwright.workshop.own_file import cannot_be_written, write_own

if TYPE_CHECKING:
    from cryptography import x509

LASTS = timedelta(days=397)
"""What browsers accept of a certificate at most, less a day (CA/Browser Forum, 398 days)."""
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
    InputError: the extra is missing, or the folder cannot be written to.
    """
    _need_extra()
    from cryptography.hazmat.primitives import hashes
    from cryptography.hazmat.primitives.serialization import Encoding

    from baitwright.workshop.certificate_made import made

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
    from cryptography.hazmat.primitives.serialization import load_pem_private_key
    from cryptography.x509 import load_pem_x509_certificates

    try:
        found = load_pem_x509_certificates(chain.read_bytes())
        secret = load_pem_private_key(key.read_bytes(), password=None)
    except (OSError, ValueError):
        return []
    is_whole = len(found) == 2 and found[0].public_key() == secret.public_key()
    return found if is_whole else []


def _holds(leaf: x509.Certificate, names: tuple[str, ...], *, now: datetime) -> bool:
    from cryptography.x509 import SubjectAlternativeName

    from baitwright.workshop.certificate_made import san

    told = leaf.extensions.get_extension_for_class(SubjectAlternativeName).value
    is_in_time = leaf.not_valid_before_utc <= now < leaf.not_valid_after_utc - _RENEWED
    return is_in_time and list(told) == san(names)


def _need_extra() -> None:
    try:
        import cryptography  # noqa: F401
    except ImportError as error:
        hint = f'`pip install "baitwright[lan]"` installs it ({error}).'
        raise InputError("tls", "no cryptography", "the extra lan", hint=hint) from None
