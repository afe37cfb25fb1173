"""What is at hand: a workshop file to a `Workshop`."""
