"""Which bait did best, trials before they start, and how steady batches are."""
