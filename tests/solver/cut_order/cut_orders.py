"""All orders of the cuts of a small job: a second opinion that shares no code with the planner.

Reads the trees of cuts as `shared.tree` states them, and simulates what lies about on the
sawhorses, cut by cut. Pieces of a run may be sawn off in any order, a trim comes first; the
last piece of a run that ends exactly is what remains. A search through all states that can
come about (E. W. Dijkstra, "A note on two problems in connexion with graphs", Numerische
Mathematik 1, 1959, with arcs of length 0 and 1) finds the fewest set-up changes.
"""

from collections import deque
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from itertools import pairwise, permutations
from typing import NamedTuple

from shared.geometry import Rect
from shared.job import Job
from shared.layout import LayoutSheet
from shared.lengths import Length
from shared.shop import Axis, SawingOrder
from shared.tree import Place, Run, extent, left_over, piece_rects, slice_of

Setting = tuple[str, str, Length]
"""Tool, what holds the size at it, and size in ticks."""
Spot = tuple[str, Rect]
"""Sheet and dust of a cut: that is what tells cuts apart."""


class Stroke(NamedTuple):
    """One cut: what is set, where its dust lies, and which piece it lays on the sawhorses."""

    setting: Setting
    spot: Spot
    lays: int | None = None


@dataclass(slots=True, kw_only=True)
class Pile:
    """A piece with cuts to make: those of one run; ``rest`` is the piece it then is, if any.

    ``trims`` of its strokes come first; of one that is ``rigid`` all come as they are written.
    """

    sheet: str
    strokes: list[Stroke] = field(default_factory=list)
    trims: int = 0
    rest: int | None = None
    rigid: bool = False
    finishes: bool = False

    def next_ones(self, left: int) -> Iterator[int]:
        """Yield the strokes that can be made next, of those that are left."""
        ahead = [n for n in range(len(self.strokes)) if left >> n & 1]
        yield from ahead[:1] if self.rigid or (ahead and ahead[0] < self.trims) else ahead


class State(NamedTuple):
    """What lies on the sawhorses: piles with the strokes left of each, sheets among them.

    ``setting`` stands; ``current`` is the sheet that is under the saw, "" if none is begun.
    """

    lying: tuple[tuple[int, int], ...]
    setting: Setting | None = None
    current: str = ""


@dataclass(slots=True)
class _Reader:
    """Takes the trees of cuts apart."""

    job: Job
    rigid: frozenset[str]
    piles: list[Pile] = field(default_factory=list)

    def piece(self, run: Run | None, place: Place | None, sheet: str, rect: Rect) -> int | None:
        """Return the pile of a piece, ``None`` if nothing is left to be cut."""
        if run is not None:
            return self.run(run, sheet, rect, self.job.shop.tool, self.job.shop.kerf)
        return None if place is None else self._blank(place, sheet, rect)

    def run(self, run: Run, sheet: str, rect: Rect, tool: str, kerf: Length) -> int | None:
        """Return the pile of a run over a piece."""
        exact = left_over(run, rect, kerf) <= 0
        pile = Pile(sheet=sheet, rigid=sheet in self.rigid)
        number = len(self.piles)
        self.piles.append(pile)
        if run.trim:
            dust = min(kerf, run.trim)
            pile.trims = 1
            at = slice_of(rect, run.axis, run.trim - dust, dust)
            pile.strokes.append(Stroke((tool, "mark", run.trim), (sheet, at)))
        for count, (piece, inside) in enumerate(piece_rects(run, rect, kerf), 1):
            below = self.piece(piece.run, piece.place, sheet, inside)
            if exact and count == len(run.pieces):
                pile.rest = below
            else:
                at = _dust(run.axis, rect, inside, kerf)
                at_what = "guide" if run.axis is Axis.RIP else "stop"
                pile.strokes.append(Stroke((tool, at_what, piece.size), (sheet, at), below))
        return number if pile.strokes else pile.rest

    def _blank(self, place: Place, sheet: str, rect: Rect) -> int | None:
        """Return the cuts that finish a blank: first across it, then along it."""
        part, shop = self.job.part(place.part), self.job.shop
        table = shop.table if part.oversize else None
        tool, kerf = (shop.tool, shop.kerf) if table is None else (table.tool, table.kerf)
        end, side = (Axis.RIP, Axis.CROSSCUT) if place.turned else (Axis.CROSSCUT, Axis.RIP)
        strokes, inside = [], rect
        for axis, size in ((end, part.sawn_length), (side, part.sawn_width)):
            if size < extent(inside, axis):
                kept = slice_of(inside, axis, 0, size)
                by = "guide" if axis is Axis.RIP else "stop"
                setting = (tool, by if table is None else "fence", size)
                strokes.append(Stroke(setting, (sheet, _dust(axis, inside, kept, kerf))))
                inside = kept
        if not strokes:
            return None
        self.piles.append(Pile(sheet=sheet, strokes=strokes, rigid=True, finishes=True))
        return len(self.piles) - 1


