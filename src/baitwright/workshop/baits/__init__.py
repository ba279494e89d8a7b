"""Two baits side by side: free bait to hookbait, winter to summer."""
