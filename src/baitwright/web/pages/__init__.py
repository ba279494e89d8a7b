"""The pages, one file for each thing a maker goes to."""
