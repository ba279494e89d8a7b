"""Batches of the notebook: planned, made, bagged, and beside the good ones."""
