"""What may know what, seen from a fresh interpreter; and what the wheel carries."""

import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]


def loaded_by(*modules: str) -> set[str]:
    """Return the names of all modules a fresh interpreter has after importing some."""
    code = f"import sys, {', '.join(modules)}; print('\\n'.join(sys.modules))"
    done = subprocess.run(
        [sys.executable, "-c", code], cwd=ROOT, check=True, capture_output=True, text=True
    )
    return set(done.stdout.split())


@pytest.fixture(scope="module")
def by_lower_rings() -> set[str]:
    """Modules loaded by every module of the two lower rings."""
    files = [*ROOT.glob("shared/**/*.py"), *ROOT.glob("solver/**/*.py")]
    names = [".".join(file.relative_to(ROOT).with_suffix("").parts) for file in files]
    return loaded_by(*(name.removesuffix(".__init__") for name in names if "__main__" not in name))


def test_shared_and_solver_load_no_qt(by_lower_rings: set[str]) -> None:
    """No module below the window's ring brings Qt in."""
    assert "solver.run" in by_lower_rings
    assert not {name for name in by_lower_rings if name.startswith(("PySide6", "shiboken6"))}


def test_the_window_loads_no_optimiser() -> None:
    """The window starts without OR-Tools, the compiler, or pandas behind them."""
    loaded = loaded_by("layout_app.window.main_window")
    assert "PySide6.QtWidgets" in loaded
    assert not loaded & {"ortools", "numba", "pandas"}


def test_shared_knows_only_its_own_libraries() -> None:
    """The words know the standard library, NumPy and Shapely, nothing else."""
    files = ROOT.glob("shared/**/*.py")
    names = [".".join(file.relative_to(ROOT).with_suffix("").parts) for file in files]
    loaded = loaded_by(*(name.removesuffix(".__init__") for name in names))
    assert not loaded & {"ortools", "numba", "msgspec", "solver", "layout_app", "PySide6"}


def test_the_wheel_lists_every_package() -> None:
    """Each folder of the three packages with an __init__ is named, and the demo data."""
    settings = tomllib.loads((ROOT / "pyproject.toml").read_text())["tool"]["setuptools"]
    inits = [
        f for top in ("shared", "solver", "layout_app") for f in ROOT.glob(f"{top}/**/__init__.py")
    ]
    found = {".".join(init.parent.relative_to(ROOT).parts) for init in inits}
    assert set(settings["packages"]) == found | {"layout_app.data"}
    assert settings["package-dir"] == {"layout_app.data": "assets"}
