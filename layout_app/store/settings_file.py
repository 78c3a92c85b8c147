"""``window.json``, in the maker's own folder of settings: what a window keeps of itself."""

from pathlib import Path
from typing import Final

import msgspec

from layout_app.store import atomic
from layout_app.store.errors import FileProblem
from layout_app.store.headers import check_header
from layout_app.store.json_text import as_text, read_json
from layout_app.store.records import Misfit, build
from layout_app.store.shop_file import shop_path
from layout_app.window_settings import WindowSettings

FORMAT: Final = "ripfirst-window"
VERSION: Final = 1
NAME: Final = "window.json"


def settings_path() -> Path:
    """Return where they are kept for whoever is logged in: beside the shop."""
    return shop_path().with_name(NAME)


def save_settings(path: Path, settings: WindowSettings) -> None:
    """Write settings in one piece, their folder made first; `FileProblem` if it can't be done."""
    header = {"format": FORMAT, "version": VERSION}
    atomic.make_folder(path.parent)
    atomic.save(path, as_text(header | {"window": msgspec.to_builtins(settings)}).encode())


def read_settings(path: Path) -> WindowSettings | None:
    """Read settings; ``None`` if none were kept yet; `FileProblem` if they cannot be used."""
    if not path.exists():
        return None
    raw = check_header(path, read_json(path), FORMAT, VERSION)
    try:
        return build(WindowSettings, raw.get("window"), "window")
    except Misfit as misfit:
        raise FileProblem(path, misfit.place, misfit.reason) from None
