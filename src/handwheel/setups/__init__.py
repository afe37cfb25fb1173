"""Delicate set-ups as worked procedures: how they are set, what a wrong one makes, and its correction."""
