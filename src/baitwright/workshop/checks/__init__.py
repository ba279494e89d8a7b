"""Whether the installation is whole, and the schemas of every file."""
