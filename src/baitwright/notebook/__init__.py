"""The maker's memory: every recipe, batch and movement of stock, each change beside the last."""
