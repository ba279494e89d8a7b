"""The strip of steps at the bench, what is tapped on it, and a batch's own file."""
