"""``window.json``, in the maker's own folder of settings: what a window keeps of itself."""

from dataclasses import replace
from pathlib import Path
from typing import Final

import msgspec

from layout_app.look.window_settings import WindowSettings
from layout_app.store import atomic
from layout_app.store.errors import FileProblem, is_there
from layout_app.store.headers import check_header
from layout_app.store.json_text import as_text, read_json
from layout_app.store.records import Misfit, build
from layout_app.store.shop_file import shop_path

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


def read_settings(path: Path) -> tuple[WindowSettings | None, FileProblem | None]:
    """Read settings; ``None`` if none were kept yet.

    What cannot be used is as if it had not been kept, field by field, and comes back as the
    first problem; nothing raises, for a window has to open whatever lies there.
    """
    try:
        if not is_there(path):
            return None, None
        raw = check_header(path, read_json(path), FORMAT, VERSION).get("window")
        if not isinstance(raw, dict):
            raise FileProblem(path, "window", "expected named fields")
    except FileProblem as problem:
        return None, problem
    settings, first = WindowSettings(), None
    for name, value in raw.items():
        try:
            read = build(WindowSettings, {name: value}, "window")
        except Misfit as misfit:
            first = first or FileProblem(path, misfit.place, misfit.reason)
        else:
            settings = replace(settings, **{name: getattr(read, name)})
    return settings, first
