"""Nights at the water, counted, and what is doubtful of one."""
