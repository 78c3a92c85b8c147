"""What passes take at least, in whatever order: a sum of things that no order can do without.

Each part has its own seconds, so they add up:

- Something is set at least once for each setting ahead, and once for each rail that a setting
  is used with, because guide and stop come off with their rail. Settings that need each other
  in a circle take one more for each that has to go until no circle is left.
- Where several passes share a setting, the first piece is measured, or it is set once more.
- Each rail is fetched at least once that no pass does without, and joined.
- Each piece comes to the saw at least once. What is sawn off lies there already; but whoever goes
  on with it fetches the other piece again, unless that is finished. A piece that is cut both
  ways is turned, or fetched again.

How much of its run is gone when a pass is made may decide what is set for it and how heavy its
piece is: then the least counts of all that can be, and only what is set in any case.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from shared.cuts.order_problem import Problem, bits, without
from shared.making.rail_choice import Rails
from shared.shop import Rail, RunsOn
from solver.budget.stop import Stop
from solver.cut_order.circles import fewest_blocks
from solver.cut_order.circuits import Child, Circuits, Pair, Piece, Run
from solver.cut_order.clock import NOTHING, Standing
from solver.cut_order.facts import Facts
from solver.cut_order.task import Task

SECONDS = 2.0
"""Time for settings, and for rails, that need each other in a circle."""


class Least:
    """Tells what some passes take at least from any state in which some of them are made."""

    def __init__(self, facts: Facts, passes: int) -> None:
        """Take the passes; all that they need is among them, or made before."""
        self.facts, self._task = facts, facts.task
        self.passes = passes
        self._shop = facts.shop
        self._prove = min(self._shop.measure_s, self._shop.setup_s)
        self.pairs = tuple(self._pairs())
        self._pair_of = {(one.colour, one.rail): n for n, one in enumerate(self.pairs)}
        self.rails = self._rail_masks()
        self._ends = [one for one in facts.ends if one[0] & passes]
        self._joins = any(rail.joined > 1 for rail, _ in self.rails)
        problem = facts.problem
        self.pieces = {
            n: self._piece(n) for n, one in enumerate(problem.pieces) if one.passes & passes
        }
        prove = self._shop.setup_s - self._prove
        self.circuits = Circuits(tuple(self.pieces.values()), self.pairs, prove)
        self._known: dict[int, tuple[int, frozenset[Rail]]] = {}
        self._may_take: dict[Rail, int] = {}
        self.surely_set = sum(pair.passes for pair in self.pairs)
        self._may_set: dict[tuple[int, Rail | None], int] = {}

    # -- what does not change

    def _pairs(self) -> Iterator[Pair]:
        of = self.facts.of
        masks: dict[tuple[int, Rail | None], int] = {}
        for number in bits(self.passes):
            if of[number].colour != NOTHING:
                key = (of[number].colour, of[number].rail if self._by_rail else None)
                masks[key] = masks.get(key, 0) | 1 << number
        known = {colour for colour, rail in masks if rail is not None}
        for (colour, rail), mask in masks.items():
            if rail is not None or colour not in known:
                yield Pair(mask, colour, rail)

    @property
    def _by_rail(self) -> bool:
        return self._shop.runs_on is RunsOn.RAIL

    def _rail_masks(self) -> tuple[tuple[Rail, int], ...]:
        masks: dict[Rail, int] = {}
        for number in bits(self.passes):
            rail = self.facts.of[number].rail
            if rail is not None:
                masks[rail] = masks.get(rail, 0) | 1 << number
        return tuple(masks.items())

    def _piece(self, number: int) -> Piece:
        facts, problem = self.facts, self.facts.problem
        own = problem.pieces[number].passes
        ahead = own & self.passes
        laid = min(facts.of[n].laid for n in bits(ahead))
        turned = min((facts.of[n].turned for n in bits(ahead)), default=0)
        runs: dict[int, int] = {}
        for n in sorted(bits(ahead), key=lambda n: facts.needs[n].bit_count()):
            runs[problem.made[n].run] = runs.get(problem.made[n].run, 0) | 1 << n
        masks = sorted(runs.values(), key=self._deepest)
        axes = [self._axis(mask) for mask in masks]
        return Piece(
            passes=ahead,
            whole=self._whole(own, ahead, laid),
            laid=laid,
            turned=turned,
            runs=tuple(
                Run(
                    mask,
                    at > 0 and None not in (axes[at], axes[at - 1]) and axes[at] != axes[at - 1],
                )
                for at, mask in enumerate(masks)
            ),
            axes=tuple(axes),
            children=tuple(self._children(ahead)),
        )

    def _deepest(self, mask: int) -> int:
        return max(self.facts.needs[n].bit_count() for n in bits(mask))

    def _axis(self, mask: int) -> object:
        axes = {self.facts.problem.made[n].axis for n in bits(mask)}
        return axes.pop() if len(axes) == 1 else None

    def _whole(self, own: int, ahead: int, laid: int) -> int:
        """Return what laying a piece takes before any of its passes is made."""
        if own != ahead:
            return laid
        clock, needs = self._task.clock, self.facts.needs
        firsts = [n for n in bits(ahead) if not needs[n] & own]
        return min(clock.doing(n, needs[n]).laid_s for n in firsts) + self._task.lift

    def _children(self, ahead: int) -> Iterator[Child]:
        facts, problem = self.facts, self.facts.problem
        for number in bits(ahead):
            opened = problem.opens[number]
            if opened < 0:
                continue
            own = problem.pieces[opened].passes & self.passes
            if not own:
                continue
            firsts = [n for n in bits(own) if not facts.needs[n] & own]
            crosses = all(problem.made[n].axis is not problem.made[number].axis for n in firsts)
            clock = self._task.clock
            doings = [clock.doing(n, facts.needs[n]) for n in firsts]
            laid = min(one.laid_s for one in doings) + self._task.lift
            turned = min(one.turned_s for one in doings) + self._task.lift
            yield Child(number, laid, turned * (crosses and facts.turns))

    def may_set(self, colour: int, hand: Rail | None) -> int:
        """Return the passes that may be made with a setting that stands, with a rail in hand."""
        key = (colour, hand)
        found = self._may_set.get(key)
        if found is None:
            found = self._may_set[key] = self.facts.may_go_on(colour, hand) & self.passes
        return found

    def may_take(self, rail: Rail) -> int:
        """Return the passes that may be made with a rail."""
        found = self._may_take.get(rail)
        if found is None:
            its = [n for n in bits(self.passes) if rail in self.facts.reach[n]]
            found = self._may_take[rail] = sum(1 << n for n in its)
        return found

    def surely_other(self, rail: Rail) -> int:
        """Return the passes that are sure to be made with another rail."""
        return sum(mask for other, mask in self.rails if other != rail)

    def fetched_again(self, number: int, done: int) -> int:
        """Return what it takes to fetch a piece once more that lies there, besides all else.

        It may come back anyway after something that is sawn off it, or to be turned.
        """
        piece = self.pieces[number]
        left = self.passes & ~done
        turn = min(piece.turned, piece.laid)
        turns = any(run.crosses for run in piece.runs if run.passes & left)
        spared = [
            min(laid, turned + piece.laid) - min(laid, turned)
            for maker, laid, turned in piece.children
            if not done >> maker & 1
        ]
        return max(0, piece.laid - max(spared, default=0) - (turn if turns else 0))

    # -- what hangs on what is made

    def of(self, done: int, standing: Standing) -> int:
        """Return what the passes that are not made yet count at least, from what stands."""
        known = self._known.get(done)
        if known is None:
            known = self._known[done] = self._base(done)
        total, rails = known
        return (
            total
            + self._set(done, standing)
            + self._fetched(rails, standing.rails)
            + (self._lying(done, standing))
        )

    def anywhere(self, done: int) -> int:
        """Return what the passes that are not made yet count at least, whatever stands."""
        total, rails = self._base(done)
        counts = [(pair.passes & ~done).bit_count() for pair in self.pairs]
        spared = max((self._shop.setup_s + self._prove * (n > 1) for n in counts if n), default=0)
        lying = max((self._laid(piece, done) for piece in self._brought()), default=0)
        return total - spared - lying + self._shop.rail_s * max(0, len(rails) - 1)

    def _brought(self) -> Iterator[Piece]:
        """Yield the pieces that may lie on the support before any of these passes is made."""
        problem = self._task.problem
        others = problem.ahead & ~self.passes
        for number, piece in self.pieces.items():
            whole = problem.pieces[number]
            made_by = whole.passes | (1 << whole.maker if whole.maker >= 0 else 0)
            if made_by & others or number in self._task.standing.pieces:
                yield piece

    def _base(self, done: int) -> tuple[int, frozenset[Rail]]:
        left, total = self.passes & ~done, 0
        for number in bits(left):
            total += self.facts.of[number].fixed
        total += sum(more for passes, more in self._ends if passes & left)
        for pair in self.pairs:
            count = (pair.passes & left).bit_count()
            if count:
                total += self._shop.setup_s + (self._prove if count > 1 else 0)
        for piece in self.pieces.values():
            if piece.passes & left:
                total += self._handling(piece, done, left)
        for number, piece in self.pieces.items():
            if piece.passes & left and self._lies(number, done):
                total += piece.laid if piece.passes & done else piece.whole
        total += self.circuits.again(left)
        return total, frozenset(rail for rail, mask in self.rails if mask & left)

    def _lies(self, number: int, done: int) -> bool:
        """Whether a piece is there: a sheet, or what a pass has sawn off."""
        maker = self._task.problem.pieces[number].maker
        return maker < 0 or bool(done >> maker & 1) or not self.passes >> maker & 1

    def _handling(self, piece: Piece, done: int, left: int) -> int:
        """Return what a piece takes beside being laid: its turns, and what is sawn off it."""
        turn = min(piece.turned, piece.laid)
        its = [run for run in piece.runs if run.passes & left]
        crossings = sum(run.crosses for run in its[1:])
        back = piece.laid - (turn if crossings else 0)
        total, spared = crossings * turn, 0
        own = piece.passes & left
        for maker, laid, turned in piece.children:
            if not done >> maker & 1:
                least = min(laid, turned + back)
                total += least
                if not self.facts.needed_by[maker] & own:
                    spared = max(spared, least - min(laid, turned))
        return total - spared

    def _set(self, done: int, standing: Standing) -> int:
        """Return by how much less is set because something stands."""
        if standing.colour == NOTHING:
            return 0
        for rail in (standing.rails.hand, None):
            at = self._pair_of.get((standing.colour, rail))
            if at is not None:
                break
        else:
            return 0
        count = (self.pairs[at].passes & ~done).bit_count()
        if not count:
            return 0
        counted = self._shop.setup_s + (self._prove if count > 1 else 0)
        return (self._prove if standing.since == 1 else 0) - counted

    def _fetched(self, needed: frozenset[Rail], rails: Rails) -> int:
        if not needed:
            return 0
        total = self._shop.rail_s * (len(needed) - (rails.hand is None or rails.hand in needed))
        if not self._joins:
            return total
        joined = dict(rails.joined)
        lengths = {r.length for r in needed if r.joined > max(1, joined.get(r.length, 0))}
        return total + self._shop.join_s * len(lengths)

    def _lying(self, done: int, standing: Standing) -> int:
        """Return by how much less is laid because something lies there."""
        lying = []
        for number in standing.pieces:
            piece = self.pieces.get(number)
            if piece is not None and piece.passes & ~done:
                lying.append((self._laid(piece, done), self._turned(piece, done, standing)))
        if not lying:
            return 0
        if len(lying) == 1:
            return lying[0][1] - lying[0][0]
        (one, at_once), (other, at_once_too) = lying
        return min(at_once + other, at_once_too + one) - one - other

    @staticmethod
    def _laid(piece: Piece, done: int) -> int:
        return piece.laid if piece.passes & done else piece.whole

    def _turned(self, piece: Piece, done: int, standing: Standing) -> int:
        """Return what goes on at once with a piece that lies there take."""
        for run, axis in zip(piece.runs, piece.axes, strict=True):
            if run.passes & ~done:
                crosses = self.facts.turns and axis not in {None, standing.axis}
                return min(piece.turned, self._laid(piece, done)) if crosses else 0
        return 0


def least_of(task: Task, stop: Stop) -> int:
    """Return what all passes ahead count at least, whatever their order.

    Settings and rails that need each other in a circle are counted, as far as that is found out
    in time.
    """
    least = Least(Facts(task), task.problem.ahead)
    return least.of(task.problem.start, task.standing) + circles(least, stop)


def circles(least: Least, stop: Stop) -> int:
    """Return what settings and rails take beside one of each, because passes need each other.

    A setting that is set once more may spare that its first piece is measured.
    """
    facts, shop = least.facts, least.facts.shop
    problem = replace(facts.problem, before=tuple(facts.before))
    settings = _beyond_one(problem, [pair.passes for pair in least.pairs], stop)
    several = sum(pair.passes.bit_count() > 1 for pair in least.pairs)
    spared = min(several, settings) * min(shop.measure_s, shop.setup_s)
    rails = _beyond_one(problem, [mask for _, mask in least.rails], stop)
    counted = least.circuits.again(least.passes)
    return max(0, settings * shop.setup_s - spared - counted) + rails * shop.rail_s


def _beyond_one(problem: Problem, sets: Sequence[int], stop: Stop) -> int:
    """Return by how many blocks each order has more than one for each set of passes."""
    colours = {number: at for at, passes in enumerate(sets) for number in bits(passes)}
    if len(sets) < 2:
        return 0
    its = tuple(colours.get(n, NOTHING) for n in range(len(problem.made)))
    out = problem.everything & ~sum(1 << n for n in colours)
    bare = without(replace(problem, colours=its), out)
    return fewest_blocks(bare, stop, SECONDS) - len(sets)
