"""The notebook opened, copied once a day, and kept open for a door."""
