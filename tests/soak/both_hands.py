"""A maker who does the same by keys and by mouse, and what is compared of what comes of it."""

import random
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import replace

from PySide6.QtCore import QPoint, QPointF, Qt

from layout_app.bench.carrying import Carrying, HeldAt
from layout_app.bench.drawing_part import drawn_by_keys
from layout_app.bench.frame import to_mm
from layout_app.bench.tokens import STACK
from layout_app.document import edit_layout
from layout_app.document.document import Document
from layout_app.model.project import Project
from layout_app.model.stops import Way, low
from shared.lengths import INCH, step
from shared.parts import Copy, GrainRule
from shared.plan import Placement
from tests.e2e.maker import Maker
from tests.layout_app.adopting import adopt
from tests.layout_app.small_job import part, planned, small_job

ERROR_PX = 4
SIZES = ((40, 12), (30, 10), (22, 15), (18, 12), (26, 7), (14, 9))
MOST_STEPS = 3100
QT_KEYS = {
    **{name: getattr(Qt.Key, f"Key_{name}") for name in ("Left", "Right", "Up", "Down")},
    **{"p": Qt.Key.Key_P, "t": Qt.Key.Key_T, "Next": Qt.Key.Key_PageDown},
    "Prior": Qt.Key.Key_PageUp,
}
"""The keys of X by which parts are carried, as Qt calls them."""
Modifier = Qt.KeyboardModifier


def project() -> Project:
    """Return a project on three sheets laid out by hand, with two copies set aside."""
    parts = tuple(
        replace(part(f"p{n}", f"Leg {n}", size, 4), grain_rule=GrainRule.EITHER)
        for n, size in enumerate(SIZES, 1)
    )
    job = replace(small_job(), parts=parts)
    document = Document(Project(job=job))
    adopt(document, planned(job))
    edit_layout.set_aside(document, [("p5", 4), ("p6", 4)])
    sheets = tuple(replace(sheet, yours=True) for sheet in document.layout.sheets)
    return replace(document.project, layout=replace(document.layout, sheets=sheets))


def gaping() -> Project:
    """Return that project with the last part of each sheet half an inch off its place."""
    document = Document(project())
    for sheet in document.layout.sheets:
        last = max(sheet.placements, key=lambda one: (one.rect.right, one.y))
        edit_layout.move_part(
            document, last.part, last.copy, sheet.id, last.x + INCH // 2, last.y + INCH // 2
        )
    return document.project


def state(found: Project) -> object:
    """Return what is compared of a project: what lies where, waits, is locked, and its parts."""
    lies = {sheet.id: frozenset(sheet.placements) for sheet in found.layout.sheets}
    aside = frozenset(one.key for one in found.layout.waiting)
    return lies, aside, frozenset(found.layout.holds), found.job.parts


