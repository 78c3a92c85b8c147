"""From a solution in the solver's numbers to trees of cuts in the frame of the sheets."""
