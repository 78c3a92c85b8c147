"""Panels of the cut pack: one each time a piece lies on the sawhorses, with all its cuts there.

`gathering` finds the panels of a sequence of cuts; the other modules say, draw and set them.
"""
