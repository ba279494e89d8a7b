"""Recipes of the notebook, version after version."""
