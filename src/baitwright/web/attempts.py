"""Wrong tries at the passphrase are counted, and have to wait longer and longer."""

from __future__ import annotations

import time
from collections import OrderedDict, deque
from collections.abc import Callable
from dataclasses import dataclass
from ipaddress import ip_address

FREE = 5
"""Wrong tries from one address before it waits."""
FIRST_WAIT, LONGEST_WAIT = 30.0, 3600.0
"""Seconds; each further wrong try doubles them."""
FORGOTTEN = 86_400.0
"""Seconds after its last wrong try that an address is forgotten."""
TOGETHER, WINDOW = 50, 600.0
"""Wrong tries from all other devices together, within so many seconds."""
_MOST = 10_000
"""Addresses remembered; more than a house network has."""


@dataclass(slots=True)
class _Wrong:
    tries: int = 0
    last: float = 0.0


class Attempts:
    """Wrong tries, by address and together.

    This machine itself is counted as an address and left out of the count together: whoever tries
    words from elsewhere cannot keep the maker from the machine that stands in front of them.

    Parameters
    ----------
    clock: seconds that only go forward.
    """

    def __init__(self, clock: Callable[[], float] = time.monotonic) -> None:
        self._clock = clock
        self._by_address: OrderedDict[str, _Wrong] = OrderedDict()
        self._together: deque[float] = deque(maxlen=TOGETHER)

    def wait(self, address: str) -> float:
        """Seconds until an address may try; 0 where it may now."""
        now, ends = self._clock(), [0.0]
        found = self._by_address.get(address)
        if found is not None and found.tries >= FREE:
            doubled = min(LONGEST_WAIT, FIRST_WAIT * 2.0 ** min(found.tries - FREE, 32))
            ends.append(found.last + doubled - now)
        if len(self._together) == TOGETHER and not _is_here(address):
            ends.append(self._together[0] + WINDOW - now)
        return max(ends)

    def wrong(self, address: str) -> None:
        """Count a wrong try."""
        now = self._clock()
        found = self._by_address.pop(address, None)
        if found is None or now - found.last > FORGOTTEN:
            found = _Wrong()
        self._by_address[address] = _Wrong(found.tries + 1, now)
        while len(self._by_address) > _MOST:
            self._by_address.popitem(last=False)
        if not _is_here(address):
            self._together.append(now)

    def right(self, address: str) -> None:
        """Forget an address that knew the passphrase."""
        self._by_address.pop(address, None)


def _is_here(address: str) -> bool:
    try:
        return ip_address(address).is_loopback
    except ValueError:
        return False
