"""Who is let in: passphrase, sessions, certificate."""