class Hands(Maker):
    """A maker who does the same by keys and by mouse."""

    base: Project
    rng: random.Random
    other: Copy

    def begin(self, base: Project, seed: int) -> None:
        """See all sheets, with planning at rest."""
        self.base, self.rng = base, random.Random(seed)
        self.program.key("shift+F5")
        self.see_all(base)

    def at_rest(self) -> Project:
        """Return what is saved once planning has placed all that is not set aside."""
        return self.until("a plan", lambda found: all(one.sent for one in found.layout.waiting))

    # --- where things are ------------------------------------------------------------------

    def lying(self) -> list[Placement]:
        """Return all that lies on sheets, in the order Tab goes."""
        return [
            one
            for sheet in self.base.layout.sheets
            for one in sorted(sheet.placements, key=lambda one: (one.y, one.x))
        ]

    def point(self, sheet: str, x: float, y: float) -> tuple[int, int]:
        """Return where a point of a sheet, in ticks, is in the window."""
        stand = self.alike.bench.hand.sheets.stand(sheet)
        at = QPointF(stand.x + to_mm(round(x)), stand.y + to_mm(round(y)))
        return self.in_window(self.alike.bench.mapFromScene(at))

    def middle(self, one: Placement) -> tuple[int, int]:
        """Return where the middle of a part is in the window."""
        return self.point(one.sheet, one.x + one.length / 2, one.y + one.width / 2)

    def erring(self, at: tuple[int, int]) -> tuple[int, int]:
        """Return a place that is missed by a few pixels."""
        x, y = (value + self.rng.randint(-ERROR_PX, ERROR_PX) for value in at)
        return x, y

    def token(self, copy: Copy) -> tuple[int, int]:
        """Return where the token of a part is in the tray."""
        tokens = self.alike.bench.shelf.tokens
        items = [tokens.item(row) for row in range(tokens.count())]
        rect = next(
            tokens.visualItemRect(item) for item in items if item.data(STACK).part.id == copy[0]
        )
        at = tokens.viewport().mapTo(self.alike, rect.center())
        return at.x(), at.y()

    def road(self, copy: Copy, end: Placement, *, push: bool = False) -> list[str]:
        """Return the keys that carry a part to where it lies otherwise.

        Found by carrying it in the window that is alike: from stop to stop as long as none lies
        beyond, then step by step.
        """
        sheets = [sheet.id for sheet in self.base.layout.sheets]
        pressed = ["p"] if push else []
        held = self._held(copy, pressed)
        if not held.sheet:
            pressed.append("Next")
            held = self._held(copy, pressed)
        by = sheets.index(end.sheet) - sheets.index(held.sheet)
        pressed += ["Next" if by > 0 else "Prior"] * abs(by)
        if self._held(copy, pressed).turned != end.turned:
            pressed.append("t")
        ways = (("Left", "Right", Way.X), ("Up", "Down", Way.Y))
        for near, far, way in ways:
            to, at = low(end.rect, way), low(self._held(copy, pressed).rect, way)
            jump = f"shift+{far if to > at else near}"
            while at != to:
                there = low(self._held(copy, [*pressed, jump]).rect, way)
                if there == at or (there - to) * (at - to) < 0:
                    break
                pressed, at = [*pressed, jump], there
        lies = self._held(copy, pressed).rect
        for near, far, way in ways:
            off = low(end.rect, way) - low(lies, way)
            number = min(abs(off) // step(self.base.job.style), MOST_STEPS)
            pressed += [far if off > 0 else near] * number
        return pressed

    def _held(self, copy: Copy, pressed: Sequence[str]) -> HeldAt:
        """Return where a part is held after some keys, in the window that is alike."""
        hand = self.alike.bench.hand
        self.alike.document.selection.select_parts([copy])
        hand.carry([copy])
        carrying = hand.interaction
        assert isinstance(carrying, Carrying)
        for key in pressed:
            shift, _, name = key.rpartition("+")
            modifier = Modifier.ShiftModifier if shift else Modifier.NoModifier
            carrying.key(QT_KEYS[name], modifier)
        held = carrying.held
        hand.cancel()
        return held

    def drawn_road(self, end: Placement) -> list[str]:
        """Return the keys that draw a part as it was drawn otherwise, step by step."""
        sheets = [sheet.id for sheet in self.base.layout.sheets]
        on = self.alike.bench.hand.sheets.stand(sheets[0])
        drawing = drawn_by_keys(self.alike.bench.hand, on)
        pressed = ["Next"] * sheets.index(end.sheet)
        for _ in pressed:
            drawing.key(Qt.Key.Key_PageDown, Modifier.NoModifier)
        begun, by = drawing.rect, step(self.base.job.style)
        drawing.clear()
        along, across = ("Left", "Right"), ("Up", "Down")
        moves = (along, end.x - begun.x), (across, end.y - begun.y)
        sizes = (along, end.length - begun.length), (across, end.width - begun.width)
        for begin, steps in (((), moves), (("e",), sizes)):
            pressed += begin
            for arrows, more in steps:
                pressed += [arrows[more > 0]] * min(MOST_STEPS, round(abs(more) / by))
        return pressed

    # --- what hands do ---------------------------------------------------------------------

    def select(self, copy: Copy) -> None:
        """Select a part by keys alone."""
        order = [one.key for one in self.lying()]
        self.program.key("Escape")
        if copy in order:
            self.program.key(*["Tab"] * (order.index(copy) + 1))
            return
        tokens = self.alike.bench.shelf.tokens
        rows = [tokens.item(row).data(STACK).part.id for row in range(tokens.count())]
        self.program.key(*["Tab"] * (len(order) + 1), "Home", *["Down"] * rows.index(copy[0]))

    def drag(self, copy: Copy, end: tuple[int, int]) -> None:
        """Drag a part from its middle to a place."""
        self.program.take(self.place_of(copy), end)
        self.program.let_go()

    @contextmanager
    def held(self, key: str) -> Iterator[None]:
        """Hold a key meanwhile."""
        self.desk.do("keydown", key)
        try:
            yield
        finally:
            self.desk.do("keyup", key)

    def choose_two(self, copy: Copy, *, again: bool = False) -> None:
        """Select a part and another of its sheet: the same other ``again``."""
        if not again:
            sheet = next(one.sheet for one in self.lying() if one.key == copy)
            others = [one.key for one in self.lying() if one.sheet == sheet and one.key != copy]
            self.other = self.rng.choice(others)
        self.program.key("Escape")
        self.program.click(self.place_of(copy))
        with self.held("ctrl"):
            self.program.click(self.place_of(self.other))

    def on_menu(self, at: tuple[int, int], text: str, chosen: Sequence[Copy] = ()) -> bool:
        """Choose a row of the right button's menu at a place; say whether there is one."""
        window = QPoint(*at)
        port = self.alike.bench.viewport()
        self.alike.document.selection.select_parts(chosen)
        menu = self.alike.bench.menu_at(port.mapFrom(self.alike, window))
        row = next((one for one in menu.actions() if one.text().split("\t")[0] == text), None)
        if row is None or not row.isEnabled():
            menu.deleteLater()
            return False
        menu.adjustSize()
        row_at = menu.actionGeometry(row).center()
        menu.deleteLater()
        self.program.click(at, button=3)
        self.program.click((at[0] + row_at.x(), at[1] + row_at.y()))
        return True
