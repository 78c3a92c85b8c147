"""Keyboard twins of the gestures: what the arrow keys and letters do to the selection."""

from collections.abc import Callable
from dataclasses import replace

from layout_app.bench.aiming import Aim
from layout_app.bench.hand import Hand
from layout_app.bench.resizing import finished
from layout_app.bench.resizing_by_keys import HOW_TO_RESIZE, ResizingByKeys
from layout_app.document import close_up, edit_layout, edit_locks, edit_parts, swapping
from layout_app.document.document import Document
from layout_app.model.carried import lifted
from layout_app.model.snapping import Way, low
from shared.cuts.moves import rip_index
from shared.layout import Scope
from shared.lengths import Length, step
from shared.parts import Copy, GrainRule
from shared.plan import CutKind, Placement, Plan

RULES = tuple(GrainRule)

HOW_TO_CARRY = (
    "Return lays it down, Esc leaves it. Arrows move it, with Shift to the next stop; Page Up and"
    " Page Down change the sheet; T turns, P pushes aside, N goes to the nearest place that fits."
)


WHICH_SHEET = "Select a part of the sheet to close up, or use the right button on it."
NO_PARTS = "No part lies on a sheet yet."


class Twins:
    """Does to the selected parts, or the selected cut, what a gesture would do."""

    def __init__(self, hand: Hand) -> None:
        self._hand = hand
        self._left: tuple[Copy | None, int] | None = None
        """Which part was set aside last, if it was one, and at which place in order it lay."""
        self.shuts: Callable[[], bool] = lambda: False
        """Shuts a drawer that is open, where there are any, and says whether it did."""
        self.stops: Callable[[], bool] = lambda: False
        """Ends the tidying of a sheet, where one is tidied, and says whether it did."""

    @property
    def _document(self) -> Document:
        return self._hand.document

    @property
    def selected(self) -> list[Copy]:
        """The selected copies, in order."""
        return sorted(self._document.selection.parts)

    @property
    def only(self) -> Copy | None:
        """The selected copy, if it is only one."""
        chosen = self.selected
        return chosen[0] if len(chosen) == 1 else None

    def select_next(self, by: int) -> bool:
        """Select the next part in reading order over all sheets; after one set aside, what follows.

        Those on no sheet are gone through in the tray.
        """
        copies, only = self._in_order(), self.only
        if only in copies:
            at = copies.index(only) + by
        elif self._left is not None and self._left[0] == only:
            at = self._left[1] if by > 0 else self._left[1] - 1
        else:
            at = 0 if by > 0 else len(copies) - 1
        if not 0 <= at < len(copies):
            return False
        self._document.selection.select_parts([copies[at]])
        return True

    def leave(self) -> None:
        """Leave a state: a gesture, tidying, the sheet before a cut, a drawer, the selection."""
        selection = self._document.selection
        if self._hand.busy or self._hand.draws:
            self._hand.cancel()
        elif not self.stops() and (selection.cut is not None or not self.shuts()):
            selection.clear()

    def select_all(self) -> None:
        """Select all parts that lie on sheets."""
        sheets = self._document.layout.sheets
        self._document.selection.select_parts(
            one.key for sheet in sheets for one in sheet.placements
        )

    def edit(self) -> bool:
        """Ask for name and sizes of the selected part; of copies of one part, at the first."""
        chosen = self.selected
        if len({part for part, _ in chosen}) > 1:
            self._document.said.emit("Select one part to type its name and sizes.")
        elif chosen:
            self._hand.asked.emit(*chosen[0])
        return bool(chosen)

    def turn(self) -> bool:
        """Turn the selected parts by a quarter."""
        return edit_layout.turn_parts(self._document, self.selected)

    def swap(self) -> bool:
        """Lay two selected parts each where the other lies."""
        chosen = self.selected
        return len(chosen) == 2 and swapping.swap_parts(self._document, *chosen)

    def close_up(self) -> bool:
        """Push the parts of the sheets that are selected together, or of the only sheet."""
        doc = self._document
        lying = (doc.layout.find(key) for key in self.selected)
        sheets = list(dict.fromkeys(one.sheet for one in lying if one is not None))
        plan, cut = doc.plan, doc.selection.cut
        if not sheets and plan is not None and cut is not None and plan.has_cut(cut):
            sheets = [plan.cut(cut).sheet]
        filled = [sheet.id for sheet in doc.layout.sheets if sheet.placements]
        sheets = sheets or (filled if len(filled) == 1 else [])
        if not sheets:
            doc.tell(WHICH_SHEET if filled else NO_PARTS)
        return close_up.close_up(doc, *sheets)

    def repair(self) -> bool:
        """Show the least repair of a sheet that can't be cut."""
        return self._hand.repair()

    def cycle_grain(self) -> bool:
        """Give the selected parts the next grain rule."""
        if not self.selected:
            return False
        rule = self._document.job.part(self.selected[0][0]).grain_rule
        return self.set_grain(RULES[(RULES.index(rule) + 1) % len(RULES)])

    def set_grain(self, rule: GrainRule) -> bool:
        """Give the selected parts a grain rule."""
        ids = dict.fromkeys(part for part, _ in self.selected)
        return edit_parts.set_grain_rules(self._document, ids, rule)

    def set_aside(self) -> bool:
        """Set the selected parts aside."""
        going, copies = self.not_aside, self._in_order()
        if going and going[0] in copies:
            self._left = self.only, copies.index(going[0])
        return bool(going) and edit_layout.set_aside(self._document, going)

    @property
    def not_aside(self) -> list[Copy]:
        """The selected copies that can be set aside: they lie on a sheet, or are not placed."""
        layout = self._document.layout
        missing = {one.key for one in layout.waiting if not one.sent}
        return [key for key in self.selected if key in missing or layout.find(key) is not None]

    def put_back(self) -> bool:
        """Let planning place the selected parts again that are set aside."""
        return edit_layout.put_back(self._document, self.selected)

    def hold(self, scope: Scope) -> bool:
        """Hold the selected parts, their strips or their sheets, or release them."""
        return bool(self.selected) and edit_locks.hold_or_release(
            self._document, scope, self.selected
        )

    def release(self) -> bool:
        """Release all that holds the selected parts."""
        return edit_locks.release(self._document, None, self.selected)

    def carry(self) -> bool:
        """Take the selected parts up, to be moved with the arrow keys, unless one is held."""
        chosen = self._lying() or self.selected
        if reason := next(filter(None, map(self._document.held.bars, chosen)), ""):
            self._document.said.emit(reason)
            return False
        self._hand.carry(chosen)
        if chosen:
            self._document.said.emit(HOW_TO_CARRY)
        return bool(chosen)

    def nudge(self, way: Way, *, onward: bool, fine: bool) -> bool:
        """Move the selected parts to the next stop, or by the finest step, as one."""
        keys = self._lying()
        lying = [one for key in keys if (one := self._hand.document.layout.find(key)) is not None]
        if not lying:
            return False
        cargo, sheet = lifted(lying[0], lying[1:]), lying[0].sheet
        ground = self._hand.sheets.ground(sheet, *keys)
        aim = Aim(self._document, sheet, cargo, ground)
        frame, by = aim.frame(lying[0].rect), ground.step if onward else -ground.step
        stop = low(frame, way) + by if fine else aim.next_stop(frame, way, onward=onward)
        if stop is None:
            return False
        by = stop - low(frame, way)
        new = [moved_by(one, way, by) for one in lying]
        return edit_layout.move_parts(self._document, new)

    def _lying(self) -> list[Copy]:
        return [key for key in self.selected if self._hand.document.layout.find(key) is not None]

    def resize(self, way: Way, *, larger: bool, near: bool = False) -> bool:
        """Make the selected part longer or wider, as it lies, by the finest step.

        The far edge moves, or with ``near`` the one nearer the reference corner.
        """
        lying = self._placement()
        if lying is None:
            return False
        part = self._document.job.part(lying.part)
        by = step(self._document.job.style) * (1 if larger else -1)
        length, width = part.cut_length, part.cut_width
        if (way is Way.X) is lying.turned:
            width += by
        else:
            length += by
        if min(length, width) <= 0:
            return False
        size = finished(part, (length, width))
        moved = moved_by(lying, way, -by) if near else lying
        corner = moved.x, moved.y
        return edit_parts.resize_part(
            self._document, part.id, *size, copy=lying.copy, corner=corner if near else None
        )

    def take_edges(self) -> bool:
        """Take the edges of the selected part, to be moved with the arrow keys, unless locked."""
        lying = self._placement()
        if lying is None or self._document.tell(self._document.held.bars(lying.key)):
            return False
        taken = ResizingByKeys(self._hand, lying)
        self._hand.begin(taken)
        taken.appear()
        self._document.said.emit(HOW_TO_RESIZE)
        return True

    def move_rip(self, by: int) -> bool:
        """Move the selected rip, or the strip of the selected part, earlier or later."""
        found = self._rip()
        if found is None:
            return False
        sheet, index = found
        to = index + by
        if not 0 <= to < len(self._hand.sheets.first_pieces(sheet)):
            return False
        by_cut = self._document.selection.cut is not None
        done = edit_layout.move_rip(self._document, sheet, index, to)
        plan = self._document.plan
        if done and by_cut and plan is not None:
            self._document.selection.select_cut(_cut_of_rip(plan, sheet, to))
        return done

    def _rip(self) -> tuple[str, int] | None:
        """Return the sheet and index of the first-level piece that the selection means."""
        plan, number = self._document.plan, self._document.selection.cut
        if plan is not None and number is not None and plan.has_cut(number):
            index = rip_index(plan, number)
            return None if index is None else (plan.cut(number).sheet, index)
        lying = self._placement()
        if lying is None:
            return None
        index = self._hand.sheets.rip_at(lying.sheet, lying.rect.right, lying.rect.bottom)
        return None if index is None else (lying.sheet, index)

    def _placement(self) -> Placement | None:
        return None if self.only is None else self._hand.document.layout.find(self.only)

    def _in_order(self) -> list[Copy]:
        return [
            one.key
            for sheet in self._document.layout.sheets
            for one in sorted(sheet.placements, key=lambda one: (one.y, one.x))
        ]


def moved_by(one: Placement, way: Way, by: Length) -> Placement:
    """Return a placement moved by some ticks in a direction."""
    return replace(one, x=one.x + by) if way is Way.X else replace(one, y=one.y + by)


def _cut_of_rip(plan: Plan, sheet: str, index: int) -> int | None:
    """Return the number of the cut that saws a first-level piece off."""
    rips = [
        cut.number
        for cut in plan.cuts
        if cut.sheet == sheet and cut.level == 1 and cut.kind is not CutKind.TRIM
    ]
    return rips[index] if index < len(rips) else None
