"""Where each copy of a part lies, as rows of a table, and what a changed field does."""

from collections.abc import Iterator
from dataclasses import dataclass

from layout_app.document import edit_layout, edit_locks, edit_parts
from layout_app.document.document import Document
from layout_app.document.judging_many import judge_here
from layout_app.document.places import Places
from layout_app.model.carried import called
from layout_app.model.off_sheets import NOT_PLACED
from layout_app.panels.columns import positive
from shared.holding import frozen
from shared.layout import LayoutSheet, Scope
from shared.lengths import Length, LengthStyle, format_length, format_with_remainder, parse_length
from shared.parts import Copy
from shared.plan import ASIDE, Placement
from shared.stock import Stock, orientations

NOT_HELD = "no"
SCOPES = (Scope.PART, Scope.STRIP, Scope.SHEET)


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacementRow:
    """One copy of a part, wherever it is.

    Attributes
    ----------
    part, copy, name
        Which copy, and what its part is called.
    length, width
        Finished size of the part, in ticks.
    lies
        Where it lies, in the frame of its sheet; ``None`` when it lies on no sheet.
    x, y
        Running position of its near corner in ticks, from the trimmed reference edges.
    held
        What of the copy is held, the least first; ``behind`` if only another part holds it.
    sent, sawn
        Whether the maker set it aside, and whether it was sawn before.
    yours, among
        Whether its sheet is the maker's; what else lies there, if that cannot be cut.
    """

    part: str
    copy: int
    name: str
    length: Length
    width: Length
    lies: Placement | None = None
    x: Length = 0
    y: Length = 0
    held: tuple[Scope, ...] = ()
    behind: bool = False
    sent: bool = False
    sawn: bool = False
    yours: bool = False
    among: LayoutSheet | None = None

    @property
    def key(self) -> Copy:
        """Which copy it is."""
        return self.part, self.copy


def rows(document: Document) -> tuple[PlacementRow, ...]:
    """Return a row for each copy, in the order of the take-off."""
    lying = {row.key: row for row in _on_sheets(document)}
    waits = {one.key: one.sent for one in document.layout.waiting}
    sawn = {one.key for one in document.layout.finished}
    return tuple(
        lying.get(key)
        or PlacementRow(
            part=part.id,
            copy=key[1],
            name=part.name,
            length=part.length,
            width=part.width,
            sent=waits.get(key, False),
            sawn=key in sawn,
            held=_own_holds(document, key),
        )
        for part in document.job.parts
        for key in ((part.id, copy) for copy in range(1, part.copies + 1))
    )


def _on_sheets(document: Document) -> Iterator[PlacementRow]:
    """Yield a row for each copy that lies on a sheet."""
    job = document.job
    parts = {part.id: part for part in job.parts}
    stocks = {row.id: row for row in job.stock}
    for sheet in document.layout.sheets:
        trims, among = stocks[sheet.stock].trims, sheet if sheet.id in document.problems else None
        held, behind = _held_on(document, sheet, stocks[sheet.stock])
        for one in sheet.placements:
            key = one.key
            yield PlacementRow(
                part=one.part,
                copy=one.copy,
                name=parts[one.part].name,
                length=parts[one.part].length,
                width=parts[one.part].width,
                lies=one,
                x=one.x - trims.start,
                y=one.y - trims.near,
                held=held.get(key, ()),
                behind=key in behind,
                yours=sheet.yours,
                among=among,
            )


def _held_on(
    document: Document, sheet: LayoutSheet, stock: Stock
) -> tuple[dict[Copy, tuple[Scope, ...]], set[Copy]]:
    """Return what is held of the copies on a sheet, and which are held with another part."""
    found: dict[Copy, list[Scope]] = {}
    behind: set[Copy] = set()
    kerf = document.job.shop.kerf
    for hold in document.held.in_force:
        for one in frozen(sheet, stock, kerf, [hold]) if hold.sheet == sheet.id else ():
            key = one.key
            if hold.scope is Scope.PART and key != hold.key:
                behind.add(key)
            else:
                found.setdefault(key, []).append(hold.scope)
    ordered = {key: tuple(s for s in SCOPES if s in scopes) for key, scopes in found.items()}
    return ordered, behind - set(found)


def _own_holds(document: Document, key: Copy) -> tuple[Scope, ...]:
    """Return the holds that were put on a copy which had to leave."""
    mine = {hold.scope for hold in document.layout.holds if hold.key == key}
    return tuple(scope for scope in SCOPES if scope in mine)


