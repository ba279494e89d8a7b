"""Draws on two levels, bands from draws, and what moves a result most."""
