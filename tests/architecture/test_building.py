"""How objects of the window are put together."""

import ast
from pathlib import Path

import layout_app

HOME = Path(layout_app.__file__).parent


def _asks_itself(node: ast.AST) -> bool:
    """Say whether this is ``hasattr(self, ...)`` or ``getattr(self, ...)``."""
    if not (isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.args):
        return False
    first = node.args[0]
    named = isinstance(first, ast.Name) and first.id == "self"
    return named and node.func.id in {"hasattr", "getattr"}


def test_nothing_asks_itself_whether_it_is_built() -> None:
    """What hears signals only once all is there needs no question what of it is there yet."""
    modules = sorted(HOME.rglob("*.py"))
    asking = [
        f"{path.relative_to(HOME)}:{node.lineno}"
        for path in modules
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.Call) and _asks_itself(node)
    ]
    assert len(modules) > 100
    assert asking == []


def test_the_window_holds_few_owners() -> None:
    """What belongs together has one owner, so that the window holds fifteen things at most."""
    source = (HOME / "window" / "main_window.py").read_text(encoding="utf-8")
    held = {
        node.attr
        for node in ast.walk(ast.parse(source))
        if isinstance(node, ast.Attribute) and isinstance(node.ctx, ast.Store)
        if isinstance(node.value, ast.Name) and node.value.id == "self"
    }
    assert {"document", "bench", "projects", "menus"} < held
    assert len(held) <= 15
