"""Labels of what was made, and the allergens that a lot holds."""
