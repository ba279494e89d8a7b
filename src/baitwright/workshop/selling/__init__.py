"""Orders, packs, kits, slips and takings."""
