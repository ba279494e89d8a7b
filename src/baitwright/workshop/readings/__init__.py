"""Readings and bottle tests against their plan, and what they teach."""
