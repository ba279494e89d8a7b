"""A year of the notebook."""
