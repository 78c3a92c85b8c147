"""The cuts of a finished plan in order, for the command line."""

from layout_app.model.cut_order import to_order, with_order
from layout_app.model.sawing import Sawn, saw
from layout_app.model.words.order_words import MODES, verdict
from layout_app.model.words.wording import counted
from shared.cuts.tally import tally
from solver.run import Stop, put_in_order


def in_order(sawn: Sawn, stop: Stop) -> Sawn:
    """Return a project with its cuts in order, as the window keeps it.

    Parameters
    ----------
    sawn
        A project whose plan the simulated saw accepts.
    stop
        Ends the search for fewer set-up changes; the first order is found before it is asked.

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


def order_sentence(sawn: Sawn) -> str:
    """Say by what the cuts are in order, and how good that is; ``""`` if they are in none."""
    layout, shop = sawn.project.layout, sawn.project.job.shop
    if sawn.plan is None or layout.sawing is not shop.sawing or layout.least_s < 0:
        return ""
    changes = tally(sawn.plan, shop).setup_changes
    by_hand = ", with your changes" if layout.before else ""
    said = f"{MODES[shop.sawing].capitalize()}{by_hand}: {counted(changes, 'set-up change')}"
    return f"{said}, {verdict(changes, layout.least_s)}"
