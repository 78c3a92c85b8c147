"""Line widths and colours on paper.

Widths are of the series of ISO 128 (each the square root of two times the one before, narrow
to wide as 1 to 2), at the text size on paper; larger text has wider lines.
"""

from dataclasses import dataclass, replace

from layout_app.look.theme import Theme
from layout_app.paper.ink import Pen

TEXT = 3.9
"""Size in mm of what is read from a wall: capitals of 2.8 mm.

At 60 cm that is 16 minutes of arc, the least that ISO 9241-303 (from memory) asks of what has
to be read with ease.
"""
OUTLINE, CUT, NARROW, HATCH = 0.5, 0.35, 0.25, 0.18

COLOURED = Theme.light()
BLACK_AND_WHITE = replace(
    Theme.high_contrast(dark=False),
    graphite="#000000",
    pencil="#000000",
    wood="#ffffff",
    grain="#999999",
    grain_heavy="#777777",
    kerf="#ffffff",
    waste="#ffffff",
    waste_hatch="#000000",
    keeper="#ffffff",
    keeper_hatch="#000000",
    card="#ffffff",
    tag="#ffffff",
    tag_line="#000000",
    on_tag="#000000",
    tints=("#ffffff",),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class PaperHand:
    """How a drawing is drawn: text size in mm, and colours."""

    size: float
    colours: Theme = COLOURED

    def pen(self, width: float, colour: str, dashes: tuple[float, ...] = ()) -> Pen:
        """Return a pen of a width of the series; dashes in text sizes."""
        return Pen(
            width=width * self.size / TEXT,
            colour=colour,
            dashes=tuple(dash * self.size for dash in dashes),
        )
