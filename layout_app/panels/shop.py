"""The shop, and whose: saws, rails and limits, pace, what is worth keeping, the rule, units."""

from dataclasses import replace
from functools import partial
from typing import Final

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget

from layout_app.document import edit_job
from layout_app.document.document import Document
from layout_app.document.kept_shop import KeptShop
from layout_app.model.words.order_words import MODES
from layout_app.panels import shop_figures
from layout_app.panels.kept_strip import KeptStrip
from layout_app.panels.pace_heard import PaceStrip
from layout_app.panels.shop_base import BasePicture
from layout_app.panels.shop_figure import there
from layout_app.panels.shop_figures import (
    RUNS,
    SIDES,
    SUPPORTS,
    along,
    on_rail,
    with_guide,
    with_stop,
    with_table,
)
from layout_app.panels.shop_form import NAME_CHARS, ShopForm, wrong
from layout_app.panels.shop_rails import RailsTable
from layout_app.panels.shop_rows import (
    Mark,
    SwitchRow,
    field_row,
    said,
)
from layout_app.panels.styles import STYLES, known_style
from layout_app.panels.widgets import button, quiet
from shared.check_shop import leader
from shared.job import Job
from shared.lengths import format_length
from shared.practice import REASONS, practised, running_on
from shared.shop import FirstCut, RunsOn, Shop

ESTIMATES: Final = (
    "Minutes rest on these. Those of common practice are estimates, from no published document;"
    " walking through the cuts times yours."
)
DEPTHS: Final = {2: "two levels and a trim", 3: "three levels and a last trim"}
FIRSTS: Final = {
    FirstCut.RIP: "rip first",
    FirstCut.CROSSCUT: "crosscut first",
    FirstCut.EITHER: "either, sheet by sheet",
}


