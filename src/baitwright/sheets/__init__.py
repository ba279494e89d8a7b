"""What leaves the house: the plan as text, the bench sheet, the calendar, every number opened."""
