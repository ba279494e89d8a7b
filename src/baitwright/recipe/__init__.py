"""What the maker decides: the bait wanted, the base mix, the levels, the bench it is made on."""
