"""What sawing takes as far as a layout decides it, whatever the order of the cuts is.

A layout fixes its cuts, its distinct set-ups, its skim cuts and its rips that have to be marked.
What else takes time (fetching a rail, lifting a piece, setting a size again) is the order's, and
`shared.making.timing` adds it up. Planning weighs layouts by these figures.
"""

from typing import NamedTuple

from shared.shop import Shop


class LayoutPace(NamedTuple):
    """Seconds for a cut, for a distinct set-up, and extra for a skim and an unguided rip."""

    cut_s: int = 60
    setup_s: int = 60
    skim_s: int = 60
    unguided_s: int = 60

    @classmethod
    def of(cls, shop: Shop) -> "LayoutPace":
        """Return the pace of a shop.

        A cut counts as one metre long (those of the neutral workshop lists are 0.8 m on the
        mean); what comes off a new setting is measured.
        """
        return cls(
            cut_s=shop.cut_s + shop.metre_s,
            setup_s=shop.setup_s + shop.measure_s,
            skim_s=shop.skim_s,
            unguided_s=0 if shop.guide is None else shop.unguided_s,
        )

    def seconds(self, *, cuts: int, setups: int, skims: int, unguided: int) -> int:
        """Return the time of so many of each."""
        whole = cuts * self.cut_s + setups * self.setup_s
        return whole + skims * self.skim_s + unguided * self.unguided_s
