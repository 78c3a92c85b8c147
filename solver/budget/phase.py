"""What the planner is at, and by which method something was found."""

from enum import StrEnum


class Phase(StrEnum):
    """What the planner is at."""

    START = "first plan"
    SQUEEZE = "fewer sheets"
    PROVE = "proof"
    SAWING = "less sawing"
    TRADE = "other choices"
    CUTS = "bound on cuts"


class Method(StrEnum):
    """How a plan or a bound was found."""

    QUICK = "quick bounds"
    CONSTRUCTION = "construction"
    SQUEEZING = "ruin and recreate"
    COLUMNS = "column generation"
    STRIPS = "choice of strips"
    WASTE = "column generation for waste pieces"
    COMPACT = "compact model"
    ANNEALING = "annealing"
