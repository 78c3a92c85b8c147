"""What other processes of the planner need to find these very packages."""

import os
from pathlib import Path


def surroundings() -> dict[str, str]:
    """Return the environment in which another process finds these very packages."""
    root = str(Path(__file__).resolve().parents[2])
    others = os.environ.get("PYTHONPATH")
    return {**os.environ, "PYTHONPATH": os.pathsep.join((root, others) if others else (root,))}
