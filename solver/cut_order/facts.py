"""What is known of passes in whatever order they are made.

How much of its run is gone when a pass is made may decide what is set for it and how heavy its
piece is.
"""

from collections import Counter
from collections.abc import Iterable
from functools import cached_property
from typing import NamedTuple

from shared.cuts.order_problem import ancestors, bits
from shared.lengths import Length
from shared.making.rail_choice import Rails
from shared.making.record import Bed
from shared.making.settings import Device
from shared.making.timing import cutting_s
from shared.plan import CutKind
from shared.shop import Rail, Support
from solver.cut_order.clock import NOTHING, Doing
from solver.cut_order.task import Task


class Fact(NamedTuple):
    """What is known of a pass in any order: the least of its seconds, and what is sure.

    ``colour`` is what is set for it, or `NOTHING` if that is not sure; ``rail`` what it is made
    with, or ``None``. ``steady`` says that it is always made the same way.
    """

    fixed: int
    laid: int
    turned: int
    colour: int
    rail: Rail | None
    steady: bool


class Facts:
    """The facts of all passes ahead of a task; what comes first is known within each group.

    ``forgets`` says that which rail a pass takes never hangs on what is in hand; ``reach`` are
    the rails that it may take.
    """

    def __init__(self, task: Task) -> None:
        """Take the task."""
        self.task, self.problem = task, task.problem
        self.shop, self.rails = task.clock.shop, task.clock.choice
        self.turns = self.shop.support is Support.HORSES
        self._hands = [Rails(), *(Rails(hand=way) for way in self.rails.ways)]
        self.before = self._within_groups()
        self.needs = [ancestors(self.before, n) for n in range(len(self.before))]
        self.needed_by = [0] * len(self.needs)
        for number, needed in enumerate(self.needs):
            for one in bits(needed):
                self.needed_by[one] |= 1 << number
        ahead = list(bits(self.problem.ahead))
        self._ways = {n: task.clock.ways(n, self.needs[n], self.needed_by[n]) for n in ahead}
        self._setting = Counter(
            colour for ways in self._ways.values() for colour in {one.colour for one in ways or ()}
        )
        self.of = {number: self._fact(number) for number in ahead}
        self.reach = {n: self._rails_so_long(task.clock.doing(n, 0).long) for n in ahead}
        self.forgets = self.shop.measure_s <= self.shop.setup_s and all(
            len(rails) <= 1 and all(one.joined == 1 for one in rails)
            for rails in self.reach.values()
        )

    def _within_groups(self) -> list[int]:
        start = self.problem.start
        before = [0 if start >> n & 1 else it for n, it in enumerate(self.problem.before)]
        for group in self.task.groups:
            for number in bits(group):
                before[number] &= group | start
        return before

    def _fact(self, number: int) -> Fact:
        task, shop, ways = self.task, self.shop, self._ways[number]
        if ways is None:
            turned = (shop.turn_s + task.lift) * self.turns
            cutting = cutting_s(self.task.clock.doing(number, 0).long, shop)
            return Fact(cutting, shop.lift_s + task.lift, turned, NOTHING, None, steady=False)
        colours = {one.colour for one in ways}
        rails = {rail for one in ways for rail in self.rails_for(one)}
        return Fact(
            fixed=min(one.fixed_s + self._alone(number, one) for one in ways),
            laid=min(one.laid_s for one in ways) + task.lift,
            turned=(min(one.turned_s for one in ways) + task.lift) * self.turns,
            colour=colours.pop() if len(colours) == 1 else NOTHING,
            rail=rails.pop() if len(rails) == 1 else None,
            steady=len(ways) == 1,
        )

    def _alone(self, number: int, doing: Doing) -> int:
        """Return what it takes to set what nothing but this pass may be set to, if it is unsure."""
        colours = {one.colour for one in self._ways[number] or ()}
        if doing.colour in {NOTHING, self.task.standing.colour} or len(colours) < 2:
            return 0
        if None in self._ways.values():
            return 0
        return self.shop.setup_s if self._setting[doing.colour] == 1 else 0

    @cached_property
    def ends(self) -> tuple[tuple[int, int], ...]:
        """The passes ahead of each run, with what its last one takes at least beyond its least.

        Which one is the last is open, but one is; how it is made then is known.
        """
        runs: dict[int, int] = {}
        for number in self.of:
            if self.problem.made[number].kind is not CutKind.TRIM:
                run = self.problem.made[number].run
                runs[run] = runs.get(run, 0) | 1 << number
        found = ((passes, self._at_end(passes)) for passes in runs.values())
        return tuple((passes, more) for passes, more in found if more > 0)

    def _at_end(self, passes: int) -> int:
        last = [n for n in bits(passes) if not self.needed_by[n] & passes]
        others = self.problem.start | passes
        doings = {n: self.task.clock.doing(n, others & ~(1 << n)) for n in last}
        return min(
            doing.fixed_s + self._alone(n, doing) - self.of[n].fixed for n, doing in doings.items()
        )

    def rails_for(self, doing: Doing) -> set[Rail | None]:
        """Return the rails that a pass made so may take; ``None`` where it takes none."""
        if doing.bed is Bed.NONE or not self.rails.ways:
            return {None}
        return set(self._rails_so_long(doing.long))

    def _rails_so_long(self, long: Length) -> set[Rail]:
        if not self.rails.ways:
            return set()
        return {self.rails.take(hand, long).rail for hand in self._hands}

    def ways_of(self, number: int) -> Iterable[Doing]:
        """Return all ways in which a pass may come to be made, as far as they are known."""
        return self._ways[number] or ()

    @cached_property
    def setters(self) -> dict[tuple[int, Rail | None], int]:
        """For a colour, and the rail its passes take or ``None``, the passes that may set it."""
        masks: dict[tuple[int, Rail | None], int] = {}
        for number, ways in self._ways.items():
            for doing in ways or ():
                for rail in self.rails_for(doing) if doing.colour != NOTHING else ():
                    key = (doing.colour, rail)
                    masks[key] = masks.get(key, 0) | 1 << number
        return masks

    @cached_property
    def devices(self) -> dict[int, Device]:
        """What holds each colour."""
        return {one.colour: one.device for ways in self._ways.values() for one in ways or ()}

    def may_go_on(self, colour: int, hand: Rail | None) -> int:
        """Return the passes that may be made with a setting that stands, with a rail in hand.

        With passes of which too little is known.
        """
        unknown = sum(1 << n for n, ways in self._ways.items() if ways is None)
        with_hand = self.setters.get((colour, hand), 0) if hand is not None else 0
        return with_hand | self.setters.get((colour, None), 0) | unknown
