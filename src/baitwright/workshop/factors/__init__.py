"""The maker's own factors out of the notebook, and the plans that go by them."""
