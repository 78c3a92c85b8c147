"""Which pieces begin and cease to be loose within some nodes of an order."""

from typing import NamedTuple

from shared.cuts.order_problem import bits
from solver.cut_order.nodes import Nodes


class Roomy(NamedTuple):
    """The passes of a group, and how many of its pieces may lie about at a time."""

    group: int
    limit: int


class Changing(NamedTuple):
    """A piece that is loose from the first of some nodes, or at first, to the last of others.

    Without ``ends`` it is loose to the end.
    """

    begins: tuple[int, ...]
    ends: tuple[int, ...]


class Loose:
    """The pieces of nodes; ``staying`` ones are loose all the time, ``opened`` ones become so.

    What is opened for another group does not count.
    """

    def __init__(self, nodes: Nodes, group: int) -> None:
        """Take the nodes, and the passes of the group they belong to."""
        problem, done = nodes.task.problem, nodes.done
        of = {number: at for at, node in enumerate(nodes.all) for number in node.row}
        inside = sum(1 << number for number in of)
        self.at_first = self.staying = self.opened = 0
        self.changing: list[Changing] = []
        for piece in problem.pieces:
            its = piece.passes & group
            if not its:
                continue
            loose = bool(its & ~done) and problem.is_loose(piece, done)
            self.at_first += loose
            passes = sorted({of[number] for number in bits(its & inside)})
            ends = tuple(passes) if not its & ~done & ~inside else ()
            if loose:
                if ends:
                    self.changing.append(Changing((), ends))
                else:
                    self.staying += 1
                continue
            begins: tuple[int, ...] = (of[piece.maker],) if piece.maker in of else ()
            if piece.maker < 0:
                begins = tuple(passes)
            if begins:
                self.opened += 1
                self.changing.append(Changing(begins, ends))
