"""The command line: the only package, with the web later, that reads and writes files."""
