"""What a cut costs while the cheapest tree is sought: its own seconds, and a share of a set-up.

A set-up is paid once and then serves every cut of its level and size, so its cost is no
sum over pieces. It is spread over the cuts that used it in the tree before, and the
search repeated: slope scaling, after Kim and Pardalos, "A solution approach to the fixed
charge network flow problem using a dynamic slope scaling procedure", Operations Research
Letters 24 (1999).
"""

from collections import Counter
from collections.abc import Sequence
from typing import ClassVar, NamedTuple, TypeAlias

from shared.geometry import Rect
from shared.lengths import Length
from shared.pace import LayoutPace
from shared.recognise.boxes import Box
from shared.recognise.sawn import SawnRun
from shared.shop import Axis, Shop
from shared.tree import Run

SetUps: TypeAlias = frozenset[tuple[int, Length]]
"""Set-ups by level and size."""

Uses: TypeAlias = Counter[tuple[int, Length]]
"""How many cuts are made with each set-up: level and size."""

SHARES = 5040
"""Parts of a second; divisible by 1 to 10, so that usual shares are exact."""

DEEP = SHARES * 10**7
"""Cost of a cut deeper than the rule has it: more than all sawing of a sheet."""

BEYOND = DEEP * 10**4
"""Cost of a cut beyond the shop's limits: more than any depth."""

LEVELS = 6
"""Depth for which the first prices are guessed."""


class Pace(NamedTuple):
    """Seconds for a cut, for a set-up, and extra for a skim."""

    cut_s: int = 60
    setup_s: int = 60
    skim_s: int = 60

    @classmethod
    def of(cls, shop: Shop) -> "Pace":
        """Return the pace of a shop, as far as a tree decides it."""
        pace = LayoutPace.of(shop)
        return cls(pace.cut_s, pace.setup_s, pace.skim_s)

    def seconds(self, sawn: SawnRun, kerf: Length, free: SetUps = frozenset()) -> int:
        """Return the time to saw a tree; the set-ups of trims, the same for all, are left out.

        ``free`` set-ups are made anyway, for other sheets.
        """
        uses = Counter(sawn.cuts())
        cuts, skims = uses.total() + sawn.trims(), sawn.skims(kerf)
        return cuts * self.cut_s + len(uses.keys() - free) * self.setup_s + skims * self.skim_s


class CutPrices:
    """Cost of a cut by level and size, in shares of a second; ``free`` set-ups cost nothing."""

    NONE: ClassVar["CutPrices"]

    def __init__(self, pace: Pace, uses: Uses, free: SetUps = frozenset()) -> None:
        self.cut = pace.cut_s * SHARES
        self.skim = pace.skim_s * SHARES
        setup = pace.setup_s * SHARES
        self._alone = self.cut + setup
        self._shared = {key: self.cut + setup // number for key, number in uses.items()}
        self._shared |= dict.fromkeys(free, self.cut)

    def of(self, level: int, size: Length) -> int:
        """Return the cost of a cut and its share of the set-up."""
        return self._shared.get((level, size), self._alone)


CutPrices.NONE = CutPrices(Pace(0, 0, 0), Counter())


def guess(boxes: Sequence[Box], first: Axis) -> Uses:
    """Guess the uses of set-ups before there is a tree: a size serves all parts that have it."""
    heights = Counter(box[3] - box[1] for box in boxes)
    lengths = Counter(box[2] - box[0] for box in boxes)
    odd, even = (heights, lengths) if first is Axis.RIP else (lengths, heights)
    return Counter(
        {
            (level, size): number
            for level in range(1, LEVELS + 1)
            for size, number in (odd if level % 2 else even).items()
        }
    )


def setups(tree: Run, sheet: Rect, kerf: Length) -> SetUps:
    """Return the set-ups that a tree needs, trims left out; kerf in ticks."""
    area = (sheet.x, sheet.y, sheet.right, sheet.bottom)
    return frozenset(SawnRun.of(tree, area, kerf).cuts())
