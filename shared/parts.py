"""Parts of a piece of furniture: finished size, bands, cut size, grain rule."""

from dataclasses import dataclass, field
from enum import StrEnum

from shared.lengths import Length

Copy = tuple[str, int]
"""Part id and number of the copy, from 1."""


def numbered(name: str, copy: int, copies: int) -> str:
    """Return what a copy is called, such as ``Case side 2``; an only one has no number."""
    return f"{name} {copy}" if copies > 1 else name


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
    measured_length, measured_width
        Finished size of a fit part once its opening is measured, in ticks, bands included;
        0 while it is not.
    oversize
        In ticks, more than 0 for a part that is cut so much larger both ways at the rail,
        and finished at the table saw.
    show
        Whether its face is shown: it keeps clear of knots.
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
    measured_length: Length = 0
    measured_width: Length = 0
    oversize: Length = 0
    show: bool = False
    note: str = ""

    def named(self, copy: int) -> str:
        """Return what a copy is called, such as ``Case side 2``."""
        return numbered(self.name, copy, self.copies)

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
        """Length to saw from the sheet, in ticks, bands taken off; of a blank all of it."""
        return self.bare_length + self.fit_allowance + self.oversize

    @property
    def cut_width(self) -> Length:
        """Width to saw from the sheet, in ticks, bands taken off; of a blank all of it."""
        return self.bare_width + self.fit_allowance + self.oversize

    @property
    def waits(self) -> bool:
        """Whether it is a fit part that is not measured yet: its blank stays as it is."""
        return self.fit_allowance > 0 and not (self.measured_length and self.measured_width)

    @property
    def sawn_length(self) -> Length:
        """Length after the last cut, in ticks, bands taken off; less than that of the blank."""
        if self.waits:
            return self.cut_length
        finished = self.measured_length if self.fit_allowance else self.length
        return finished - self.bands.left - self.bands.right

    @property
    def sawn_width(self) -> Length:
        """Width after the last cut, in ticks, bands taken off; less than that of the blank."""
        if self.waits:
            return self.cut_width
        finished = self.measured_width if self.fit_allowance else self.width
        return finished - self.bands.top - self.bands.bottom
