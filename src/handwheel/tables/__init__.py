"""Published tables (threads, drills, ISO 286, ISO 2768-1), read from data files that name their source."""
