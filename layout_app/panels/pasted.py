"""Text from the clipboard as lines of cells, and what each column of it may be."""

import csv
import re
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from io import StringIO
from itertools import pairwise
from typing import Any, Final

from layout_app.panels.columns import Column

MOST_LINES: Final = 2_000
NOT_USED: Final = "not used"
ROW_NUMBER: Final = "row number"
ASK: Final = ""
"""A use that only the maker knows."""
QUANTITY: Final = (
    *("qty", "qnty", "quantity", "quantities", "count", "pc", "pcs", "piece", "copies", "copy"),
    *("how many", "number of pieces", "no of pieces", "amount", "needed", "required", "ea"),
)
ASKED: Final = ("#", "no", "nos", "num", "number", "nr", "№")
"""Words that may mean how many, or which row."""
LOOK_FOR_HEADINGS: Final = 6
"""Lines among which the headings are looked for, after a title."""
RISING_BY_NAME: Final = 3
"""Lines from which a column called a quantity that counts 1, 2, 3 is asked about."""

_MARKS: Final = "\t;|,"
_NUMBER: Final = re.compile(r"[\d¼½¾⅓⅔⅛⅜⅝⅞][\d\s.,/'’\"”′″¼½¾⅓⅔⅛⅜⅝⅞-]*(?:in|mm|cm|m|ft)?\.?", re.I)
_UNIT: Final = re.compile(
    r"[\s,/]*[(\[]\s*(mm|cm|m|in|inch|inches|ft|feet|\"|”|″)\.?\s*[)\]]\s*$"
    r"|[\s,/_-]+(?:in\s+)?(mm|cm|in|inch|inches)\.?\s*$|\s*(\"|″)\s*$",
    re.I,
)
_TOTAL: Final = re.compile(r"(grand |sub[- ]?)?(totals?|sums?)\b", re.I)


