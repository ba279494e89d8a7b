"""Baitwright: plan, make, prove and record hookbaits."""

__version__ = "0.1.0"
