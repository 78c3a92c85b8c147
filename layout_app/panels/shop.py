"""The shop, and whose: saws, rails and limits, pace, what is worth keeping, the rule, units."""

from collections.abc import Callable, Iterable
from dataclasses import replace
from functools import partial
from typing import Any, Final, TypeVar

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QScrollArea, QWidget

from layout_app.document import edit_job
from layout_app.document.document import Document
from layout_app.document.kept_shop import KeptShop
from layout_app.panels import shop_figures
from layout_app.panels.shop_figures import SAWINGS, Figure, guided, tabled
from layout_app.panels.shop_rows import (
    FIELD_CHARS,
    Mark,
    RailsTable,
    SwitchRow,
    choice_row,
    field_row,
    said,
    widen,
)
from layout_app.panels.styles import STYLES, known_style
from layout_app.panels.widgets import BARE, across, button, down, label, quiet
from shared.job import Job
from shared.lengths import format_length
from shared.practice import REASONS, usual
from shared.shop import FirstCut, Shop

Value = TypeVar("Value")

NAME_CHARS: Final = 20
DEPTHS: Final = {2: "two levels and a trim", 3: "three levels and a last trim"}
FIRSTS: Final = {
    FirstCut.RIP: "rip first",
    FirstCut.CROSSCUT: "crosscut first",
    FirstCut.EITHER: "either, sheet by sheet",
}


