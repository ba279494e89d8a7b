"""The command line: what was typed, what to print, and how it ends."""
