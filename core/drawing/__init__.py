"""Plan and elevations as marks, for the window's sheet and for paper.

Holds shapes only; no colour, no Qt, no file format.
"""
