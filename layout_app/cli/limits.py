"""What the command line says about planning: how long, how repeatable, by how many processes."""

import argparse
import math
import os
from functools import partial
from pathlib import Path
from typing import Final

from shared.lengths import AmbiguousLength, Length, LengthError, Unit, parse_length
from solver.run import Budget

TIME_S: Final = 10.0
PATIENCE_S: Final = 9.0
"""A run ends early when nothing has got better for so long, a third of it once proven."""
LONGEST_S: Final = 7 * 24 * 3600.0
MOST_PROCESSES: Final = 64
MOST_WORK: Final = 10**9
MOST_SEED: Final = 2**31 - 1


class UsageError(Exception):
    """The command line cannot be understood, or not be done; the message is one sentence."""


def add_limits(parser: argparse.ArgumentParser, seconds: float = TIME_S) -> None:
    """Add what bounds a run."""
    most = parser.add_mutually_exclusive_group()
    most.add_argument(
        "--time-limit",
        type=_seconds,
        metavar="S",
        help="longest time in seconds to plan, put cuts in order and look for choices; compiling"
        f" the search, once, and writing come on top ({seconds:g} if nothing is said)",
    )
    most.add_argument(
        "--work",
        type=partial(_within, least=1, most=MOST_WORK),
        metavar="N",
        help="count the work instead of the time, so many tries a step: the same file, seed and"
        " version make the same plan again, to the byte, on the same kind of machine; done by one"
        " process, whatever --workers says, and with the first order of cuts that is found",
    )
    parser.set_defaults(usual_s=seconds)
    parser.add_argument(
        "--workers",
        type=partial(_within, least=1, most=MOST_PROCESSES),
        default=processes(),
        metavar="N",
        help="processes that plan (%(default)s here)",
    )
    parser.add_argument(
        "--seed",
        type=partial(_within, least=0, most=MOST_SEED),
        default=0,
        metavar="N",
        help="where the search starts; without --work the same seed may still give another plan,"
        " because time never passes in the same way twice",
    )
    parser.add_argument(
        "--verbose", action="store_true", help="say on standard error what planning did"
    )


def limits_of(arguments: argparse.Namespace) -> Budget:
    """Return what was asked for."""
    if arguments.work is not None:
        return Budget(time_s=None, work=arguments.work, seed=arguments.seed)
    seconds = arguments.usual_s if arguments.time_limit is None else arguments.time_limit
    return Budget(
        time_s=seconds, patience_s=PATIENCE_S, workers=arguments.workers, seed=arguments.seed
    )


def processes() -> int:
    """Return how many processes plan when nobody says."""
    return max(1, min(8, os.cpu_count() or 1))


def a_path(text: str) -> Path:
    """Read the name of a file or folder; an empty one would mean the folder one is in."""
    if not text.strip():
        raise argparse.ArgumentTypeError("the name is empty, write that of a file or folder")
    return Path(text)


def length_of(text: str, unit: Unit) -> Length:
    """Read a length; `UsageError` if it is none."""
    try:
        return parse_length(text, unit)
    except (LengthError, AmbiguousLength) as error:
        raise UsageError(str(error)) from error


def number_of_choice(text: str) -> int:
    """Read which choice is meant, from 1."""
    number = int(text) if text.isdecimal() and len(text) < 10 else 0
    if number < 1:
        raise argparse.ArgumentTypeError(f"{text!r} is no number of a choice, the first is 1")
    return number


def _seconds(text: str) -> float:
    try:
        seconds = float(text)
    except ValueError:
        seconds = math.nan
    if not 0 <= seconds <= LONGEST_S:
        raise argparse.ArgumentTypeError(
            f"{text!r} is no time limit, write seconds like 10, a week at most"
        )
    return seconds


def _within(text: str, least: int, most: int) -> int:
    number = int(text) if text.isdecimal() and len(text) < 20 else least - 1
    if not least <= number <= most:
        raise argparse.ArgumentTypeError(f"{text!r} must be a number from {least} to {most}")
    return number
