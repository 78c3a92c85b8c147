"""How the size of an offcut is told: rounded down, so that none is promised larger than it is.

What is computed stays exact; a later plan that counts on the size told never comes out short.
"""

from shared.lengths import Length, LengthStyle, format_length, round_down


def offcut_side(ticks: Length, style: LengthStyle) -> str:
    """Write one side of an offcut without its unit, at most as long as it is."""
    return format_length(round_down(ticks, style), style)


def offcut_size(length: Length, width: Length, style: LengthStyle) -> str:
    """Write the size of an offcut, such as ``L 31 × W 23 5/8``, without the unit."""
    return f"L {offcut_side(length, style)} × W {offcut_side(width, style)}"
