"""The whole notebook: exported, brought in, made anew, purged."""
