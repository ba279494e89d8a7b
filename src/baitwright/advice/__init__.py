"""The question desk: why a batch failed, what calls for care, what a water allows."""
