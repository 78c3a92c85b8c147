"""Parts in the hand over no sheet: what is said, and the sheet that letting go there opens."""

from collections.abc import Iterator
from dataclasses import replace
from itertools import product
from typing import NamedTuple

from layout_app.bench.interaction import GestureHand
from layout_app.bench.showing_cargo import HeldAt
from layout_app.document import edit_layout
from layout_app.document.judging_many import judge_opened
from layout_app.model import layout_edits
from layout_app.model.at_hand import none_left_words, rows_left
from layout_app.model.carried import Cargo
from layout_app.model.feasibility import Verdict
from layout_app.model.landing import frame_of
from shared.finding import called
from shared.plan import Placement
from shared.stock import Stock, orientations

OFF_BENCH = Verdict(good=False, words="off the bench")


class Opening(NamedTuple):
    """A sheet that would be opened, and how parts would lie on it.

    Attributes
    ----------
    verdict
        What is said of it; where it is not good no sheet can be opened, and it says why.
    row
        Id of the stock row that the sheet comes from.
    """

    verdict: Verdict
    row: str = ""
    placements: tuple[Placement, ...] = ()


class Beside:
    """Finds the sheet that opens for parts let go beside the sheets; what is found stays known."""

    def __init__(self, hand: GestureHand, taken: Cargo) -> None:
        self._hand, self._doc, self._taken = hand, hand.document, taken
        self._found: dict[tuple[bool | None, bool], Opening] = {}

    def opening(self, held: HeldAt, turned: bool | None, *, by_hand: bool) -> Opening | None:
        """Return the first sheet at hand of their material that takes them, at its corner.

        ``None`` where they are not held beside the sheets. ``turned`` says how the first part
        lies, ``None`` if that is not settled; not turned ``by_hand`` it may lie the other way.
        """
        if held.waits or not held.beside:
            return None
        asked = turned, by_hand
        if asked not in self._found:
            good = (one for one in self._tried(turned, by_hand) if one.verdict.good)
            self._found[asked] = next(good, None) or Opening(self._no(turned, by_hand))
        return self._found[asked]

    def verdict(self, held: HeldAt, opening: Opening | None) -> Verdict:
        """Say what becomes of them where no sheet lies."""
        if held.waits:
            words = "will be set aside" if self._taken.lead.home else "stays in the tray"
            return Verdict(good=True, words=words)
        return OFF_BENCH if opening is None else opening.verdict

    def let_go(self, opening: Opening | None, name: str) -> None:
        """Open the sheet and lay the parts there, or say why they stay where they were."""
        doc, before = self._doc, self._doc.layout
        if opening is not None and opening.verdict.good:
            edit_layout.open_sheet(doc, opening.row, opening.placements)
            if doc.layout is not before:
                stand = self._hand.scene.floor.of(opening.placements[0].sheet)
                if stand is not None:
                    self._hand.screen.reveal(stand.rect)
            return
        stay, they = ("stays", "it was") if len(self._taken.keys) == 1 else ("stay", "they were")
        why = f"{they} let go off the bench" if opening is None else opening.verdict.words
        doc.said.emit(f"{name} {stay}: {why}.")

    def _tried(self, turned: bool | None, by_hand: bool) -> Iterator[Opening]:
        """Yield how they could lie, on a sheet of each row that is left."""
        job, layout = self._doc.job, self._doc.layout
        part = job.part(self._taken.lead.part)
        for row in rows_left(job, layout, part.material):
            allowed = orientations(part.grain_rule, row.grain)
            first = allowed[0] if turned is None or turned not in allowed else turned
            ways = (bool(turned),) if by_hand else dict.fromkeys((first, *allowed))
            for way in ways:
                yield from self._on(row, turned=way)

    def _on(self, row: Stock, *, turned: bool) -> Iterator[Opening]:
        """Yield how they could lie on one sheet: at its corner, else behind bad places."""
        sheet = layout_edits.add_sheet(self._doc.layout, row).sheets[-1]
        cargo = self._taken if turned == self._taken.lead.turned else self._taken.flipped()
        frame = frame_of(piece.rect(0, 0) for piece in cargo.pieces)
        usable, bad = row.usable, [one.rect for one in row.no_go]
        along = sorted({usable.x, *(one.right for one in bad)})
        across = sorted({usable.y, *(one.bottom for one in bad)})
        for y, x in product(across, along):
            if x + frame.length <= usable.right and y + frame.width <= usable.bottom:
                placements = cargo.placements(sheet.id, x - frame.x, y - frame.y)
                verdict = judge_opened(self._doc, sheet, placements)
                said = replace(verdict, words=self._words(row)) if verdict.good else verdict
                yield Opening(said, row.id, placements)

    def _words(self, row: Stock) -> str:
        """Say which sheet opens: of what material, and of which row if there are several of it."""
        several = sum(other.material == row.material for other in self._doc.job.stock) > 1
        which = f"{row.material}, {called(row)}" if several else row.material
        return f"let go here: opens a sheet of {which}"

    def _no(self, turned: bool | None, by_hand: bool) -> Verdict:
        """Say why no sheet can be opened."""
        job, layout = self._doc.job, self._doc.layout
        material = job.part(self._taken.lead.part).material
        rows = [row for row in job.stock if row.material == material]
        if not rows:
            return _said(f"there is no sheet of {material} in sheets & rack")
        if not rows_left(job, layout, material):
            return _said(none_left_words(rows[0]).split(". ")[0].rstrip(".").replace("No", "no", 1))
        tried = next(self._tried(turned, by_hand), None)
        return tried.verdict if tried is not None else _said("too large for the sheets at hand")


def _said(words: str) -> Verdict:
    return Verdict(good=False, words=words)
