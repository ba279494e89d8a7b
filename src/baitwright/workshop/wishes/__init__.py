"""A mix designed from wishes, or what clashes."""
