"""What stands on the shelf: items, lots, deliveries, and what is drawn."""
