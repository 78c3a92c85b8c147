"""The map of DEVELOPERS.md: every folder stands in it once, and what the text names is there."""

import re
from collections import Counter
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
TEXT = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
ROW = re.compile(r"^\| `(?P<folder>[\w/]+)` \| (?P<sentence>.+) \|$", re.MULTILINE)
RINGS = ("shared", "solver", "layout_app", "tests")


def folders() -> set[str]:
    """Return every folder of the rings and of their tests that holds modules."""
    modules = [file for ring in RINGS for file in (ROOT / ring).rglob("*.py")]
    return {module.parent.relative_to(ROOT).as_posix() for module in modules} - {"tests"}


def named() -> set[str]:
    """Return what the text names between backticks that can only be a path."""
    words = {word for code in re.findall(r"`([^`\n]+)`", TEXT) for word in code.split()}
    within = {word.rstrip("/") for word in words if word.split("/")[0] in RINGS and "/" in word}
    return within | {word for word in words if word.endswith((".py", ".md", ".toml"))}


def test_every_folder_stands_in_the_map_once_with_a_sentence() -> None:
    """Nobody finds a room that the map does not know, nor two rows and guesses which is true."""
    counts = Counter(row["folder"] for row in ROW.finditer(TEXT))
    assert set(counts) == folders()
    assert set(counts.values()) == {1}
    assert all(len(row["sentence"].split()) > 3 for row in ROW.finditer(TEXT))


def test_every_path_that_the_text_names_is_there() -> None:
    """How-to sections and decisions included: a file that was moved is moved there too."""
    assert len(named()) > 40
    assert sorted(one for one in named() if not any(ROOT.glob(one)) and "NAME" not in one) == []
