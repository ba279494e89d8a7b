"""What stands on the shelf: tables with a source on every row, and the look-ups that read them."""
