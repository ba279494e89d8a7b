"""The arithmetic of stock, cost, expiry and traces: no store, no clock, no floats that drift."""
