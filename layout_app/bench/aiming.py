"""What the hand aims at on a sheet: the best place that can be cut, or where the next one is."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import chain
from typing import NamedTuple

from layout_app.document.document import Document
from layout_app.document.judging_many import is_past_mending, judge_all
from layout_app.document.places import Places
from layout_app.model.carried import Cargo
from layout_app.model.feasibility import UNKNOWN, Verdict, rows_of
from layout_app.model.landing import (
    Field,
    Guide,
    Snapped,
    frame_of,
    is_within,
    kept_inside,
    rounded,
)
from layout_app.model.snapping import next_stop
from layout_app.model.stops import LineKind, SnapGround, Way, low
from shared.geometry import Rect
from shared.lengths import Length
from shared.plan import Placement

MOST_KNOWN = 5_000
"""Of how many places it is remembered what was said."""

MOST_ASKED = 60
"""Of how many stops ahead a key asks whether they can be cut."""


@dataclass
class Patience:
    """How many places are asked about at once, and how many pieces of a sheet looked at for one.

    ``states`` is ``None`` for as many as it takes.
    """

    asks: int
    states: int | None


class Aimed(NamedTuple):
    """Where parts would lie, and what is said of it: `UNKNOWN` if there is more to look at."""

    place: Snapped
    verdict: Verdict


class Nearest(NamedTuple):
    """The nearest place that can be cut, if one is known; and whether all were asked about."""

    place: Snapped | None
    known: bool


class Aim:
    """Finds places for parts in the hand on one sheet, turned one way.

    What was said of a place stays known for the whole gesture.

    Parameters
    ----------
    doc
        Where they lie.
    sheet, cargo
        Where they would lie, and how they are held.
    ground
        What there is to stop at.
    home
        Where they were taken from, if that was this sheet and they lie as they lay.
    """

    def __init__(
        self,
        doc: Document,
        sheet: str,
        cargo: Cargo,
        ground: SnapGround,
        home: Rect | None = None,
    ) -> None:
        self._doc, self._sheet, self._cargo, self._ground = doc, sheet, cargo, ground
        self._home = home
        self._pieces = tuple(one.rect(0, 0) for one in cargo.along(sheet))
        self._frame = frame_of(self._pieces)
        self._field = Field(self._frame, ground, self._pieces)
        self._said: dict[tuple[Length, Length], Verdict] = {}

    @cached_property
    def _mends(self) -> bool:
        """Whether there may be a place at all: what stays on the sheet can be cut alone."""
        return not is_past_mending(self._doc, self._sheet, self._cargo.keys)

    def frame(self, at: Rect) -> Rect:
        """Return the rectangle round all parts here with the one the hand holds there."""
        return Rect(
            x=at.x + self._frame.x,
            y=at.y + self._frame.y,
            length=self._frame.length,
            width=self._frame.width,
        )

    def corner(self, frame: Rect) -> tuple[Length, Length]:
        """Return the corner of the part that the hand holds with the frame there."""
        return frame.x - self._frame.x, frame.y - self._frame.y

    def find(self, frame: Rect, reach: Length, patience: Patience) -> Aimed:
        """Return the best place within reach that can be cut, else the nearest whole step.

        On a sheet that cannot be cut whatever is laid there, the best that is free.
        """
        landings = self._field.landings(frame, reach, self._home)
        for place in chain(self._in_set(frame, reach), landings):
            verdict = self.say(place.rect, patience)
            if verdict.good or not verdict.known or not self._mends:
                return Aimed(place, verdict)
        there = Snapped(rect=rounded(kept_inside(frame, self._ground.usable), self._ground))
        return Aimed(there, self.say(there.rect, patience))

    def _in_set(self, frame: Rect, reach: Length) -> Iterator[Snapped]:
        """Yield the free places within reach where members of a matched set join it."""
        if self._home is not None and is_within(self._home, frame, reach):
            return
        near = [one for one in self._sets if reach and is_within(one.rect, frame, reach)]
        yield from (one for one in near if self._field.is_free(one.rect))

    @cached_property
    def _sets(self) -> tuple[Snapped, ...]:
        """Where parts in the hand lie beside neighbours of their matched sets."""
        job, held = self._doc.job, set(self._cargo.keys)
        if not any(job.part(part).group for part, _ in held):
            return ()
        sheet = self._doc.layout.sheet(self._sheet)
        lying = [one for one in sheet.placements if one.key not in held]
        matches, found = rows_of(job).matches, list[Snapped]()
        for one in self._cargo.placements(self._sheet, 0, 0):
            here = lying if one.sheet == self._sheet else ()
            for spot, other in matches.spots(one, here):
                at = self.frame(replace(spot, x=spot.x - one.x, y=spot.y - one.y))
                way = Way.X if spot.y == other.y else Way.Y
                line = max(low(spot, way), low(other.rect, way))
                guide = Guide(way=way, at=line, kind=LineKind.SET, by=other.rect)
                found.append(Snapped(rect=at, guides=(guide,)))
        return tuple(found)

    @cached_property
    def _corners(self) -> tuple[Snapped, ...]:
        """All places that touch something both ways, whether they can be cut or not."""
        return tuple(self._field.corners())

    def nearest(self, frame: Rect, patience: Patience) -> Nearest:
        """Return the nearest place that touches something both ways and can be cut."""
        if not self._mends:
            return Nearest(None, known=True)

        def away(one: Snapped) -> Length:
            return abs(one.rect.x - frame.x) + abs(one.rect.y - frame.y)

        for place in sorted(self._corners, key=away):
            verdict = self.say(place.rect, patience)
            if verdict.good or not verdict.known:
                best = replace(place, home=place.rect == self._home)
                return Nearest(best if verdict.good else None, verdict.known)
        return Nearest(None, known=True)

    def say(self, frame: Rect, patience: Patience) -> Verdict:
        """Say whether the parts may lie there, as far as patience goes."""
        at = frame.x, frame.y
        if at in self._said:
            return self._said[at]
        if patience.asks == 0:
            return UNKNOWN
        patience.asks -= 1
        verdict = judge_all(self._doc, self.placements(frame), patience.states)
        if verdict.known:
            if len(self._said) == MOST_KNOWN:
                self._said.clear()
            self._said[at] = verdict
        return verdict

    def just_there(self, frame: Rect, patience: Patience) -> Aimed:
        """Return what is said of one place, whatever would be better."""
        place = Snapped(rect=frame, home=frame == self._home)
        return Aimed(place, self.say(frame, patience))

    def learn(self, frame: Rect, verdict: Verdict) -> None:
        """Note what is said of a place in full."""
        self._said[frame.x, frame.y] = verdict

    def next_stop(
        self, frame: Rect, way: Way, *, onward: bool, over: bool = False
    ) -> Length | None:
        """Return the next stop in a direction: one that can be cut, if there is one ahead.

        With ``over`` the next of all, as for what gives way.
        """
        pieces = self._pieces_at(frame)
        patience = Patience(MOST_ASKED, None)

        def can_be_cut(there: Rect) -> bool:
            return self.say(there, patience).good

        return next_stop(
            frame,
            self._ground,
            way,
            onward=onward,
            pieces=pieces,
            can_be_cut=can_be_cut,
            over=over,
        )

    def _pieces_at(self, frame: Rect) -> tuple[Rect, ...]:
        x, y = self.corner(frame)
        return tuple(
            Rect(x=one.x + x, y=one.y + y, length=one.length, width=one.width)
            for one in self._pieces
        )

    def placements(self, frame: Rect) -> tuple[Placement, ...]:
        """Return how all lie with the frame round them there."""
        return self._cargo.placements(self._sheet, *self.corner(frame))


class Aims:
    """Who finds places for parts in the hand, on each sheet and turned either way.

    Parameters
    ----------
    doc, sheets
        Where they lie.
    taken
        The parts as they were taken up.
    """

    def __init__(self, doc: Document, sheets: Places, taken: Cargo) -> None:
        self._doc, self._sheets, self._taken = doc, sheets, taken
        self._grounds: dict[str, SnapGround] = {}
        self._aims: dict[tuple[str, bool], Aim] = {}

    def ground(self, sheet: str) -> SnapGround:
        """Return what there is to stop at on a sheet."""
        if sheet not in self._grounds:
            self._grounds[sheet] = self._sheets.ground(sheet, *self._taken.keys)
        return self._grounds[sheet]

    def on(self, sheet: str, *, turned: bool) -> Aim:
        """Return who finds places on a sheet with the first part turned or not."""
        if (sheet, turned) not in self._aims:
            taken, ground = self._taken, self.ground(sheet)
            cargo = taken if turned == taken.lead.turned else taken.flipped()
            home = self._home(sheet, turned)
            self._aims[sheet, turned] = Aim(self._doc, sheet, cargo, ground, home)
        return self._aims[sheet, turned]

    def _home(self, sheet: str, turned: bool) -> Rect | None:
        """Return the frame they were taken from, if that was this sheet and they lay so."""
        lead, lay = self._taken.lead, self._doc.layout.find(self._taken.lead.key)
        if lay is None or (sheet, turned) != (lead.home, lead.turned):
            return None
        return frame_of(one.rect(lay.x, lay.y) for one in self._taken.along(sheet))
