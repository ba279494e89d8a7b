"""What is told back: plain data, tables, files, parts of a page."""
