"""The package psychrolib without numba, whose compiler takes seconds before the first answer."""

import sys
from unittest.mock import patch

with patch.dict(sys.modules, {"numba": None}):
    import psychrolib

psychrolib.SetUnitSystem(psychrolib.SI)

__all__ = ["psychrolib"]