def _dust(axis: Axis, rect: Rect, piece: Rect, kerf: Length) -> Rect:
    """Return the dust beyond a piece: one kerf, or what there is of it."""
    if axis is Axis.RIP:
        return replace(piece, y=piece.bottom, width=min(kerf, rect.bottom - piece.bottom))
    return replace(piece, x=piece.right, length=min(kerf, rect.right - piece.right))


class CutOrders:
    """All orders of the cuts of some sheets; those of ``rigid`` sheets keep their pieces' order.

    What finishes blanks comes when everything is sawn from the sheets.
    """

    def __init__(self, job: Job, sheets: Iterable[LayoutSheet], rigid: Iterable[str] = ()) -> None:
        reader = _Reader(job, frozenset(rigid))
        rows = {row.id: row for row in job.stock}
        roots = []
        for sheet in sheets:
            row = rows[sheet.stock]
            whole = Rect(x=0, y=0, length=row.length, width=row.width)
            roots.append(reader.piece(sheet.tree, None, sheet.id, whole))
        self._mode = job.shop.sawing
        self.piles = reader.piles
        self._roots = frozenset(root for root in roots if root is not None)
        self.start = State(tuple(sorted((root, self._all(root)) for root in self._roots)))

    def _all(self, pile: int) -> int:
        return (1 << len(self.piles[pile].strokes)) - 1

    @cached_property
    def settings(self) -> dict[Spot, Setting]:
        """What is set for each cut."""
        return {one.spot: one.setting for pile in self.piles for one in pile.strokes}

    def sheets_begun(self, state: State) -> dict[str, int]:
        """Count what lies about of each sheet: begun, not finished, and no blank that waits."""
        begun: dict[str, int] = {}
        for pile, left in state.lying:
            whole = pile in self._roots and left == self._all(pile)
            if not whole and not self.piles[pile].finishes:
                begun[self.piles[pile].sheet] = begun.get(self.piles[pile].sheet, 0) + 1
        return begun

    def loose(self, state: State) -> int:
        """Count the pieces that lie about."""
        return sum(self.sheets_begun(state).values())

    def next_states(self, state: State) -> Iterator[tuple[Spot, State]]:
        """Yield every cut that the mode allows next, and what lies there after it."""
        begun = self.sheets_begun(state)
        sawing = any(not self.piles[pile].finishes for pile, _ in state.lying)
        for spot, pile, new in self._possible(state):
            if self.piles[pile].finishes:
                allowed = not sawing
            else:
                allowed = self._may_be_sawn(self.piles[pile].sheet, state, begun)
            if allowed:
                yield spot, new

    def _possible(self, state: State) -> Iterator[tuple[Spot, int, State]]:
        """Yield every cut that the saw can make next, its pile, and what lies there after it."""
        for pile, left in state.lying:
            one = self.piles[pile]
            for stroke in one.next_ones(left):
                yield one.strokes[stroke].spot, pile, self._sawn(state, pile, left, stroke)

    def _may_be_sawn(self, sheet: str, state: State, begun: Mapping[str, int]) -> bool:
        """By sheet, what is under the saw is finished first, then what else is begun."""
        if self._mode is SawingOrder.BY_SETUP:
            return True
        return sheet == state.current if state.current in begun else sheet in begun or not begun

    def _sawn(self, state: State, pile: int, left: int, stroke: int) -> State:
        """Take a piece from the sawhorses, and lay down the two that it becomes."""
        one = self.piles[pile]
        lying = [piece for piece in state.lying if piece[0] != pile]
        made, ahead = one.strokes[stroke], left & ~(1 << stroke)
        rest = (pile, ahead) if ahead else self._fresh(one.rest)
        lying += [piece for piece in (self._fresh(made.lays), rest) if piece is not None]
        stands = made.setting if is_set(made.setting) else state.setting
        return State(tuple(sorted(lying)), stands, one.sheet)

    def _fresh(self, pile: int | None) -> tuple[int, int] | None:
        return None if pile is None else (pile, self._all(pile))

    def after(self, made: Iterable[Spot]) -> State:
        """Return what lies there once these cuts are made, in whatever mode; KeyError if none can.

        Which sheet comes next is open then.
        """
        state = self.start
        for wanted in made:
            state = {spot: new for spot, _, new in self._possible(state)}[wanted]
        return state._replace(current="")


