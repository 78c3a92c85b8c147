"""A fit part is measured: its blank is cut to that, or is too small and another is needed."""

from dataclasses import replace

from shared.finding import say_size
from shared.lengths import Length, LengthStyle
from shared.parts import Part


def measured(part: Part, length: Length, width: Length) -> Part:
    """Return a fit part with its measured size in ticks, bands included; 0 for not yet.

    Where the blank is smaller than that, the part is planned as large as it was measured: it
    needs another blank.
    """
    new = replace(part, measured_length=length, measured_width=width)
    if new.waits:
        return new
    longer, wider = new.sawn_length > new.cut_length, new.sawn_width > new.cut_width
    return replace(
        new,
        length=length if longer else new.length,
        width=width if wider else new.width,
    )


def too_small(part: Part, new: Part, style: LengthStyle) -> str:
    """Say that the blank of a part does not do for what was measured; ``""`` if it does."""
    if (part.length, part.width) == (new.length, new.width):
        return ""
    blank = say_size(part.cut_length, part.cut_width, style)
    wanted = say_size(new.sawn_length, new.sawn_width, style)
    return (
        f"{part.name}: the blank, {blank}, is too small for {wanted} as measured. It is an offcut"
        " now, and another blank is planned from new stock."
    )
