"""A batch at the bench: plan saved, taps, what was told, what stands on the trays."""
