"""A mix mended when an ingredient is gone or another."""
