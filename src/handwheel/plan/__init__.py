"""The route: a `Drawing` and a `Workshop` to a `Plan`."""
