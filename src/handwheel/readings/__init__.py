"""Readings: every move in turns and divisions of that workshop's own wheels."""
