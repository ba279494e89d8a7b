"""The same use cases for other programs, as JSON that an OpenAPI document describes."""
