"""What the terminal says when the workshop opens for other devices."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from baitwright.workshop.keys.certificate import Certificate

_OPEN = """\
this is not encrypted: others on the network can read along, the passphrase too.
Open it so only on a network that you share with nobody else; --tls encrypts it.
Without it a phone will not keep its screen awake, nor open the bench when the workshop is away."""
_TRUST = """\
encrypted until {ends}, with a certificate made on this machine. Browsers warn of it, for nobody
they know has signed it; go on only if the SHA-256 that they show is this one:
  {fingerprint}
A phone that was told to go on may still refuse to keep its screen awake or to open the bench when
the workshop is away. It does not once it trusts the workshop: open {address}certificate.crt there,
compare its SHA-256 with this one, letter by letter,
  {root_fingerprint}
and only then trust it in the phone's settings (Android: install a CA certificate; iOS: install the
profile, then switch on full trust for it). The key that signed it was never written down, so that
nothing else can come to be trusted by it. Take it off again when you give the phone away."""


def told_at_door(addresses: Sequence[str], certificate: Certificate | None) -> str:
    """Where other devices find it, and what they can and cannot trust."""
    lines = ["on other devices: " + "   ".join(addresses)]
    if certificate is None:
        return "\n".join((*lines, _OPEN))
    told = _TRUST.format(
        ends=f"{certificate.ends:%Y-%m-%d}",
        fingerprint=certificate.fingerprint,
        root_fingerprint=certificate.root_fingerprint,
        address=addresses[0],
    )
    return "\n".join((*lines, told))
