"""The file a mended mix came from, with the new mix in place of the old one."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from baitwright.materials.tables import slug
from baitwright.quantities import tidy
from baitwright.workshop.mending.mend_made import Mended
from baitwright.workshop.typed.toml_text import toml_text

_OF_RECIPE = "bait"
_WEIGHED = "dry_mix_per_egg"


def mended_file(told: Mended, data: Mapping[str, Any]) -> str:
    """The text of the file: a recipe, a mix or wishes as it was given.

    What was weighed of the old mix is not written; labels that have changed are.

    Parameters
    ----------
    told: the mended mix.
    data: the raw contents of the file that it came from.
    """
    assert told.made is not None
    shares = {
        name: f"{tidy(float(100 * share), 6)} %" for name, share in told.made.weighed.shares.items()
    }
    if _OF_RECIPE in data:
        base = {**data["base"], "name": told.asked.name, "parts": shares}
        return toml_text({**data, "base": base})
    gone = {one.id for one in told.asked.gone}
    made = {key: value for key, value in data.items() if key != _WEIGHED}
    if "ingredients" in made:
        kept = {key: one for key, one in made["ingredients"].items() if slug(key) not in gone}
        made["ingredients"] = kept
    if "parts" not in data:
        return toml_text({**made, "present": shares})
    if secret := told.asked.made_of({}).secret:
        made["secret"] = "; ".join(sorted(secret))
    else:
        made.pop("secret", None)
    return toml_text({**made, "name": told.asked.name, "parts": shares})
