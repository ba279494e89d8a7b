"""The words that travel through the house: bands, quantities, factors, records, errors."""
