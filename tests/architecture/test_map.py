"""The map of DEVELOPERS.md: what it names is there, and each file stands in one row."""

import re
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
RINGS = ("shared", "solver", "layout_app", "tests")


def rows() -> list[str]:
    """Return the first cell of each row that names files."""
    lines = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8").splitlines()
    return [line.split("|")[1] for line in lines if line.startswith("| `")]


def places(cell: str) -> Iterator[str]:
    """Yield what a cell names, from the root: a name goes on from the folder or ring before it."""
    folder = ring = ""
    for name in " ".join(re.findall(r"`([^`]*)`", cell)).split():
        if name.split("/")[0] in RINGS:
            place, ring = name, name.split("/")[0]
        else:
            tried = [f"{folder}/{name}", f"{ring}/{name}"]
            place = next((one for one in tried if found(one)), name)
        folder = place.rpartition("/")[0]
        yield place


def found(place: str) -> bool:
    """Say whether a folder, a file, a module without its ending or a pattern is there."""
    return any(list(ROOT.glob(one)) for one in (place.rstrip("/"), f"{place}.py"))


def test_all_that_the_map_names_is_there() -> None:
    """No row names a file that was moved."""
    missing = [place for cell in rows() for place in places(cell) if not found(place)]
    assert len(rows()) > 60
    assert missing == []


def test_each_file_stands_in_the_map_once() -> None:
    """Nobody has to read two rows, and to guess which one is true."""
    counts = Counter(place for cell in rows() for place in places(cell))
    assert [place for place, times in counts.items() if times > 1] == []
