"""From placements made by hand to cuts: the tree that yields them, or what stands in the way.

`find_tree` and `is_cuttable` look for cuts from edge to edge that the shop can make; `Watch`
does so while parts are moved about. `problems` says what is wrong where there are none, down
to the fewest parts that lock each other, and `beyond` which limit a cut breaks.
"""

from shared.recognise.allowed import Allowed, Beyond
from shared.recognise.boxes import SheetGround
from shared.recognise.finding import find_tree, is_cuttable, too_deep
from shared.recognise.live import Watch
from shared.recognise.prices import Pace, SetUps, setups
from shared.recognise.troubles import LayoutTrouble, Trouble, beyond, freed_by, locked, problems
from shared.recognise.where import places

__all__ = [
    "Allowed",
    "Beyond",
    "LayoutTrouble",
    "Pace",
    "SetUps",
    "SheetGround",
    "Trouble",
    "Watch",
    "beyond",
    "find_tree",
    "freed_by",
    "is_cuttable",
    "locked",
    "places",
    "problems",
    "setups",
    "too_deep",
]
