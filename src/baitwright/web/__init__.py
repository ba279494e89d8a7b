"""The web workshop: pages and a JSON API over the use cases, on this machine unless told."""