class ShopPanel(QScrollArea):
    """A form of the maker's limits; every field commits by itself."""

    def __init__(
        self, document: Document, parent: QWidget | None = None, kept: KeptShop | None = None
    ) -> None:
        super().__init__(parent)
        self._document = document
        self._shows: list[Callable[[Job], None]] = []
        self._places: dict[str, QWidget] = {}
        self.setAccessibleName("Shop")
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self._page = QWidget(self)
        self._column = down(on=self._page, edges=(2, 4, 4, 12), gap=4)
        self._rails = RailsTable(document, self._page)
        if kept is not None:
            self._column.addWidget(KeptStrip(document, kept, self._page))
        self._build()
        self._column.addStretch(1)
        self.setWidget(self._page)
        document.job_changed.connect(self.refresh)
        self.refresh()

    def refresh(self) -> None:
        """Show the job as it is now."""
        for show in self._shows:
            show(self._document.job)

    def go_to(self, field: str) -> None:
        """Lead to the field an issue is about."""
        if field == "rails":
            self._rails.focus()
        elif field in self._places:
            self._places[field].setFocus()
            self.ensureWidgetVisible(self._places[field])

    # --- what is in the form -------------------------------------------------------

    def _build(self) -> None:
        self._heading("The piece")
        self._title()
        self._heading("The saw on the rail")
        self._figures(shop_figures.SAW)
        self._heading("Rails")
        self._add_rails()
        self._figures([shop_figures.OVERHANG])
        self._heading("Parallel guide")
        self._add_guide()
        self._heading("Pieces under the saw")
        self._figures(shop_figures.PIECES)
        self._heading("Table saw")
        self._add_table()
        self._heading("Pace and order")
        self._figures(shop_figures.PACE)
        self._add_sawing()
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

    def _heading(self, text: str) -> None:
        heading = label(text, self._page, "heading")
        heading.setIndent(0)
        self._column.addWidget(heading)

    def _title(self) -> None:
        def rename(text: str) -> None:
            edit_job.rename_job(self._document, " ".join(text.split()))

        tip = "Stands on screen and paper"
        row, field = field_row("title", tip, rename, self._page, NAME_CHARS)
        self._column.addWidget(row)
        self._shows.append(lambda job: field.show_text(job.name))

    def _figures(self, figures: Iterable[Figure]) -> list[QWidget]:
        return [self._figure(figure) for figure in figures]

    def _figure(self, figure: Figure) -> QWidget:
        """Add a row for a figure."""

        def accept(text: str) -> None:
            self._set(figure, figure.read(text, self._document.job.style))

        def back() -> None:
            field.setFocus()
            self._set(figure, figure.usual(self._document.job.style))

        chars = FIELD_CHARS if figure.practised else NAME_CHARS
        row, field = field_row(figure.words, figure.tip, accept, self._page, chars)
        if figure.practised:
            row.add_mark(Mark(figure.words, back, row))
        reason = figure.why()
        if reason is not None:
            row.add_reason(reason)
        self._column.addWidget(row)
        self._places[figure.field] = field

        def show(job: Job) -> None:
            value, practice = figure.get(job.shop), figure.usual(job.style)
            field.show_text(figure.write(value, job.style))
            widen(field, chars)
            if row.mark is not None:
                row.mark.show_usual(figure.write(practice, job.style), holds=value == practice)

        self._shows.append(show)
        return row

    def _add_rails(self) -> None:
        mark = Mark("rails", self._usual_rails, self._page)
        self._rails.add_mark(mark)
        self._column.addWidget(self._rails)
        self._column.addWidget(quiet(said(REASONS["rails"]), self._page))

        def show(job: Job) -> None:
            self._rails.refresh(job.shop, job.style)
            rails = usual(job.style.unit).rails
            lengths = (format_length(rail.length, job.style) for rail in rails)
            mark.show_usual(" and ".join(lengths), holds=job.shop.rails == rails)

        self._shows.append(show)

    def _add_guide(self) -> None:
        def take(there: bool) -> None:
            shop = guided(self._document.job.shop, self._document.job.style, there=there)
            self._edit(shop, "add the guide" if there else "remove the guide")

        switch = SwitchRow(
            "there is a parallel guide", REASONS["guided"], take, lambda: take(True), self._page
        )
        self._switch(switch, "guide", shop_figures.GUIDE, usually=True)

    def _add_table(self) -> None:
        def take(there: bool) -> None:
            shop = tabled(self._document.job.shop, self._document.job.style, there=there)
            self._edit(shop, "add the table saw" if there else "remove the table saw")

        switch = SwitchRow(
            "there is a table saw", REASONS["table"], take, lambda: take(False), self._page
        )
        self._switch(switch, "table", shop_figures.TABLE, usually=False)

    def _switch(
        self, switch: SwitchRow, field: str, figures: Iterable[Figure], *, usually: bool
    ) -> None:
        """Add something that is there or not, with figures that are shown while it is."""
        self._column.addWidget(switch)
        self._places[field] = switch.box
        rows = self._figures(figures)

        def show(job: Job) -> None:
            there = getattr(job.shop, field) is not None
            switch.show_there(there=there, usually=usually)
            for row in rows:
                row.setVisible(there)

        self._shows.append(show)

    def _add_sawing(self) -> None:
        values = list(SAWINGS)

        def take(place: int) -> None:
            self._edit(replace(self._document.job.shop, sawing=values[place]), "change the order")

        def back() -> None:
            box.setFocus()
            take(0)

        row, box = choice_row("order of sawing", SAWINGS.values(), take, self._page)
        mark = Mark("order of sawing", back, row)
        row.add_mark(mark)
        row.add_reason(REASONS["sawing"])
        self._column.addWidget(row)
        self._places["sawing"] = box

        def show(job: Job) -> None:
            place = values.index(job.shop.sawing)
            box.setCurrentIndex(place)
            mark.show_usual(SAWINGS[values[0]], holds=place == 0)

        self._shows.append(show)

    def _add_reset(self) -> None:
        def reset() -> None:
            self._edit(usual(self._document.job.style.unit), "return to common practice")

        back = button("Shop back to common practice", self._page, reset)
        self._column.addWidget(back, 0, Qt.AlignmentFlag.AlignLeft)
        self._shows.append(lambda job: back.setEnabled(job.shop != usual(job.style.unit)))

    def _rule_choice(self, words: str, field: str, values: dict[Value, str]) -> None:
        """Let something of the rule be chosen."""

        def take(value: Value) -> None:
            change: dict[str, Any] = {field: value}
            rule = replace(self._document.job.rule, **change)
            self._show_truth(edit_job.edit_rule(self._document, rule))

        self._choice(words, field, values, lambda job: getattr(job.rule, field), take)

    def _choice(
        self,
        words: str,
        field: str,
        values: dict[Value, str],
        current: Callable[[Job], Value],
        take: Callable[[Value], object],
    ) -> None:
        known = list(values)
        row, box = choice_row(words, values.values(), lambda place: take(known[place]), self._page)
        self._column.addWidget(row)
        self._places[field] = box

        def show(job: Job) -> None:
            value = current(job)
            box.setCurrentIndex(known.index(value) if value in known else -1)

        self._shows.append(show)

    # --- what a change does ----------------------------------------------------------

    def _show_truth(self, changed: bool) -> None:
        """Where a change was refused, show again what holds."""
        if not changed:
            self.refresh()

    def _edit(self, shop: Shop, what: str) -> None:
        self._show_truth(edit_job.edit_shop(self._document, shop, what))

    def _set(self, figure: Figure, value: Any) -> None:
        self._edit(figure.put(self._document.job.shop, value), f"change {figure.words}")

    def _usual_rails(self) -> None:
        self._rails.add.setFocus()
        rails = usual(self._document.job.style.unit).rails
        self._edit(replace(self._document.job.shop, rails=rails), "change the rails")


SAME: Final = "This is your shop: what you change here is kept, and new projects begin with it."
OTHER: Final = (
    "This project has a shop of its own, not yours. What you change here becomes your shop,"
    " which new projects begin with."
)


class KeptStrip(QWidget):
    """Says whose shop it is, and offers yours where it is another."""

    def __init__(self, document: Document, kept: KeptShop, parent: QWidget) -> None:
        super().__init__(parent)
        self._document = document
        self._kept = kept
        self._words = quiet(SAME, self)
        tip = "Put the shop you keep in place of this one"
        self.use = button("Use my shop", self, self._use, tip)
        tip = "Let new projects begin with this one"
        self.keep = button("Make this my shop", self, kept.keep_this, tip)
        down(self._words, across(self.use, self.keep, None), on=self, edges=BARE)
        document.job_changed.connect(self.refresh)
        kept.changed.connect(self.refresh)
        self.refresh()

    def refresh(self) -> None:
        """Show whether the project's shop is the one that is kept."""
        same = self._document.job.shop == self._kept.shop
        self._words.setText(SAME if same else OTHER)
        self.use.setVisible(not same)
        self.keep.setVisible(not same and self._kept.can_keep)

    def _use(self) -> None:
        edit_job.edit_shop(self._document, self._kept.shop, "use my shop")
