"""What is timed; a package, so that no distribution's folder of this name comes before it."""
