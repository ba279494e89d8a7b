"""Forms: what may be written down, field by field, and read again."""
