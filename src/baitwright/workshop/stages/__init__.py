"""One stage by itself: seconds in the pot, a night in the lake, a bait on its rig."""
