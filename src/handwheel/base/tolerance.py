"""The one tolerance of geometric equality, and how finely arcs are drawn."""

EQUAL_MM = 1e-6
"""Two lengths nearer than this are the same length. [mm]"""

CHORD_MM = 0.0004
"""Greatest distance between an arc and the chords that stand for it in a polygon. [mm]"""
