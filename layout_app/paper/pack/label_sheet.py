"""How a sheet of labels is divided: what is usual, and what stands against a division."""

from collections.abc import Iterator
from dataclasses import dataclass

from layout_app.paper import ink
from layout_app.paper.pack.book import Paper

LEAST = (38.0, 20.0)
"""The smallest label that has room for name, size, cut and code, in mm."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LabelSheet:
    """How a sheet of labels is divided; lengths in mm.

    On A4 the usual division gives 63.5 by 29.6, a size of labels that is widely sold.

    Attributes
    ----------
    columns, rows
        Labels beside and below each other.
    left, top
        From the paper's edges to the first label; the other sides have the same.
    between_columns, between_rows
        Free between labels.
    borders
        Whether the borders are drawn, for plain paper that is cut.
    """

    columns: int = 3
    rows: int = 9
    left: float = 7.2
    top: float = 15.1
    between_columns: float = 2.5
    between_rows: float = 0.0
    borders: bool = False

    def faults(self, paper: Paper) -> Iterator[str]:
        """Yield why labels cannot be printed so; one sentence each."""
        if self.columns < 1 or self.rows < 1:
            yield "A sheet of labels needs one column and one row at least."
            return
        free = (self.left, self.top, self.between_columns, self.between_rows)
        if min(free) < 0:
            yield "Margins and gaps of labels cannot be less than nothing."
        length, width = self.size(paper)
        if length < LEAST[0] or width < LEAST[1]:
            yield (
                f"Labels would be {length:.1f} by {width:.1f} mm: they need"
                f" {LEAST[0]:.0f} by {LEAST[1]:.0f} at least. Take fewer columns or rows."
            )

    def size(self, paper: Paper) -> tuple[float, float]:
        """Return length and width of one label in mm."""
        length, width = paper.value
        length -= 2 * self.left + (self.columns - 1) * self.between_columns
        width -= 2 * self.top + (self.rows - 1) * self.between_rows
        return length / self.columns, width / self.rows

    def frames(self, paper: Paper) -> Iterator[ink.Spread]:
        """Yield where the labels of a sheet lie, row by row."""
        length, width = self.size(paper)
        for place in range(self.columns * self.rows):
            row, column = divmod(place, self.columns)
            yield ink.Spread(
                x=self.left + column * (length + self.between_columns),
                y=self.top + row * (width + self.between_rows),
                length=length,
                width=width,
            )
