"""The maker's changes to sheets and rack: one small undo command each."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from layout_app.document.commands import JobChange
from layout_app.document.document import Document
from shared.job import Job
from shared.stock import AreaPrice, Stock


def of_the_only_material(job: Job) -> Job:
    """Return the job with parts of no material made of the only one there is."""
    only = {row.material for row in job.stock}
    if len(only) != 1 or all(part.material for part in job.parts):
        return job
    (material,) = only
    parts = (part if part.material else replace(part, material=material) for part in job.parts)
    return replace(job, parts=tuple(parts))


class EditStock(JobChange):
    """Change a row of sheets and rack."""

    def __init__(self, document: Document, text: str, stock: Stock) -> None:
        super().__init__(document, text)
        self._stock = stock

    def alter(self, job: Job) -> Job:
        """Put the row in place of the one with its id."""
        rows = (self._stock if row.id == self._stock.id else row for row in job.stock)
        return of_the_only_material(replace(job, stock=tuple(rows)))


class AddStock(JobChange):
    """Add rows to sheets and rack."""

    def __init__(self, document: Document, text: str, rows: Sequence[Stock]) -> None:
        super().__init__(document, text)
        self._rows = tuple(rows)

    def alter(self, job: Job) -> Job:
        """Append them."""
        return of_the_only_material(replace(job, stock=(*job.stock, *self._rows)))


class RemoveStock(JobChange):
    """Take rows off sheets and rack."""

    def __init__(self, document: Document, text: str, rows: Sequence[str]) -> None:
        super().__init__(document, text)
        self._gone = frozenset(rows)

    def alter(self, job: Job) -> Job:
        """Leave them out."""
        return replace(job, stock=tuple(row for row in job.stock if row.id not in self._gone))


class SetAreaPrice(JobChange):
    """Say what a material costs by area, or no more."""

    def __init__(
        self, document: Document, text: str, material: str, given: AreaPrice | None
    ) -> None:
        super().__init__(document, text)
        self._material, self._given = material, given

    def alter(self, job: Job) -> Job:
        """Put it in place of what was said of the material before."""
        others = (one for one in job.area_prices if one.material != self._material)
        return replace(job, area_prices=(*others, *([self._given] if self._given else [])))


class SetSheetApart(JobChange):
    """Give one sheet of a row a row of its own, with the row's bad places."""

    def __init__(self, document: Document, text: str, row: str, apart: Stock) -> None:
        super().__init__(document, text)
        self._row, self._apart = row, apart

    def alter(self, job: Job) -> Job:
        """Put the sheet behind its row, which has one fewer and no bad places."""
        return replace(job, stock=tuple(self._rows(job.stock)))

    def _rows(self, stock: Iterable[Stock]) -> Iterator[Stock]:
        for row in stock:
            if row.id != self._row:
                yield row
                continue
            left = None if row.at_hand is None else max(0, row.at_hand - 1)
            yield replace(row, no_go=(), at_hand=left)
            yield self._apart
