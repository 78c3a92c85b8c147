"""How passes are made and what that takes, by numbers instead of names, each worked out once.

Passes that are made alike take the same for what stands and leave the same. There are few such
ways and few things that stand, so the clock is asked once for a pair of them.
"""

from typing import Final, NamedTuple

from shared.shop import Axis
from solver.cut_order.clock import NOTHING, Standing
from solver.cut_order.outlook import Outlook
from solver.cut_order.task import Task

NO_PIECES: Final = (NOTHING, NOTHING)


class Way(NamedTuple):
    """How a pass is made: ways alike take the same for what stands, and leave the same.

    ``extra`` is what the pass itself takes more than when nothing ahead is made, ``laid`` and
    ``turned`` what it counts to lay its piece down and to turn it.
    """

    like: int
    extra: int
    laid: int
    turned: int


class Ways:
    """Tells what passes of a task take, apart from handling their pieces.

    What is worked out already is ``known`` by pass and what is made of its run, and as ``steps``
    by what stands and way.
    """

    def __init__(self, task: Task, outlook: Outlook) -> None:
        """Take the task, and what is known of its passes."""
        self._task, self._outlook = task, outlook
        count, start = len(task.problem.made), task.problem.start
        self._fixed = [task.clock.doing(number, start).fixed_s for number in range(count)]
        self._numbers: dict[Standing, int] = {}
        self.standings: list[Standing] = []
        self.steps: dict[tuple[int, int], tuple[int, int]] = {}
        self.known: dict[tuple[int, int], Way] = {}
        self._likes: dict[object, int] = {}

    def way(self, number: int, done: int) -> Way:
        """Work out how a pass is made when others are."""
        doing, lift = self._task.clock.doing(number, done), self._task.lift
        rails = self._outlook.rails_for(doing.long)
        like = (doing.colour, doing.device, doing.bed, rails)
        found = Way(
            self._likes.setdefault(like, len(self._likes)),
            doing.fixed_s - self._fixed[number],
            doing.laid_s + lift,
            doing.turned_s + lift,
        )
        self.known[number, done & self._outlook.runs[self._outlook.run_of[number]]] = found
        return found

    def step(self, stands: int, way: int, number: int, done: int) -> tuple[int, int]:
        """Work out what a pass takes in some way for what stands, and what stands then."""
        piece, axis = self._task.problem.piece_of[number], self._task.problem.made[number].axis
        standing = self.standings[stands]._replace(pieces=(piece, NOTHING), axis=axis)
        step = self._task.clock.step(standing, number, done)
        seconds = step.seconds - self._task.clock.doing(number, done).fixed_s
        found = self.steps[stands, way] = seconds, self.number_of(step.standing)
        return found

    def number_of(self, standing: Standing) -> int:
        """Return the number of what is set and in hand, whatever lies on the support."""
        standing = standing._replace(pieces=NO_PIECES, axis=Axis.RIP)
        found = self._numbers.get(standing)
        if found is None:
            found = self._numbers[standing] = len(self.standings)
            self.standings.append(standing)
        return found
