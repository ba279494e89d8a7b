"""Thousands of designs planned in a row, on this machine or on many, into one table."""
