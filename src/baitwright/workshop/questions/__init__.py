"""Questions of customers, their answers, and copies that travel."""
