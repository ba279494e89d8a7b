"""What a workshop for other devices has besides: sign-ins, and the count of wrong ones."""

from __future__ import annotations

from dataclasses import dataclass, field

from anyio import CapacityLimiter
from starlette.requests import Request

from baitwright.notebook.where import Where
from baitwright.web.attempts import Attempts
from baitwright.workshop.keys.sessions import Sessions


@dataclass(frozen=True, slots=True)
class Lan:
    """The door to other devices.

    Parameters
    ----------
    place: of the notebook, beside which the passphrase is kept.
    sessions: who is signed in.
    attempts: wrong tries.
    root: the certificate that devices may trust; none where nothing is encrypted.
    one_at_a_time: checks of a passphrase; each takes memory and a core for a moment.
    """

    place: Where
    sessions: Sessions
    attempts: Attempts = field(default_factory=Attempts)
    root: bytes | None = None
    one_at_a_time: CapacityLimiter = field(default_factory=lambda: CapacityLimiter(1))

    @property
    def is_tls(self) -> bool:
        """Whether nobody on the way can read along."""
        return self.root is not None

    @property
    def cookie(self) -> str:
        """The name under which a browser holds its session."""
        return "__Host-baitwright" if self.is_tls else "baitwright-session"


def is_signed_in(request: Request) -> bool:
    """Whether a session asks; on this machine alone there is none."""
    return getattr(request.state, "is_signed_in", False)
