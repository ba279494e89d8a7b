"""A base mix taken apart: what it holds, costs and may be told of."""
