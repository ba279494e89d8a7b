"""The files of a batch: recipe, bench, factors, ingredients, and the demonstration's."""
