"""The invented season of the demonstration."""
