"""At the sawhorses: a full-screen walk through the cuts, one a press.

`moments` are what is shown one after the other; `colours` those that are legible through
dust; `lettering`, `picture` and `pages` paint a moment; `view` takes keys and pedals.
"""
