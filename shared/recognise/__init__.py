"""From placements made by hand to cuts: the tree that yields them, or what stands in the way.

`find_tree` and `is_cuttable` look for cuts from edge to edge; `problems` says what is wrong
where there are none, down to the fewest parts that lock each other.
"""

from shared.recognise.allowed import Allowed
from shared.recognise.finding import find_tree, is_cuttable
from shared.recognise.prices import Pace
from shared.recognise.troubles import Problem, Trouble, freed_by, locked, problems

__all__ = [
    "Allowed",
    "Pace",
    "Problem",
    "Trouble",
    "find_tree",
    "freed_by",
    "is_cuttable",
    "locked",
    "problems",
]
