"""What a maker types: fields of a file, names, days, amounts, and every error they may meet."""
