"""A table that the keys can leave: Tab goes along a row, and on to what stands behind the table."""

from PySide6.QtWidgets import QTableView


class AlongRow(QTableView):
    """Tab and Shift+Tab go from cell to cell and leave at the ends of the row; arrows go on."""

    def focusNextPrevChild(self, onward: bool) -> bool:
        """Go to the cell beside, or leave."""
        now = self.currentIndex()
        last = self.model().columnCount() - 1 if onward else 0
        heading = self.columnSpan(now.row(), now.column()) > 1
        if now.isValid() and now.column() != last and not heading:
            return super().focusNextPrevChild(onward)
        return self.leave(onward)

    def leave(self, onward: bool) -> bool:
        """Give the keys to what stands behind the table, or before it."""
        self.setTabKeyNavigation(False)
        left = super().focusNextPrevChild(onward)
        self.setTabKeyNavigation(True)
        return left