class ShopPanel(ShopForm):
    """A form of the maker's limits; every field commits by itself."""

    def __init__(
        self, document: Document, parent: QWidget | None = None, kept: KeptShop | None = None
    ) -> None:
        super().__init__(document, parent)
        self.setAccessibleName("Shop")
        self._rails = RailsTable(document, self._page)
        if kept is not None:
            self._column.addWidget(KeptStrip(document, kept, self._page))
        self._build()
        self._marks_last()
        self._column.addStretch(1)
        document.job_changed.connect(self.refresh)
        self.refresh()

    def go_to(self, field: str) -> None:
        """Lead to the field an issue is about."""
        if field == "rails":
            self._rails.focus()
            self.ensureWidgetVisible(self._rails)
            return
        if field in self._unfolds:
            self._unfolds[field]()
        for place in self._places.get(field, ()):
            if place.isVisibleTo(self):
                place.setFocus(Qt.FocusReason.TabFocusReason)  # with all of a text selected
                self.ensureWidgetVisible(place)

    def _marks_last(self) -> None:
        """Let Tab go from figure to figure, and to the ways back to common practice after all."""
        before: QWidget = self._places["style"][0]
        for mark in self._page.findChildren(Mark):
            QWidget.setTabOrder(before, mark.back)
            before = mark.back

    def _build(self) -> None:
        self._heading("The project")
        self._title()
        self._heading("The saw")
        self._figures(shop_figures.SAW)
        self._add_runs_on()
        self._add_base()
        self._add_rails()
        self._heading("Guide, stop and square")
        self._add_guide()
        self._add_stop()
        self._figures([shop_figures.SQUARE])
        self._heading("Pieces under the saw")
        self._pick("sheets lie on", "support", SUPPORTS, "change the support")
        self._figures(shop_figures.PIECES)
        self._heading("Table saw")
        self._add_table()
        self._heading("Pace and order")
        self._column.addWidget(quiet(ESTIMATES, self._page))
        self._column.addWidget(PaceStrip(self._document, self._page))
        self._figures(shop_figures.PACE)
        self._folded(shop_figures.MORE_PACE, "kinds of work")
        self._pick("order of sawing", "sawing", MODES, "change the order")
        self._figures([shop_figures.LOOSE])
        self._heading("An offcut worth keeping")
        self._figures(shop_figures.KEEPING)
        self._add_reset()
        self._heading("How sheets are broken down")
        self._rule_choice("depth", "levels", DEPTHS)
        self._rule_choice("first cut", "first", FIRSTS)
        self._heading("Lengths are written in")
        take = partial(edit_job.edit_style, self._document)
        self._choice("units", "style", STYLES, lambda job: known_style(job.style), take)

    def _title(self) -> None:
        def rename(text: str) -> None:
            edit_job.rename_job(self._document, " ".join(text.split()))

        tip = "Stands on screen and paper"
        row, field = field_row("title", tip, rename, self._page, NAME_CHARS)
        self._column.addWidget(row)
        self._shows.append(lambda job: field.show_text(job.name))

    def _add_runs_on(self) -> None:
        def take(runs_on: RunsOn) -> None:
            job = self._document.job
            what = "saw on a rail" if runs_on is RunsOn.RAIL else "saw along a straightedge"
            self._edit(running_on(job.shop, runs_on, job.style.unit), what)

        self._pick_by("saw runs on", "runs_on", RUNS, take)

    def _add_base(self) -> None:
        picture = BasePicture(self._page)
        self._column.addWidget(picture)
        self._shows.append(lambda job: picture.setVisible(along(job.shop)))
        self._figures(shop_figures.BASE)

    def _add_rails(self) -> None:
        heading = self._heading("Rails")
        mark = Mark("rails", self._usual_rails, self._page)
        self._rails.add_mark(mark)
        self._column.addWidget(self._rails)
        why = quiet("", self._page)
        self._column.addWidget(why)

        def show(job: Job) -> None:
            heading.setText("Rails" if on_rail(job.shop) else "Straightedges")
            why.setText(said(REASONS["rails" if on_rail(job.shop) else "straightedges"]))
            self._rails.refresh(job.shop, job.style)
            self._rails.show_fault(wrong(job, "rails"))
            rails = practised(job.shop, job.style.unit).rails
            lengths = (format_length(rail.length, job.style) for rail in rails)
            mark.show_usual(" and ".join(lengths), holds=job.shop.rails == rails)

        self._shows.append(show)
        self._figures(shop_figures.RAIL)
        self._pick("it lies", "rail_side", SIDES, "change the side of the rail")
        self._add_splinter_guard()

    def _add_splinter_guard(self) -> None:
        def take(there: bool) -> None:
            what = "add the splinter guard" if there else "remove the splinter guard"
            self._edit(replace(self._document.job.shop, splinter_guard=there), what)

        switch = SwitchRow(
            "there is a splinter guard",
            REASONS["splinter_guard"],
            take,
            lambda: take(False),
            self._page,
        )
        self._switch(switch, "splinter_guard", lambda shop: shop.splinter_guard, usually=False)
        self._shows.append(lambda job: switch.setVisible(on_rail(job.shop)))

    def _add_guide(self) -> None:
        def take(there: bool) -> None:
            shop = with_guide(self._document.job.shop, self._document.job.style, there=there)
            self._edit(shop, "add the guide" if there else "remove the guide")

        def has(shop: Shop) -> bool:
            return there(shop, "guide", unlimited=on_rail(shop))

        switch = SwitchRow(
            "there is a guide", REASONS["guided"], take, lambda: take(True), self._page
        )
        self._switch(switch, "guide", has, usually=True)
        self._figures(shop_figures.GUIDE, has)

        def show(job: Job) -> None:
            kind = "a parallel guide" if on_rail(job.shop) else "an edge guide"
            switch.box.setText(f"there is {kind}")

        self._shows.append(show)

    def _add_stop(self) -> None:
        def take(there: bool) -> None:
            shop = with_stop(self._document.job.shop, self._document.job.style, there=there)
            self._edit(shop, "add the stop" if there else "remove the stop")

        def has(shop: Shop) -> bool:
            return on_rail(shop) and there(shop, "stop", unlimited=True)

        switch = SwitchRow(
            "there is a stop for crosscuts",
            REASONS["stopped"],
            take,
            lambda: take(True),
            self._page,
        )
        self._switch(switch, "stop", has, usually=True)
        self._figures(shop_figures.STOP, has)
        self._shows.append(lambda job: switch.setVisible(on_rail(job.shop)))

    def _add_table(self) -> None:
        def take(there: bool) -> None:
            shop = with_table(self._document.job.shop, self._document.job.style, there=there)
            self._edit(shop, "add the table saw" if there else "remove the table saw")

        def has(shop: Shop) -> bool:
            return shop.table is not None

        switch = SwitchRow(
            "there is a table saw", REASONS["table"], take, lambda: take(False), self._page
        )
        self._switch(switch, "table", has, usually=False)
        self._figures(shop_figures.TABLE, has)

    def _add_reset(self) -> None:
        def reset() -> None:
            job = self._document.job
            self._edit(practised(job.shop, job.style.unit), "return to common practice")

        back = button("Shop back to common practice", self._page, reset)
        self._column.addWidget(back, 0, Qt.AlignmentFlag.AlignLeft)

        def show(job: Job) -> None:
            back.setEnabled(job.shop != practised(job.shop, job.style.unit))

        self._shows.append(show)

    def _usual_rails(self) -> None:
        self._rails.add.setFocus()
        job = self._document.job
        rails = practised(job.shop, job.style.unit).rails
        self._edit(replace(job.shop, rails=rails), f"change the {leader(job.shop)}s")
