"""From a pasted list and what the maker answered to rows, or to the question that is open."""

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any, Final

from layout_app.panels.pasted import (
    ASK,
    NOT_USED,
    ROW_NUMBER,
    Pasted,
    bare_count,
    split_unit,
)
from layout_app.panels.rows_model import RowsModel
from shared.lengths import INCH, MM, LengthError, Unit, parse_length

SIZES: Final = ("length", "width")
LONG_IN: Final = 150
"""Inches that no part reaches, unless there is a sheet as long."""
SHORT_MM: Final = 100
SHORT_WITH_FRACTIONS_MM: Final = 300
"""Millimetres that a whole list never stays below, without and with fractions in it."""

_BARE: Final = re.compile(r"[^a-z'\"’”′″]*", re.I)
_FRACTION: Final = re.compile(r"\d/\d|[¼½¾⅛⅜⅝⅞]")
_GROUP: Final = re.compile(r"[1-9]\d{0,2},\d{3}")
_DECIMAL_COMMA: Final = re.compile(r"\d+,(?:\d{1,2}|\d{4,})|[\d.]*\.\d{3},\d+")


@dataclass(frozen=True, slots=True, kw_only=True)
class Answers:
    """What is taken for granted of a list, or was answered.

    Attributes
    ----------
    uses
        Of each column: a field, `ROW_NUMBER`, `NOT_USED`, or `ASK`.
    unit, decimal_comma, material
        Unit of bare numbers; whether a comma stands before decimals; material of rows that name
        none. ``None`` while nobody has asked.
    """

    uses: tuple[str, ...]
    unit: Unit | None = None
    decimal_comma: bool | None = None
    material: str | None = None


