"""Sheets on pages: each as large as it has room, several on a page where nothing is lost by it."""

from collections.abc import Sequence
from typing import Final

from layout_app.model.words.wording import sheet_names
from layout_app.paper import ink
from layout_app.paper.equal_sheets import together
from layout_app.paper.fitting import Fitting, Sheets, Stack, fit_sheet, fit_stack, lies
from layout_app.paper.matter import Matter
from layout_app.paper.pack.book import Book
from shared.drawing import SheetDrawing

MOST: Final = 4
"""So many drawings stand on a page at most."""
SMALLER: Final = 1.7
"""Beside others a sheet is drawn at most so many times smaller than alone."""
MORE: Final = 4
"""Beside others so many parts more may have letters, and so many numbers led to their cut."""
SQUARE: Final = 1.5
"""A sheet less long for its width may stand on either kind of page."""
LARGE: Final = 12
"""One to so many is large enough beside others, however large a sheet could be alone."""


def put_diagrams(book: Book, matter: Matter) -> None:
    """Put all sheets; a list that has no room on the page of its sheet stands behind it."""
    _Pages(book, matter).put(together(matter.drawings))


class _Pages:
    """Pages of sheets on their way."""

    def __init__(self, book: Book, matter: Matter) -> None:
        self._book, self._matter = book, matter
        self._alone: dict[str, Fitting] = {}

    def put(self, sheets: Sequence[Sheets]) -> None:
        """Put sheets in their order, as many on a page as may share it."""
        left = list(sheets)
        while left:
            several = [left[:count] for count in range(min(MOST, len(left)), 0, -1)]
            free = [self._book.room] if self._book.upright else []
            if found := self._first(several, free):
                self._book.follow(_heading(found.sheets), found.height)
            elif found := self._first(several[:-1], self._empty):
                self._book.turn(_heading(found.sheets), lying=found.lying)
            else:
                self._put_alone(left.pop(0))
                continue
            self._book.put(found.height, found.draw)
            left = left[len(found.sheets) :]

    @property
    def _empty(self) -> list[ink.Spread]:
        return [self._book.empty(lying=lying) for lying in (False, True)]

    def _first(
        self, several: Sequence[Sequence[Sheets]], frames: Sequence[ink.Spread]
    ) -> Stack | None:
        """Return as many sheets as may share one of these frames."""
        made = (self._sharing(sheets, frames) for sheets in several)
        return next(filter(None, made), None)

    def _sharing(self, sheets: Sequence[Sheets], frames: Sequence[ink.Spread]) -> Stack | None:
        """Return sheets where they are largest, if each is read there as well as alone."""
        alone = [self._fitted_alone(one) for one in sheets]
        if any(one.left_over for one in alone):
            return None
        most = min(max(SMALLER * one.scale, LARGE) for one in alone)
        made = (fit_stack(sheets, self._matter, frame, most) for frame in frames)
        found = [one for one in made if one is not None and self._tells_as_much(one, alone)]
        return min(found, key=lambda one: one.scale, default=None)

    def _tells_as_much(self, stack: Stack, alone: Sequence[Fitting]) -> bool:
        """Say whether hardly a name becomes a letter, and nothing is missing that was there."""
        return all(
            shared.letters <= one.lost.letters + MORE
            and shared.led <= one.lost.led + MORE
            and shared.missing <= one.lost.missing
            for shared, one in zip(stack.lost, alone, strict=True)
        )

    def _fitted_alone(self, sheets: Sheets) -> Fitting:
        """Return sheets on a page of their own that lies or stands, whichever has more room."""
        first, *equal = sheets
        if first.sheet not in self._alone:
            ways = [lies(first)] if _is_long(first) else [lies(first), not lies(first)]
            made = [
                fit_sheet(first, self._matter, self._book.empty(lying=lying), equal=equal)
                for lying in ways
            ]
            self._alone[first.sheet] = min(made, key=lambda one: (len(one.left_over), one.scale))
        return self._alone[first.sheet]

    def _put_alone(self, sheets: Sheets) -> None:
        fitting = self._fitted_alone(sheets)
        self._book.turn(_heading([sheets]), lying=fitting.lying)
        self._book.fill(fitting.items)
        if fitting.left_over:
            self._book.turn(f"{_heading([sheets])}, list", lying=fitting.lying)
            self._book.points(fitting.left_over)


def _is_long(drawing: SheetDrawing) -> bool:
    """Say whether a sheet is so much longer than wide, or wider, that one kind of page suits it."""
    length, width = drawing.rect.length, drawing.rect.width
    return max(length, width) > SQUARE * min(length, width)


def _heading(sheets: Sequence[Sheets]) -> str:
    """Name all sheets of a page."""
    named = sheet_names([one.sheet for equal in sheets for one in equal])
    return f"S{named[1:]}"
