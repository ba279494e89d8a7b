"""Records written down, corrected, attached to and shown; people."""
