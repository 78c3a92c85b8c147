"""In which order to make the passes of a forest, with as few set-up changes as can be."""
