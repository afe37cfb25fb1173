"""The metal left: sections, what a tool cuts from them, and the checks."""
