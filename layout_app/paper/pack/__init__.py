"""The cut pack: pages a maker pins to the wall, composed of items in millimetres.

`book` fills pages from top to bottom; each other module composes one kind of page. All words
are of a size that is read at arm's length, black on white.
"""
