"""How much for these eggs: levels on every basis, at once."""
