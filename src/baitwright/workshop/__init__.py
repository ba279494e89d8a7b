"""The use cases: one small file for each thing a maker asks."""
