"""The mix bench: what a base mix is made of, what it must hold, and the mix that does it best."""
