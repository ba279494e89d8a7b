"""The words that travel through every room of the house: bands, quantities, factors, records, errors."""
