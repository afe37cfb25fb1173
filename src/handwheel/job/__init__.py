"""Reading: a job file's text to a `Job`, every fault at once with its place."""
