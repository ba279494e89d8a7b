"""A certificate and the root that signed it, whose key is forgotten when this is done."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from ipaddress import ip_address

from cryptography import x509
from cryptography.hazmat.primitives import hashes
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.hazmat.primitives.serialization import Encoding, NoEncryption, PrivateFormat
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

_CALLED = "Baitwright workshop"
_USES = (
    *("digital_signature", "content_commitment", "key_encipherment", "data_encipherment"),
    *("key_agreement", "key_cert_sign", "crl_sign", "encipher_only", "decipher_only"),
)


@dataclass(frozen=True, slots=True)
class _Span:
    begins: datetime
    ends: datetime


def made(names: tuple[str, ...], *, begins: datetime, lasts: timedelta) -> tuple[bytes, bytes]:
    """Certificate with root, and the certificate's key, as text (PEM).

    Parameters
    ----------
    names: what it is for; addresses too.
    begins: when it begins to hold.
    lasts: for how long.
    """
    span = _Span(begins, begins + lasts)
    root_key, key = (ec.generate_private_key(ec.SECP256R1()) for _ in range(2))
    root_name = _name(f"{_CALLED}, made {begins:%Y-%m-%d}")
    root = (
        _begun(root_name, root_key, span)
        .issuer_name(root_name)
        .add_extension(x509.BasicConstraints(ca=True, path_length=0), critical=True)
        .add_extension(_usage("key_cert_sign", "crl_sign"), critical=True)
        .sign(root_key, hashes.SHA256())
    )
    leaf = (
        _begun(_name(_CALLED), key, span)
        .issuer_name(root_name)
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(_usage("digital_signature"), critical=True)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        .add_extension(x509.SubjectAlternativeName(san(names)), critical=False)
        .add_extension(_issued_by(root_key), critical=False)
        .sign(root_key, hashes.SHA256())
    )
    pem = b"".join(one.public_bytes(Encoding.PEM) for one in (leaf, root))
    return pem, key.private_bytes(Encoding.PEM, PrivateFormat.PKCS8, NoEncryption())


def san(names: tuple[str, ...]) -> list[x509.GeneralName]:
    """Names and addresses as a certificate tells them, each once."""
    told: list[x509.GeneralName] = []
    for name in sorted(set(names)):
        try:
            told.append(x509.IPAddress(ip_address(name.strip("[]"))))
        except ValueError:
            told.append(x509.DNSName(name))
    return told


def _begun(
    name: x509.Name, key: ec.EllipticCurvePrivateKey, span: _Span
) -> x509.CertificateBuilder:
    public = key.public_key()
    return (
        x509.CertificateBuilder()
        .subject_name(name)
        .public_key(public)
        .serial_number(x509.random_serial_number())
        .not_valid_before(span.begins)
        .not_valid_after(span.ends)
        .add_extension(x509.SubjectKeyIdentifier.from_public_key(public), critical=False)
    )


def _issued_by(root_key: ec.EllipticCurvePrivateKey) -> x509.AuthorityKeyIdentifier:
    return x509.AuthorityKeyIdentifier.from_issuer_public_key(root_key.public_key())


def _name(told: str) -> x509.Name:
    return x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, told)])


def _usage(*allowed: str) -> x509.KeyUsage:
    return x509.KeyUsage(**{use: use in allowed for use in _USES})