# --- in words ----------------------------------------------------------------------------


def sheet_words(row: PlacementRow) -> str:
    """Name the sheet a copy lies on."""
    if row.lies is not None:
        return row.lies.sheet
    return ASIDE if row.sent else ""


def place_words(row: PlacementRow, ticks: Length, style: LengthStyle) -> str:
    """Write a running position as the bench does; empty of what lies nowhere."""
    return "" if row.lies is None else format_length(ticks, style)


def whole_place(row: PlacementRow, ticks: Length, style: LengthStyle) -> str:
    """Write a running position with what rounding leaves over; empty of what lies nowhere."""
    return "" if row.lies is None else format_with_remainder(ticks, style)


def turned_words(row: PlacementRow) -> str:
    """Say whether a copy lies with its length across the sheet's."""
    if row.lies is None:
        return ""
    return "yes" if row.lies.turned else "no"


def held_words(row: PlacementRow) -> str:
    """Say what is held."""
    if row.held:
        return ", ".join(row.held)
    if row.behind:
        return "with another"
    return "" if row.lies is None else NOT_HELD


def state_words(document: Document, row: PlacementRow) -> str:
    """Say how it stands with a copy: what the bench shows of it."""
    if row.lies is None:
        if row.sawn:
            return "sawn before"
        return ASIDE if row.sent else NOT_PLACED
    if row.among is not None:
        return _trouble(document, row.among, row.lies)
    return "laid by hand" if row.yours else "as planned"


def _trouble(document: Document, sheet: LayoutSheet, lies: Placement) -> str:
    """Say what is wrong with a copy on a sheet that cannot be cut."""
    if lies.key in judge_here(document, sheet).troubled:
        return judge_here(document, sheet, lies).words
    return "its sheet can't be cut"


# --- changes -----------------------------------------------------------------------------


def to_sheet(document: Document, row: PlacementRow, sheet: str) -> bool:
    """Lay a copy on another sheet, at the first place that is free; or set it aside."""
    if sheet == sheet_words(row):
        return False
    if sheet == ASIDE:
        return edit_layout.set_aside(document, [row.key])
    turned = _turned_on(document, row, sheet)
    cargo = called(document.job, [row.key])
    x, y = Places(document).first_place(sheet, cargo.flipped() if turned else cargo)
    return edit_layout.move_part(document, *row.key, sheet, x, y, turned)


def _turned_on(document: Document, row: PlacementRow, sheet: str) -> bool:
    """Return how a copy lies on a sheet: as it lay, if the grain there allows it."""
    stock = document.job.stock_row(document.layout.sheet(sheet).stock)
    allowed = orientations(document.job.part(row.part).grain_rule, stock.grain)
    if row.lies is not None and row.lies.turned in allowed:
        return row.lies.turned
    return allowed[0]


def to_place(document: Document, row: PlacementRow, text: str, *, across: bool) -> bool:
    """Lay a copy at a running position along the sheet, or across it; ValueError if unreadable."""
    if row.lies is None:
        return False
    by = parse_length(text, document.job.style.unit) - (row.y if across else row.x)
    x, y = (row.lies.x, row.lies.y + by) if across else (row.lies.x + by, row.lies.y)
    return edit_layout.move_part(document, *row.key, row.lies.sheet, x, y, row.lies.turned)


def resize(document: Document, row: PlacementRow, text: str, *, across: bool) -> bool:
    """Give the part, all its copies, another size, as its edges do on the bench.

    ValueError with a sentence if it is none.
    """
    side = positive(text, document.job.style)
    length, width = (row.length, side) if across else (side, row.width)
    return edit_parts.resize_part(document, row.part, length, width, copy=row.copy, push=True)


def turn(document: Document, row: PlacementRow, words: str) -> bool:
    """Turn a copy, if it does not lie that way already."""
    return words != turned_words(row) and edit_layout.turn_parts(document, [row.key])


def hold(document: Document, row: PlacementRow, words: str) -> bool:
    """Hold a copy, its strip or its sheet too; ``NOT_HELD`` releases all that holds it."""
    if words == NOT_HELD:
        return edit_locks.release(document, None, [row.key])
    if words not in list(SCOPES):
        return False
    return edit_locks.hold(document, Scope(words), [row.key])
