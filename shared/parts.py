"""Parts of a piece of furniture: finished size, bands, cut size, grain rule."""

from dataclasses import dataclass, field
from enum import StrEnum

from shared.lengths import Length


class GrainRule(StrEnum):
    """How a part wants the face grain of the sheet to run."""

    ALONG_LENGTH = "along length"
    ALONG_WIDTH = "along width"
    EITHER = "either"


@dataclass(frozen=True, slots=True, kw_only=True)
class Bands:
    """Thickness of the edge band on each edge, in ticks; 0 is a bare edge.

    A part is drawn with its length from left to right: the top and bottom edges
    run along the length, the left and right edges (the ends) along the width.
    """

    top: Length = 0
    bottom: Length = 0
    left: Length = 0
    right: Length = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One row of the take-off.

    Attributes
    ----------
    id
        Stable name inside the job; never a list position.
    name
        What the maker calls it.
    copies
        Number needed.
    length, width
        Finished size in ticks, bands included.
    material
        Name of the material it is cut from, as the stock rows spell it.
    grain_rule
        Whether the grain runs along its length, along its width, or either way.
    bands
        Edge bands, taken off the finished size to give the cut size.
    group
        Name of the match group it belongs to with all its copies; ``""`` for none.
    fit_allowance
        In ticks, more than 0 for a fit part, which waits for its mate to be built: its
        blank is so much longer and so much wider than planned. 0 for any other part.
    note
        Anything the maker wants to remember.
    """

    id: str
    name: str
    copies: int = 1
    length: Length
    width: Length
    material: str
    grain_rule: GrainRule = GrainRule.ALONG_LENGTH
    bands: Bands = field(default_factory=Bands)
    group: str = ""
    fit_allowance: Length = 0
    note: str = ""

    @property
    def bare_length(self) -> Length:
        """The finished length less the bands on both ends, in ticks."""
        return self.length - self.bands.left - self.bands.right

    @property
    def bare_width(self) -> Length:
        """The finished width less the bands on both long edges, in ticks."""
        return self.width - self.bands.top - self.bands.bottom

    @property
    def cut_length(self) -> Length:
        """Length to saw, in ticks, bands taken off; of a fit part that of its blank."""
        return self.bare_length + self.fit_allowance

    @property
    def cut_width(self) -> Length:
        """Width to saw, in ticks, bands taken off; of a fit part that of its blank."""
        return self.bare_width + self.fit_allowance
