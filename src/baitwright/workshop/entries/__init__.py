"""Entries of the book: stock moved, tubs written down, and what follows when one is taken back."""
