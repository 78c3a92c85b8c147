"""What gives way to parts in the hand: where it would go, shown and said."""

from collections.abc import Sequence

from PySide6.QtCore import QRectF
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QStyleOptionGraphicsItem, QWidget

from layout_app.bench.aiming import Aim, Aimed
from layout_app.bench.frame import to_rectf
from layout_app.bench.interaction import GestureHand
from layout_app.bench.overlays import IN_HAND, Ghost, Lifted, Overlay
from layout_app.document.judging_many import judge_all
from layout_app.document.push_aside import PushAside
from layout_app.look import pens
from layout_app.model.landing import Snapped
from layout_app.model.pushing import Pushed
from shared.job import Job
from shared.lengths import format_pair
from shared.parts import Copy
from shared.plan import Placement

NAMED = 2
"""So many of what is pushed are named, others counted."""


class GivingWay:
    """Pushes aside what lies in the way of parts in the hand, while that is wished.

    Attributes
    ----------
    on
        Whether a key has switched it on for this gesture.
    pushed
        Where all would lie; ``None`` if nothing was pushed, or could be.
    """

    def __init__(self, hand: GestureHand, copies: Sequence[Copy]) -> None:
        self._hand, self._copies = hand, tuple(copies)
        self._push: PushAside | None = None
        self.on = False
        self.pushed: Pushed | None = None
        self._why = ""

    def is_wished(self, *, by_pointer: bool) -> bool:
        """Say whether others are pushed: a key switched it on, or one is held while dragging."""
        return self.on or (by_pointer and self._hand.pushes)

    def forget(self) -> None:
        """Push nothing where the parts are now."""
        self.pushed, self._why = None, ""

    def aimed(self, aim: Aim, aimed: Aimed, *, by_pointer: bool, free: bool) -> Aimed:
        """Push what is in the way of a place that is not good as it is, if that is wished.

        ``free`` keeps to just that place; else one before or behind what lies there may do.
        """
        self.forget()
        if aimed.verdict.good or not aimed.verdict.known:
            return aimed
        if not self.is_wished(by_pointer=by_pointer):
            return aimed
        doc = self._hand.document
        if self._push is None:
            self._push = PushAside(doc, self._copies)
        found = self._push.push(aim.placements(aimed.place.rect), free=free)
        verdict = None if found.why else judge_all(doc, found.lying)
        if verdict is None or not verdict.good:
            self._why = found.why
            return aimed
        self.pushed = found
        return Aimed(Snapped(rect=aim.frame(found.held[0].rect)), verdict)

    @property
    def moved(self) -> tuple[Placement, ...]:
        """Where those would lie that give way."""
        return () if self.pushed is None else self.pushed.moved

    @property
    def words(self) -> tuple[str, ...]:
        """What is pushed, or why nothing can be."""
        if self._why:
            return (f"cannot push: {self._why}",)
        return (pushed_words(self._hand.document.job, self.moved),) if self.moved else ()


def pushed_words(job: Job, moved: Sequence[Placement]) -> str:
    """Say which parts are pushed."""
    names = [job.named(one.key) for one in moved[:NAMED]]
    if len(moved) > NAMED:
        names = [names[0], f"{len(moved) - 1} more"]
    return f"pushes {' and '.join(names)}"


class Aside(Ghost):
    """A part that gives way, drawn where it would lie."""

    line_px = 1.5

    def __init__(self, hand: GestureHand, one: Placement) -> None:
        scene = hand.scene
        super().__init__(scene.theme, (), pens.tint(scene.theme, scene.tint_of(one.key)))


class AsideShown(Overlay):
    """All parts that give way, and the places that they leave."""

    def __init__(self, hand: GestureHand) -> None:
        super().__init__(hand.scene.theme, IN_HAND - 1)
        self._hand = hand
        self._ghosts: dict[Copy, Aside] = {}
        self._left: dict[Copy, Lifted] = {}
        self._shown: tuple[Placement, ...] = ()

    @property
    def shown(self) -> tuple[Placement, ...]:
        """What is shown to give way."""
        return self._shown

    def show_placements(self, moved: tuple[Placement, ...]) -> None:
        """Show these parts where they would lie, and no others."""
        if moved == self._shown:
            return
        self._shown = moved
        keys = {one.key for one in moved}
        for items in (self._ghosts, self._left):
            for key, item in items.items():
                item.setVisible(key in keys)
        for one in moved:
            self._show(one)

    def keep_off(self, taken: tuple[QRectF, ...]) -> None:
        """Keep the names clear of places of the scene."""
        for one in self._shown:
            self._ghosts[one.key].keep_off(taken)

    def _show(self, one: Placement) -> None:
        if one.key not in self._ghosts:
            for rect in self._hand.scene.rects_of((one.key,)):
                self._left[one.key] = left = Lifted(self.theme, rect)
                left.setParentItem(self)
            self._ghosts[one.key] = ghost = Aside(self._hand, one)
            ghost.setParentItem(self)
        stand = self._hand.scene.floor.of(one.sheet)
        job, sides = self._hand.document.job, (one.length, one.width)
        length, width = reversed(sides) if one.turned else sides
        self._ghosts[one.key].tell((job.part(one.part).name, format_pair(length, width, job.style)))
        if stand is not None:
            rect = to_rectf(one.rect).translated(stand.x, stand.y)
            grain = self._hand.sheets.grain_along_x(one.sheet)
            self._ghosts[one.key].lie(rect, good=True, grain_along_x=grain)

    def paint(
        self,
        painter: QPainter,
        option: QStyleOptionGraphicsItem,
        widget: QWidget | None = None,
    ) -> None:
        """Paint nothing: what is shown paints itself."""
