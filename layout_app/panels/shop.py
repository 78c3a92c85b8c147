"""The shop: kerf, pace, what is worth keeping, the rule of cutting, and units."""

from collections.abc import Callable
from dataclasses import replace
from typing import Any, Final, TypeVar

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFormLayout, QFrame, QLabel, QScrollArea, QWidget

from layout_app import hands
from layout_app.document import Document
from layout_app.panels.chooser import Chooser
from layout_app.panels.columns import measured_text, not_negative, size_text
from layout_app.panels.entry import Field
from shared.amounts import parse_count
from shared.job import Job
from shared.lengths import LengthStyle, Unit
from shared.shop import CutRule, FirstCut

Value = TypeVar("Value")

DEPTHS: Final = {2: "two levels and a trim", 3: "three levels and a last trim"}
FIRSTS: Final = {
    FirstCut.RIP: "rip first",
    FirstCut.CROSSCUT: "crosscut first",
    FirstCut.EITHER: "either, sheet by sheet",
}
STYLES: Final = {
    LengthStyle(unit=Unit.INCH, denominator=16): "inches to 1/16",
    LengthStyle(unit=Unit.INCH, denominator=32): "inches to 1/32",
    LengthStyle(unit=Unit.INCH, denominator=64): "inches to 1/64",
    LengthStyle(unit=Unit.MM, decimals=0): "whole millimetres",
    LengthStyle(unit=Unit.MM, decimals=1): "millimetres to 0.1",
    LengthStyle(unit=Unit.MM, decimals=2): "millimetres to 0.01",
}


def style_text(style: LengthStyle) -> str:
    """Say how lengths are written."""
    return next((text for known, text in STYLES.items() if _same(known, style)), str(style.unit))


def _same(one: LengthStyle, other: LengthStyle) -> bool:
    if one.unit is not other.unit:
        return False
    if one.unit is Unit.INCH:
        return one.denominator == other.denominator
    return one.decimals == other.decimals


class ShopPanel(QScrollArea):
    """A form of the maker's limits; every field commits by itself."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._shows: list[Callable[[Job], None]] = []
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        page = QWidget(self)
        self._form = QFormLayout(page)
        self._form.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.FieldsStayAtSizeHint)
        self._form.setRowWrapPolicy(QFormLayout.RowWrapPolicy.WrapLongRows)
        self._add_title()
        self._add_saw()
        self._add_keeping()
        self._add_rule()
        self.setWidget(page)
        document.job_changed.connect(self.refresh)
        self.refresh()

    def refresh(self) -> None:
        """Show the job as it is now."""
        for show in self._shows:
            show(self._document.job)

    # --- what is in the form -------------------------------------------------------

    def _add_title(self) -> None:
        self._heading("The piece")
        self._field("title", lambda job: job.name, self._set_title, "Stands on screen and paper")

    def _add_saw(self) -> None:
        self._heading("The saw")
        self._field("saw", lambda job: job.shop.tool, self._set_tool, "What you call it")
        self._field(
            "kerf",
            lambda job: measured_text(job.shop.kerf, job.style) or "0",
            self._set_kerf,
            "Width of the slot: cut ten, measure, divide",
        )
        pace = (
            ("seconds for a cut", "cut_s", "One pass, marking included"),
            ("seconds for a set-up", "setup_s", "Setting a guide or stop to another size"),
            ("extra for a skim cut", "skim_s", "A cut in which the blade runs half in air"),
        )
        for words, name, tip in pace:
            self._field(words, _shop_text(name), _setter(self._document, name), tip)

    def _add_keeping(self) -> None:
        self._heading("An offcut worth keeping")
        for words, name in (("long side at least", "keep_length"), ("short side", "keep_width")):
            self._field(words, _size_of(name), _size_setter(self._document, name), "")

    def _add_rule(self) -> None:
        self._heading("How sheets are broken down")
        self._choice("depth", DEPTHS, lambda job: job.rule.levels, self._set_levels)
        self._choice("first cut", FIRSTS, lambda job: job.rule.first, self._set_first)
        self._heading("Lengths are written in")
        self._choice("units", STYLES, lambda job: job.style, self._set_style)

    def _heading(self, text: str) -> None:
        label = QLabel(text, self)
        label.setObjectName("heading")
        label.setIndent(0)
        self._form.addRow(label)

    def _field(
        self, words: str, text: Callable[[Job], str], accept: Callable[[str], None], tip: str
    ) -> None:
        field = Field(accept, self)
        field.setToolTip(tip)
        field.setAccessibleName(words)
        field.setAlignment(Qt.AlignmentFlag.AlignLeft)
        field.setMaximumWidth(field.fontMetrics().horizontalAdvance("0" * 24))
        self._form.addRow(words, field)
        self._shows.append(lambda job: field.show_text(text(job)))

    def _choice(
        self,
        words: str,
        values: dict[Value, str],
        current: Callable[[Job], Value],
        take: Callable[[Value], None],
    ) -> None:
        box = Chooser(values.values(), self)
        box.setAccessibleName(words)
        known = list(values)
        box.activated.connect(lambda place: take(known[place]))
        self._form.addRow(words, box)
        self._shows.append(lambda job: box.setCurrentIndex(_place(known, current(job))))

    # --- what a change does ----------------------------------------------------------

    def _set_title(self, text: str) -> None:
        hands.rename_job(self._document, " ".join(text.split()))

    def _set_tool(self, text: str) -> None:
        name = " ".join(text.split())
        if not name:
            raise ValueError("Give the saw a name; it stands on every cut.")
        hands.edit_shop(self._document, replace(self._document.job.shop, tool=name))

    def _set_kerf(self, text: str) -> None:
        job = self._document.job
        hands.edit_shop(self._document, replace(job.shop, kerf=not_negative(text, job.style)))

    def _set_levels(self, levels: int) -> None:
        self._set_rule(replace(self._document.job.rule, levels=levels))

    def _set_first(self, first: FirstCut) -> None:
        self._set_rule(replace(self._document.job.rule, first=first))

    def _set_rule(self, rule: CutRule) -> None:
        hands.edit_rule(self._document, rule)

    def _set_style(self, style: LengthStyle) -> None:
        hands.edit_style(self._document, style)


def _shop_text(name: str) -> Callable[[Job], str]:
    return lambda job: str(getattr(job.shop, name))


def _size_of(name: str) -> Callable[[Job], str]:
    return lambda job: size_text(getattr(job.shop, name), job.style) or "0"


def _setter(document: Document, name: str) -> Callable[[str], None]:
    def accept(text: str) -> None:
        change: dict[str, Any] = {name: parse_count(text)}
        hands.edit_shop(document, replace(document.job.shop, **change))

    return accept


def _size_setter(document: Document, name: str) -> Callable[[str], None]:
    def accept(text: str) -> None:
        job = document.job
        change: dict[str, Any] = {name: not_negative(text, job.style)}
        hands.edit_shop(document, replace(job.shop, **change))

    return accept


def _place(known: list[Value], value: Value) -> int:
    for place, one in enumerate(known):
        if one == value or (
            isinstance(one, LengthStyle) and isinstance(value, LengthStyle) and _same(one, value)
        ):
            return place
    return -1