def fewest_changes(
    orders: CutOrders,
    limit: int | Mapping[str, int],
    start: State | None = None,
    before: Sequence[tuple[Spot, Spot]] = (),
) -> int | None:
    """Return the fewest set-up changes from a state to the end; ``None`` if there is no order.

    ``limit`` is the most that may lie about, of all or of each sheet; ``before`` says which
    cut comes before which, as far as both are ahead.
    """
    start = start or orders.start
    known = {(start, frozenset[Spot]()): 0}
    ahead = deque([(0, start, frozenset[Spot]())])
    waits = {then: {one for one, other in before if other == then} for _, then in before}
    watched = {one for one, _ in before}
    while ahead:
        changes, state, met = ahead.popleft()
        if not state.lying:
            return changes
        if known[state, met] < changes:
            continue
        for spot, new in orders.next_states(state):
            if waits.get(spot, set()) - met or not _has_room(orders, new, limit):
                continue
            step = int(state.setting is not None and state.setting != new.setting)
            seen = met | {spot} if spot in watched else met
            if changes + step < known.get((new, seen), changes + step + 1):
                known[new, seen] = changes + step
                (ahead.append if step else ahead.appendleft)((changes + step, new, seen))
    return None


def _has_room(orders: CutOrders, state: State, limit: int | Mapping[str, int]) -> bool:
    if isinstance(limit, int):
        return orders.loose(state) <= limit
    return all(count <= limit[sheet] for sheet, count in orders.sheets_begun(state).items())


def least_loose(
    orders: CutOrders, start: State | None = None, before: Sequence[tuple[Spot, Spot]] = ()
) -> int:
    """Return with how few pieces lying about all cuts can be made from there on."""
    limit = max(1, orders.loose(start or orders.start))
    while fewest_changes(orders, limit, start, before) is None:
        limit += 1
    return limit


def all_orders(orders: CutOrders, limit: int | Mapping[str, int]) -> Iterator[list[Spot]]:
    """Yield every order of all cuts that can be sawn so, one by one out of all permutations."""
    for order in permutations(orders.settings):
        state = orders.start
        for spot in order:
            follows = dict(orders.next_states(state)).get(spot)
            if follows is None or not _has_room(orders, follows, limit):
                break
            state = follows
        else:
            yield list(order)


def changes_in(orders: CutOrders, order: Sequence[Spot]) -> int:
    """Count the set-up changes of an order."""
    found = (orders.settings[one] for one in order)
    return sum(one != other for one, other in pairwise(filter(is_set, found)))


def is_set(setting: Setting) -> bool:
    """Whether something is set for it: a trim is marked, and leaves what is set as it is."""
    return setting[1] != "mark"
