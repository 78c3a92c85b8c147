"""The maker's own folder of settings: the shop that new projects begin with, and the window's."""

from dataclasses import replace
from pathlib import Path
from typing import Final

import msgspec
from PySide6.QtCore import QStandardPaths

from layout_app.look.window_settings import WindowSettings
from layout_app.store import atomic
from layout_app.store.errors import FileProblem, is_there
from layout_app.store.json_text import as_text, read_fields
from layout_app.store.older_shops import with_usual_figures
from layout_app.store.project_file import Texts
from layout_app.store.records import Misfit, build, misfits_of
from shared.check_shop import shop_faults
from shared.issues import Severity
from shared.lengths import TICK_NM, LengthStyle
from shared.shop import Shop

SHOP_FORMAT: Final = "ripfirst-shop"
WINDOW_FORMAT: Final = "ripfirst-window"
VERSION: Final = 1


def shop_path() -> Path:
    """Return where the shop is kept for whoever is logged in."""
    return _folder() / "shop.json"


def settings_path() -> Path:
    """Return where a window's settings are kept for whoever is logged in."""
    return _folder() / "window.json"


def _folder() -> Path:
    place = QStandardPaths.StandardLocation.AppConfigLocation
    return Path(QStandardPaths.writableLocation(place))


def save_shop(path: Path, shop: Shop) -> None:
    """Save a shop in one piece, its folder made first; `FileProblem` if that cannot be done."""
    header = {"format": SHOP_FORMAT, "version": VERSION, "tick_nm": TICK_NM}
    _save(path, header | {"shop": msgspec.to_builtins(shop)})


def save_settings(path: Path, settings: WindowSettings) -> None:
    """Write settings in one piece, their folder made first; `FileProblem` if it can't be done."""
    header = {"format": WINDOW_FORMAT, "version": VERSION}
    _save(path, header | {"window": msgspec.to_builtins(settings)})


def _save(path: Path, content: dict[str, object]) -> None:
    atomic.make_folder(path.parent)
    atomic.save(path, as_text(content).encode())


def read_shop(path: Path) -> Shop | None:
    """Read a shop; ``None`` if none was kept yet; `FileProblem` if it cannot be used."""
    if not is_there(path):
        return None
    raw = read_fields(path, SHOP_FORMAT, VERSION)
    with misfits_of(path):
        fields, unit = raw.get("shop"), LengthStyle().unit
        shop = build(Shop, with_usual_figures(fields, unit), "shop", adapt=Texts(unit))
    for issue in shop_faults(shop, LengthStyle()):
        if issue.severity is Severity.ERROR:
            sentence = issue.sentence.rstrip(".")
            raise FileProblem(path, f"shop.{issue.field}", sentence[:1].lower() + sentence[1:])
    return shop


def read_settings(path: Path) -> tuple[WindowSettings | None, FileProblem | None]:
    """Read settings; ``None`` if none were kept yet.

    What cannot be used is as if it had not been kept, field by field, and comes back as the
    first problem; nothing raises, for a window has to open whatever lies there.
    """
    try:
        if not is_there(path):
            return None, None
        raw = read_fields(path, WINDOW_FORMAT, VERSION).get("window")
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