class PasteError(ValueError):
    """Pasted text cannot become rows; the message is one sentence."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Pasted:
    """A list as it was pasted.

    Attributes
    ----------
    headings
        Words above the columns, as pasted; ``column 1`` and so on where there are none.
    units
        Unit that each heading names, or ``""``.
    lines
        Number of each line in the text, and its cells, as many as there are headings.
    named
        Whether the headings were in the text.
    aside
        Lines that are no rows, such as a title above the headings.
    """

    headings: tuple[str, ...]
    units: tuple[str, ...]
    lines: tuple[tuple[int, tuple[str, ...]], ...]
    named: bool
    aside: tuple[tuple[int, str], ...] = ()

    def column(self, place: int) -> list[str]:
        """Return the cells of a column that are not empty."""
        return [cells[place] for _, cells in self.lines if cells[place]]


def read_text(text: str, columns: Sequence[Column[Any]]) -> Pasted | None:
    """Part text into lines and cells; ``None`` if nothing stands in it, PasteError if too much."""
    raw = text.splitlines()
    if len([line for line in raw if line.strip()]) > MOST_LINES:
        raise PasteError(f"Nothing was pasted: more than {MOST_LINES} lines at once.")
    lines = [(number, cells) for number, cells in _best_cells(text, columns) if any(cells)]
    if not lines:
        return None
    at = _heading_line(lines, columns)
    body = lines if at is None else lines[at + 1 :]
    width = max(len(cells) for _, cells in (body or lines))
    if at is None:
        words: Sequence[str] = [f"column {place + 1}" for place in range(width)]
    else:
        named = lines[at][1]
        width = max(width, len(named))
        words = [*named, *[""] * (width - len(named))]
        words = [word or f"column {place + 1}" for place, word in enumerate(words)]
    full = [(number, (*cells, *[""] * (width - len(cells)))) for number, cells in body]
    made = Pasted(
        headings=tuple(words),
        units=tuple(split_unit(word)[1] for word in words),
        lines=tuple(full),
        named=at is not None,
        aside=tuple((number, _joined(cells)) for number, cells in lines[: at or 0]),
    )
    return _without_notes(made)


def _joined(cells: Sequence[str]) -> str:
    return " ".join(cell for cell in cells if cell)


def _without_notes(pasted: Pasted) -> Pasted:
    """Set lines aside that are notes or totals: one text alone, or a sum."""
    rows, aside = [], list(pasted.aside)
    for number, cells in pasted.lines:
        filled = [cell for cell in cells if cell]
        total = any(_TOTAL.match(cell) for cell in filled[:2])
        note = len(filled) == 1 and len(cells) > 1 and not _NUMBER.fullmatch(filled[0])
        if total or note:
            aside.append((number, _joined(cells)))
        else:
            rows.append((number, cells))
    return replace(pasted, lines=tuple(rows), aside=tuple(aside))


# --- cells -------------------------------------------------------------------------------


def _best_cells(text: str, columns: Sequence[Column[Any]]) -> list[tuple[int, list[str]]]:
    """Part lines at the mark by which most headings, then most numbers, stand alone."""
    ways = [list(_at_mark(text, mark)) for mark in _MARKS if mark in text]
    cut_at_gaps = (re.split(r" {2,}", line.strip()) for line in text.splitlines())
    ways.append([(n, [_plain(cell) for cell in cells]) for n, cells in enumerate(cut_at_gaps, 1)])

    def worth(lines: list[tuple[int, list[str]]]) -> tuple[int, int, int]:
        known = [sum(bool(found_uses([cell], columns)[0]) for cell in cells) for _, cells in lines]
        numbers = [sum(bool(_NUMBER.fullmatch(c)) for c in cells) for _, cells in lines]
        sizes = Counter(len(cells) for _, cells in lines if any(cells))
        even = sizes.most_common(1)[0][1] if sizes else 0
        return (max(known[:LOOK_FOR_HEADINGS], default=0), sum(numbers), even)

    return max(ways, key=worth)


def _at_mark(text: str, mark: str) -> Iterator[tuple[int, list[str]]]:
    """Part lines at a mark; quoted cells may hold it, and an inch mark is no quotation mark."""
    reader = csv.reader(StringIO(text), delimiter=mark, strict=True, skipinitialspace=True)
    before = 0
    try:
        found = []
        for cells in reader:
            found.append((before + 1, [_plain(cell) for cell in cells]))
            before = reader.line_num
    except csv.Error:  # a quotation mark that opens nothing
        found = [
            (number, [_plain(cell) for cell in line.split(mark)])
            for number, line in enumerate(text.splitlines(), 1)
        ]
    yield from found


def _plain(cell: str) -> str:
    return " ".join(cell.split())


# --- headings ----------------------------------------------------------------------------


def split_unit(heading: str) -> tuple[str, str]:
    """Part a heading into its words and the unit it names, ``""`` for none."""
    match = _UNIT.search(heading)
    if match is None:
        return heading, ""
    unit = next(group for group in match.groups() if group).lower()
    return heading[: match.start()], {"”": '"', "″": '"'}.get(unit, unit)


def words_of(heading: str) -> str:
    """Return the bare words of a heading, without unit, dots and case."""
    bare = re.sub(r"[.:*_()\[\]]+", " ", split_unit(heading)[0].casefold())
    return " ".join(bare.split()) or heading.strip()


def _known(columns: Sequence[Column[Any]]) -> dict[str, str]:
    """Return which field each word names, in the singular too."""
    named = dict.fromkeys(ASKED, ASK)
    for column in columns:
        if column.change is not None:
            for name in (column.heading, column.field.replace("_", " "), *column.also):
                named.setdefault(words_of(name), column.field)
    return named


def found_uses(headings: Sequence[str], columns: Sequence[Column[Any]]) -> list[str | None]:
    """Return the field each heading names, `ASK` where that is open, ``None`` where unknown."""
    named = _known(columns)
    found: list[str | None] = []
    for heading in headings:
        words = words_of(heading)
        use = named.get(words, named.get(words.removesuffix("s"), named.get(f"{words}s")))
        found.append(None if use in found and use != ASK else use)
    return found


def _heading_line(
    lines: Sequence[tuple[int, list[str]]], columns: Sequence[Column[Any]]
) -> int | None:
    """Return the place of the line that names two columns or more."""
    for place, (_, cells) in enumerate(lines[:LOOK_FOR_HEADINGS]):
        if sum(use is not None for use in found_uses(cells, columns)) >= 2:
            return place
    return None


# --- uses --------------------------------------------------------------------------------


def uses_of(pasted: Pasted, columns: Sequence[Column[Any]], counted: str) -> tuple[str, ...]:
    """Return what each column is taken for: a field, `ROW_NUMBER`, `NOT_USED` or `ASK`.

    ``counted`` is the field that says how many.
    """
    if not pasted.named:
        return _in_order(pasted, columns, counted)
    uses = [NOT_USED if one is None else one for one in found_uses(pasted.headings, columns)]
    for place, use in enumerate(uses):
        cells = pasted.column(place)
        if use == "name" and words_of(pasted.headings[place]) == "item" and _counts_up(cells):
            uses[place] = ROW_NUMBER
        elif use == ASK:
            uses[place] = _number_use(cells, settled=counted in uses)
        elif use == counted and len(cells) >= RISING_BY_NAME and _counts_up(cells):
            uses[place] = ASK
        elif use == counted and not all(map(is_count, cells)) and "name" not in uses:
            uses[place] = "name"  # pieces, or a piece, by what stands below
        elif use == NOT_USED:
            uses[place] = _use_by_cells(pasted, place, columns, uses)
    return tuple(uses)


def _use_by_cells(
    pasted: Pasted, place: int, columns: Sequence[Column[Any]], uses: Sequence[str]
) -> str:
    """Return the field that a heading perhaps names, if a cell below it reads so."""
    words = words_of(pasted.headings[place])
    for column in columns:
        free = words in column.perhaps and column.field not in uses
        if free and any(map(column.reads, pasted.column(place))):
            return column.field
    return NOT_USED


def _number_use(cells: Sequence[str], *, settled: bool) -> str:
    if _counts_up(cells):
        return ROW_NUMBER
    return NOT_USED if settled or not all(map(is_count, cells)) else ASK


def _in_order(pasted: Pasted, columns: Sequence[Column[Any]], counted: str) -> tuple[str, ...]:
    """Take cells without headings in the order of the table; a number before a name is asked."""
    fields = [column.field for column in columns if column.change is not None]
    first, second = pasted.column(0), pasted.column(1) if len(pasted.headings) > 1 else []
    if first and second and all(map(is_count, first)) and not any(map(_NUMBER.fullmatch, second)):
        use = _number_use(first, settled=False)
        fields = [use, *(field for field in fields if field != counted or use != ASK)]
    return tuple((*fields, *[NOT_USED] * len(pasted.headings))[: len(pasted.headings)])


def _counts_up(cells: Sequence[str]) -> bool:
    """Say whether cells are whole numbers that rise by one from line to line."""
    numbers = [int(cell) for cell in cells if cell.isascii() and cell.isdecimal()]
    rises = all(b == a + 1 for a, b in pairwise(numbers))
    return len(cells) == len(numbers) > 1 and rises


def is_count(cell: str) -> bool:
    """Say whether a cell says how many."""
    return bare_count(cell).isdecimal()


def bare_count(cell: str) -> str:
    """Return a count without what is written around it, such as ``4`` of ``4 pcs``."""
    pattern = r"[x×]?\s*(\d+)(?:[.,]0+)?\s*(?:x|×|pcs?\.?|pieces?|off|ea\.?)?"
    match = re.fullmatch(pattern, cell.strip(), re.I)
    return match[1] if match else cell
