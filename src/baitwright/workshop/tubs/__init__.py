"""Tubs of mix and blends of liquid: made, told of, and at rest."""
