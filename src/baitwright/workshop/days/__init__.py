"""Several batches in one day, and what an outing takes."""
