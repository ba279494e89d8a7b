"""What some of the workshop's doors need besides, and how to come by it."""

from __future__ import annotations

from importlib import import_module

from baitwright.terms.errors import InputError


def need_extra(extra: str, *libraries: str) -> None:
    """Refuse to go on where a library of an extra is not installed.

    Raises
    ------
    InputError: which one, and how to install it.
    """
    for library in libraries:
        try:
            import_module(library)
        except ImportError as error:
            hint = f'`pip install "baitwright[{extra}]"` installs it ({error}).'
            raise InputError(extra, f"no {library}", f"the extra {extra}", hint=hint) from None
