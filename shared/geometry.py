"""Rectangles in the frame of a sheet.

Frame: the origin is the reference corner of the untrimmed sheet; x runs along the
reference edge (the sheet's length), y away from it (downwards on screen and in SVG).
All coordinates are integer ticks.
"""

from dataclasses import dataclass

from shared.lengths import Length


@dataclass(frozen=True, slots=True, kw_only=True)
class Rect:
    """A rectangle: corner nearest the reference corner, extent along x, extent along y."""

    x: Length
    y: Length
    length: Length
    width: Length

    @property
    def right(self) -> Length:
        """The x of the edge away from the origin."""
        return self.x + self.length

    @property
    def bottom(self) -> Length:
        """The y of the edge away from the origin."""
        return self.y + self.width

    @property
    def area(self) -> int:
        """Area in square ticks, exact."""
        return self.length * self.width

    def overlaps(self, other: "Rect") -> bool:
        """Say whether the two share inside, not merely border."""
        return (
            self.x < other.right
            and other.x < self.right
            and self.y < other.bottom
            and other.y < self.bottom
        )

    def common(self, other: "Rect") -> "Rect | None":
        """Return what lies in both, or ``None`` when they share no inside."""
        if not self.overlaps(other):
            return None
        x, y = max(self.x, other.x), max(self.y, other.y)
        right, bottom = min(self.right, other.right), min(self.bottom, other.bottom)
        return Rect(x=x, y=y, length=right - x, width=bottom - y)

    def touches(self, other: "Rect") -> bool:
        """Say whether the two share border and no inside."""
        return (
            not self.overlaps(other)
            and self.x <= other.right
            and other.x <= self.right
            and self.y <= other.bottom
            and other.y <= self.bottom
        )

    def contains(self, other: "Rect") -> bool:
        """Say whether the other lies inside this one, borders allowed."""
        return (
            self.x <= other.x
            and self.y <= other.y
            and other.right <= self.right
            and other.bottom <= self.bottom
        )