@dataclass(frozen=True, slots=True)
class PasteQuestion:
    """A question, and each answer in words with what is known then."""

    sentence: str
    answers: tuple[tuple[str, Answers], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """Rows; or a question, or a fault, and then no rows. ``said`` is worth knowing beside it."""

    rows: tuple[Any, ...] = ()
    asked: PasteQuestion | None = None
    fault: str = ""
    said: tuple[str, ...] = ()
    uses: tuple[str, ...] = ()


def read_pasted(pasted: Pasted, answers: Answers, model: RowsModel[Any]) -> Outcome:
    """Read the rows of a list, all or none."""
    lacking = [one for one in SIZES if one not in answers.uses]
    asked = next(_questions(pasted, answers, model), None)
    if asked is not None and (asked.answers or not lacking):
        return Outcome(asked=asked, uses=answers.uses)
    if lacking:
        words = [model.columns[model.column_of(one)].heading for one in lacking]
        which = "columns are" if len(words) > 1 else "column is"
        said = f"Nothing is pasted yet: choose which {which} {' and '.join(words)}."
        return Outcome(fault=said, uses=answers.uses)
    return _Reader(pasted, answers, model).read()


# --- questions ---------------------------------------------------------------------------


def _questions(pasted: Pasted, answers: Answers, model: RowsModel[Any]) -> Iterator[PasteQuestion]:
    for place, use in enumerate(answers.uses):
        if use == ASK:
            yield _how_many(pasted, answers, place, model.counted)
    if "length" not in answers.uses:
        return
    if answers.unit is None and (doubt := _unit_doubt(pasted, answers, model)):
        units = ((Unit.MM, "millimetres"), (Unit.INCH, "inches"))
        known = tuple((words, replace(answers, unit=unit)) for unit, words in units)
        yield PasteQuestion(f"{doubt} Which unit are they in?", known)
    if answers.decimal_comma is None and (cell := _open_comma(pasted, answers)):
        both = ((cell.replace(",", ""), False), (cell.replace(",", "."), True))
        known = tuple((words, replace(answers, decimal_comma=comma)) for words, comma in both)
        yield PasteQuestion(f"Is “{cell}” {both[0][0]} or {both[1][0]}?", known)
    if answers.material is None and _lacks_material(pasted, answers):
        job = model.document.job
        every = [*(row.material for row in job.stock), *(part.material for part in job.parts)]
        materials = [one for one in dict.fromkeys(every) if one]
        if len(materials) > 1:
            known = tuple((one, replace(answers, material=one)) for one in materials)
            yield PasteQuestion("Which material are the rows that name none?", known)


def _how_many(pasted: Pasted, answers: Answers, place: int, counted: str) -> PasteQuestion:
    uses, heading = answers.uses, pasted.headings[place]
    cells = ", ".join(pasted.column(place)[:4])

    def with_use(use: str) -> Answers:
        return replace(answers, uses=chosen(uses, place, use))

    choices = (("How many", counted), ("Row numbers", ROW_NUMBER), ("Neither", NOT_USED))
    known = tuple((words, with_use(use)) for words, use in choices)
    return PasteQuestion(f"Is “{heading}” ({cells} …) how many are needed, or a row number?", known)


def chosen(uses: tuple[str, ...], place: int, use: str) -> tuple[str, ...]:
    """Return uses with one column's chosen; a field is taken from one column only."""
    single = use not in {NOT_USED, ROW_NUMBER}
    others = (NOT_USED if single and one == use else one for one in uses)
    return tuple(use if at == place else one for at, one in enumerate(others))


def _bare_sizes(pasted: Pasted, answers: Answers) -> Iterator[str]:
    """Yield the sizes whose unit nothing says."""
    for place, use in enumerate(answers.uses):
        if use in SIZES and not pasted.units[place]:
            yield from (cell for cell in pasted.column(place) if _BARE.fullmatch(cell))


def _unit_doubt(pasted: Pasted, answers: Answers, model: RowsModel[Any]) -> str:
    """Say why the sizes can hardly be in the project's unit; ``""`` if they can."""
    sizes = list(_bare_sizes(pasted, answers))
    numbers = [number for cell in sizes if (number := _number(cell)) is not None]
    if not numbers:
        return ""
    longest, job = max(numbers), model.document.job
    if job.style.unit is Unit.INCH:
        reach = max([LONG_IN, *(row.length / INCH for row in job.stock)])
        return f"Sizes go up to {longest:g}; this project is in inches." if longest > reach else ""
    fractions = any(_FRACTION.search(cell) for cell in sizes)
    if longest < SHORT_MM or (fractions and longest < SHORT_WITH_FRACTIONS_MM):
        also = " and hold fractions" if fractions else ""
        return f"Sizes go up to {longest:g}{also}; this project is in millimetres."
    return ""


def _number(cell: str) -> float | None:
    plain = cell.replace(",", "") if _GROUP.fullmatch(cell) else cell
    try:
        return parse_length(plain, Unit.MM) / MM
    except LengthError:
        return None


def _open_comma(pasted: Pasted, answers: Answers) -> str:
    """Return a size whose comma can mean thousands or decimals, if no other size settles it."""
    sizes = [
        cell
        for place, use in enumerate(answers.uses)
        if use in SIZES
        for cell in pasted.column(place)
    ]
    settled = any(_DECIMAL_COMMA.fullmatch(cell) or ",000." in cell for cell in sizes)
    grouped = any(re.search(r"\d,\d{3}\.\d", cell) for cell in sizes)
    return "" if settled or grouped else next((c for c in sizes if _GROUP.match(c)), "")


def _lacks_material(pasted: Pasted, answers: Answers) -> bool:
    if "material" not in answers.uses:
        return True
    place = answers.uses.index("material")
    return len(pasted.column(place)) < len(pasted.lines)


# --- rows --------------------------------------------------------------------------------


class _Reader:
    """Reads the lines of a list one by one."""

    def __init__(self, pasted: Pasted, answers: Answers, model: RowsModel[Any]) -> None:
        self._pasted, self._answers, self._model = pasted, answers, model
        style = model.document.job.style
        self._style = replace(style, unit=answers.unit) if answers.unit else style
        self._comma = answers.decimal_comma
        if self._comma is None:
            self._comma = any(
                _DECIMAL_COMMA.fullmatch(cell)
                for place, use in enumerate(answers.uses)
                if use in SIZES
                for cell in pasted.column(place)
            )
        self._said: list[str] = []

    def read(self) -> Outcome:
        """Return rows, or the first fault; columns that cannot be read but need not are said."""
        uses = tuple(self._usable(place, use) for place, use in enumerate(self._answers.uses))
        rows = []
        for number, cells in self._pasted.lines:
            try:
                rows.append(self._row(number, cells, uses))
            except ValueError as error:
                return Outcome(fault=str(error), uses=self._answers.uses)
        self._said += [f"Line {n} is no row: “{text}”." for n, text in self._pasted.aside]
        if not rows:
            return Outcome(fault="Nothing was pasted: there are no rows in it.", uses=uses)
        return Outcome(rows=tuple(rows), said=tuple(self._said), uses=uses)

    def _usable(self, place: int, use: str) -> str:
        """Return the use of a column; `NOT_USED` where what may be left out is unreadable."""
        if use in {*SIZES, self._model.counted, NOT_USED, ROW_NUMBER}:
            return use
        for number, cells in self._pasted.lines:
            try:
                self._change(self._model.bare(), place, use, cells)
            except ValueError as error:
                heading = self._pasted.headings[place]
                self._said.append(f"{_not_used(heading)}, for line {number}: {error}")
                return NOT_USED
        return use

    def _row(self, number: int, cells: tuple[str, ...], uses: tuple[str, ...]) -> Any:
        row = self._model.blank()
        if self._answers.material:
            row = replace(row, material=self._answers.material)
        for place, use in enumerate(uses):
            if use in {NOT_USED, ROW_NUMBER}:
                continue
            try:
                row = self._change(row, place, use, cells)
            except ValueError as error:
                heading = self._model.columns[self._model.column_of(use)].heading
                said = f"Nothing was pasted: line {number}, {heading}: {error}"
                raise ValueError(said) from None
        return row if row.name else replace(row, name=f"row {number}")

    def _change(self, row: Any, place: int, use: str, cells: tuple[str, ...]) -> Any:
        change = self._model.columns[self._model.column_of(use)].change
        cell = cells[place]
        if not cell or change is None:
            return row
        if use == self._model.counted:
            return change(row, bare_count(cell), self._style)
        sized = use in SIZES or use == "thickness"
        return change(row, self._length(cell, place) if sized else cell, self._style)

    def _length(self, cell: str, place: int) -> str:
        """Write a length as the heading and the answers mean it."""
        if re.fullmatch(r"[1-9]\d{0,2}( \d{3})+", cell):
            cell = cell.replace(" ", "")
        if self._comma and "," in cell:
            cell = cell.replace(".", "").replace(",", ".")
        else:
            cell = re.sub(r"(?<=\d),(?=\d{3})", "", cell)
        unit = self._pasted.units[place]
        return f"{cell} {unit}" if unit and _BARE.fullmatch(cell) else cell


def _not_used(heading: str) -> str:
    return f"“{heading}” is not used"


def summary(pasted: Pasted, outcome: Outcome, model: RowsModel[Any]) -> str:
    """Say in one sentence what each column was taken for, and what is left out.

    A column that could not be read is said apart, with the reason (`Outcome.said`).
    """
    told = []
    for place, use in enumerate(outcome.uses):
        heading = pasted.headings[place]
        unread = any(one.startswith(_not_used(heading)) for one in outcome.said)
        if use == NOT_USED and pasted.column(place) and not unread:
            told.append(f"“{heading}” not used")
        elif use == ROW_NUMBER:
            told.append(f"{heading} → row number")
        elif use not in {NOT_USED, ASK}:
            word = model.columns[model.column_of(use)].heading
            same = split_unit(heading)[0].strip().casefold() == word.casefold()
            told.append(heading if same and not pasted.units[place] else f"{heading} → {word}")
    return "; ".join(told) + "."
