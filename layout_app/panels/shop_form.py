"""The machinery of the shop's form: rows that show what holds and commit by themselves."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from typing import Any, Final, TypeVar

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QScrollArea, QWidget

from layout_app.document import edit_job
from layout_app.document.document import Document
from layout_app.look.as_typed import Label
from layout_app.panels.entry import Entry
from layout_app.panels.issues import BEYOND, said_once
from layout_app.panels.shop_figure import Figure
from layout_app.panels.shop_rows import (
    FIELD_CHARS,
    FormRow,
    Mark,
    SwitchRow,
    choice_row,
    field_row,
)
from layout_app.panels.widgets import button, down, label
from shared.check import check_job
from shared.job import Job
from shared.practice import REASONS
from shared.shop import Shop

Value = TypeVar("Value")

NAME_CHARS: Final = 20


class ShopForm(QScrollArea):
    """Rows below each other; each shows what holds, what is usual, and what is wrong."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._shows: list[Callable[[Job], None]] = []
        self._places: dict[str, list[QWidget]] = {}
        self._unfolds: dict[str, Callable[[], None]] = {}
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self._page = QWidget(self)
        self._column = down(on=self._page, edges=(2, 4, 4, 12), gap=4)
        self.setWidget(self._page)
        self.verticalScrollBar().valueChanged.connect(self._follow)

    def refresh(self) -> None:
        """Show the job as it is now."""
        for show in self._shows:
            show(self._document.job)

    def _follow(self) -> None:
        """Let what fields say or ask go with them."""
        for field in self.findChildren(Entry):
            field.follow()

    def _heading(self, text: str) -> Label:
        heading = label(text, self._page, "heading")
        heading.setIndent(0)
        self._column.addWidget(heading)
        return heading

    def _figures(
        self, figures: Iterable[Figure], asked: Callable[[Shop], bool] = lambda _: True
    ) -> None:
        """Add rows for figures, each shown while it is asked."""
        for figure in figures:
            self._figure(figure, asked)

    def _folded(self, figures: Sequence[Figure], what: str) -> None:
        """Add figures below a line that shows and hides them; what is wrong is never hidden."""
        fields = {figure.field for figure in figures}
        opened = False

        def turn() -> None:
            unfold(not opened)

        def unfold(wanted: bool) -> None:
            nonlocal opened
            opened = wanted
            self.refresh()

        def is_open(job: Job) -> bool:
            return opened or any(wrong(job, field) for field in fields)

        def show(job: Job) -> None:
            own = sum(
                figure.get(job.shop) != figure.usual(job.shop, job.style) for figure in figures
            )
            yours = f", {own} of them yours" if own else ""
            line.setText(f"Fewer {what}" if is_open(job) else f"{len(figures)} more {what}{yours}")

        line = button("", self._page, turn, look="link")
        self._column.addWidget(line, 0, Qt.AlignmentFlag.AlignLeft)
        self._shows.append(show)
        self._unfolds |= dict.fromkeys(fields, lambda: unfold(True))
        self._figures(figures, lambda _: is_open(self._document.job))

    def _figure(self, figure: Figure, asked: Callable[[Shop], bool]) -> None:
        def accept(text: str) -> None:
            self._set(figure, figure.read(text, self._document.job.style))

        def back() -> None:
            field.setFocus()
            job = self._document.job
            self._set(figure, figure.usual(job.shop, job.style))

        chars = FIELD_CHARS if figure.practised else NAME_CHARS
        row, field = field_row(figure.words, figure.tip, accept, self._page, chars)
        if figure.practised:
            row.add_mark(Mark(figure.words, back, row))
        field.setPlaceholderText(figure.empty)
        reason = figure.why()
        if reason is not None:
            row.add_reason(reason)
        self._add(row, figure.field)

        def show(job: Job) -> None:
            value, practice = figure.get(job.shop), figure.usual(job.shop, job.style)
            field.show_text(figure.write(value, job.style))
            if row.mark is not None:
                usual = figure.write(practice, job.style)
                row.mark.show_usual(usual, holds=value == practice)
                row.show_reason("" if value == practice else usual)
            row.setVisible(figure.asked(job.shop) and asked(job.shop))

        self._shows.append(show)

    def _add(self, row: FormRow, field: str) -> None:
        """Add a row for a field, to which issues lead, with what is wrong below it."""
        self._column.addWidget(row)
        self._places.setdefault(field, []).append(row.setter)
        self._shows.append(lambda job: row.show_fault(wrong(job, field)))

    def _switch(
        self, switch: SwitchRow, field: str, has: Callable[[Shop], bool], *, usually: bool
    ) -> None:
        """Add a box for something that is there or not."""
        self._column.addWidget(switch)
        self._places[field] = [switch.box]
        self._shows.append(lambda job: switch.show_there(there=has(job.shop), usually=usually))

    def _pick(self, words: str, field: str, values: dict[Value, str], what: str) -> None:
        """Let one of several values of the shop be chosen, the first being common practice."""

        def take(value: Value) -> None:
            change: dict[str, Any] = {field: value}
            self._edit(replace(self._document.job.shop, **change), what)

        self._pick_by(words, field, values, take)

    def _pick_by(
        self, words: str, field: str, values: dict[Value, str], take: Callable[[Value], None]
    ) -> None:
        known = list(values)

        def back() -> None:
            box.setFocus()
            take(known[0])

        row, box = choice_row(words, values.values(), lambda place: take(known[place]), self._page)
        mark = Mark(words, back, row)
        row.add_mark_below(mark)
        row.add_reason(REASONS[field])
        self._add(row, field)

        def show(job: Job) -> None:
            place = known.index(getattr(job.shop, field))
            box.setCurrentIndex(place)
            mark.show_usual(values[known[0]], holds=place == 0)

        self._shows.append(show)

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
        self._places[field] = [box]

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


def wrong(job: Job, field: str) -> str:
    """Return what is wrong with a field of the shop; of rails also which sheets they don't cut."""
    codes = BEYOND if field == "rails" else ()
    found = (
        issue
        for issue in said_once(check_job(job))
        if issue.code in codes or (not issue.subject and issue.field == field)
    )
    return " ".join(issue.sentence for issue in found)
