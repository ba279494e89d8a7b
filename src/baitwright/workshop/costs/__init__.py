"""What things cost, and what is asked for them."""
