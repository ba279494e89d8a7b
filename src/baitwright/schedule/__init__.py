"""Several batches in one day: who has the hands, the pot and the trays, and when to begin."""
