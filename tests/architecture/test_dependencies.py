"""What the program depends on is used, or the README says why not."""

import ast
import re
import tomllib
from pathlib import Path

ROOT = Path(__file__).parents[2]
NAMES = {"pyside6-essentials": "PySide6"}
"""How a package is imported, where that is not its own name."""
TO_COME = {"shapely"}


def imported() -> set[str]:
    """Return the packages that modules of the program import."""
    found = set[str]()
    for ring in ("layout_app", "solver", "shared"):
        for source in (ROOT / ring).rglob("*.py"):
            for node in ast.walk(ast.parse(source.read_text(encoding="utf-8"))):
                if isinstance(node, ast.Import):
                    found |= {alias.name.split(".")[0] for alias in node.names}
                elif isinstance(node, ast.ImportFrom) and node.module:
                    found.add(node.module.split(".")[0])
    return found


def test_every_dependency_is_imported_but_one_that_the_readme_names() -> None:
    """Shapely is kept for offcuts of irregular outline; the README says so."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    needed = {re.split(r"[^\w-]", one)[0].lower() for one in project["dependencies"]}
    used = imported()
    unused = {one for one in needed if NAMES.get(one, one) not in used}
    assert len(needed) > 4
    assert unused == TO_COME
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    assert "| `shapely` | kept for offcuts of irregular outline, which are to come;" in readme
