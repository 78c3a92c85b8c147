"""What other processes of the planner need: to find these very packages, and to be let be."""

import os
import subprocess
from pathlib import Path
from typing import TypedDict

from solver.planning.kept_code import choose


class Apart(TypedDict, total=False):
    """Settings of `subprocess` by which Ctrl+C in a terminal does not reach a process."""

    process_group: int
    creationflags: int


def apart() -> Apart:
    """Return what keeps Ctrl+C from a process: the one in front hears it, and acts on it."""
    if os.name == "posix":
        return {"process_group": 0}
    return {"creationflags": getattr(subprocess, "CREATE_NEW_PROCESS_GROUP", 0)}


def surroundings() -> dict[str, str]:
    """Return the environment in which another process finds these very packages.

    It keeps compiled code where this one does.
    """
    choose()
    root = str(Path(__file__).resolve().parents[2])
    others = os.environ.get("PYTHONPATH")
    paths = os.pathsep.join((root, others) if others else (root,))
    return {**os.environ, "PYTHONPATH": paths}
