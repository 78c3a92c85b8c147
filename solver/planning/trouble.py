"""Faults of the program itself, met while a run goes on."""

import sys
import traceback
from collections.abc import Callable

Trouble = Callable[[Exception], None]


class RefusedPlan(Exception):  # noqa: N818 - names what was refused
    """The simulated saw refused a plan of the planner's own."""


class BeyondLimits(RefusedPlan):
    """A sheet that goes round bad places would need a cut that the shop cannot make.

    No fault: what its rooms hold is weighed room by room.
    """


class BrokenWorker(Exception):  # noqa: N818 - names what broke
    """A step broke in another process; the text says how."""


def raise_it(fault: Exception) -> None:
    """Let the fault end the run."""
    raise fault


def log_it(fault: Exception) -> None:
    """Write the fault to the log on standard error, and go on without."""
    traceback.print_exception(fault, file=sys.stderr)
