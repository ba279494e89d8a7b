"""Where lots came from and went: traces, orders, quarantine."""
