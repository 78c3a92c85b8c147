"""Theme, pens, labels that keep words as typed, the asking bar, settings of a window."""
