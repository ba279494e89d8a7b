"""Cautions, allergens, blends and packs, and what bags or a night take to a water."""
