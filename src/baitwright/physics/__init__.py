"""Water, air, food, set, moisture, buoyancy and transport in balls; knows nothing of bait."""
