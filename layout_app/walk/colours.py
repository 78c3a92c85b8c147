"""Colours of the walk: as much contrast as there is, in light and in dark."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Colours:
    """Names as ``#rrggbb``.

    ``ground`` and ``ink`` are as far apart as can be; ``quiet`` is for what matters less;
    ``rail`` marks the rail and the reference edge; ``alarm`` cautions, on ``alarm_ground``.
    """

    ground: str
    ink: str
    quiet: str
    rail: str
    wood: str
    off: str
    waste: str
    kerf: str
    alarm: str
    alarm_ground: str


LIGHT = Colours(
    ground="#ffffff",
    ink="#000000",
    quiet="#3d3a35",
    rail="#00497a",
    wood="#f3e3c3",
    off="#c9dcea",
    waste="#d8d2c6",
    kerf="#000000",
    alarm="#7d0f00",
    alarm_ground="#ffe3dc",
)
DARK = Colours(
    ground="#000000",
    ink="#ffffff",
    quiet="#d0cac0",
    rail="#8fd0ff",
    wood="#5b4826",
    off="#1f4a68",
    waste="#3a3630",
    kerf="#ffffff",
    alarm="#ffd2c6",
    alarm_ground="#5a1a10",
)


def colours(*, dark: bool) -> Colours:
    """Return the colours by lamplight or by day."""
    return DARK if dark else LIGHT
