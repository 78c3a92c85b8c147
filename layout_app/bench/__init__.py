"""The bench: every sheet drawn to scale as the saw meets it, under the maker's hands.

`view` shows and hears, `scene` and `sheet_item` draw, `hand` turns presses and keys into
gestures (`carrying`, `resizing`, `moving_rips`), `twins` are the same by key, `snapping`
and `judge` say where a part may lie and whether the sheet can still be cut.
"""
