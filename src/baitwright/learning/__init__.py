"""The way back: readings score the plan, then move the maker's own factors."""
