"""The rules of a water held against what is planned."""
