"""The cuts of a finished plan in order, for the command line."""

from layout_app.model.cut_order import to_order, with_order
from layout_app.model.sawing import Sawn, saw
from solver.run import Stop, put_in_order


def in_order(sawn: Sawn, stop: Stop) -> Sawn:
    """Return a project with its cuts in order, as the window keeps it.

    Parameters
    ----------
    sawn
        A project whose plan the simulated saw accepts.
    stop
        Ends the search for better orders; the first one is found before it is asked.

    Raises
    ------
    RuntimeError
        If the simulated saw refuses the order: a fault of this program.
    """
    *_, ordered = None, *put_in_order(to_order(sawn.project), stop)
    if ordered is None:
        return sawn
    made = saw(with_order(sawn.project, ordered))
    if "" in made.problems:
        raise RuntimeError(made.problems[""])
    return made
