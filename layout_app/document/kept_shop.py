"""The shop that is kept across projects: new ones begin with it."""

from dataclasses import replace

from PySide6.QtCore import QObject, Signal

from layout_app.document.document import Document
from layout_app.model.project import Project
from shared.check_shop import shop_faults
from shared.finding import is_sound
from shared.job import Job
from shared.practice import usual
from shared.shop import SawingOrder, Shop


class KeptShop(QObject):
    """Follows what the maker changes in the shop of the project at hand.

    A changed shop becomes the one that is kept; taking the change back brings the one
    before. Its order of sawing is chosen for one job, and is kept only when the maker says so. A
    shop with an error in it is never kept. The first of all is common practice.
    """

    changed = Signal()
    to_keep = Signal(object)
    """The shop to be written to disk."""

    def __init__(self, document: Document, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._shop = usual(document.job.style.unit)
        self._touched = False
        self.begin()
        document.edited.connect(self._follow)

    @property
    def shop(self) -> Shop:
        """What new projects begin with."""
        return self._shop

    @property
    def but_for_order(self) -> bool:
        """Whether the project at hand has this shop, with another order of sawing."""
        shop = self._document.job.shop
        return shop != self._shop and _in_any_order(shop) == _in_any_order(self._shop)

    @property
    def can_keep(self) -> bool:
        """Whether nothing is wrong with the shop of the project at hand."""
        job = self._document.job
        return is_sound(shop_faults(job.shop, job.style))

    def new_project(self) -> Project:
        """Return an empty project with this shop."""
        return Project(job=Job(shop=self._shop))

    def begin_empty(self) -> None:
        """Show an empty project with this shop."""
        self._document.open(self.new_project(), None)
        self.begin()

    def begin(self) -> None:
        """Note that another project is at hand."""
        self._seen = self._opened_with = _in_any_order(self._document.job.shop)
        self._before = self._shop

    def recall(self, shop: Shop) -> None:
        """Take the shop that was kept on disk, unless the maker was quicker."""
        if not self._touched:
            self._shop = shop
            self._before = shop
            self.changed.emit()

    def keep_this(self) -> None:
        """Keep the shop of the project at hand."""
        if self.can_keep:
            self._take(self._document.job.shop)
            self.begin()

    def _follow(self) -> None:
        """Keep a shop that was just changed; back where it began, the one before."""
        shop = _in_any_order(self._document.job.shop)
        if shop == self._seen:
            return
        self._seen = shop
        if shop == self._opened_with:
            self._take(self._before)
        elif self.can_keep:
            self._take(replace(shop, sawing=self._shop.sawing))

    def _take(self, shop: Shop) -> None:
        self._touched = True
        if shop != self._shop:
            self._shop = shop
            self.changed.emit()
            self.to_keep.emit(shop)


def _in_any_order(shop: Shop) -> Shop:
    """Return a shop whose order of sawing is no matter."""
    return replace(shop, sawing=SawingOrder.BY_SHEET)
