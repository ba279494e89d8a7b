"""A batch planned from its files or from a page, and shown, opened and written."""
