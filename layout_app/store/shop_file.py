"""The shop that new projects begin with, in the maker's own folder of settings."""

from pathlib import Path
from typing import Final

import msgspec
from PySide6.QtCore import QStandardPaths

from layout_app.store import atomic
from layout_app.store.errors import FileProblem, is_there
from layout_app.store.headers import check_header
from layout_app.store.json_text import as_text, read_json
from layout_app.store.project_file import Texts
from layout_app.store.records import Misfit, build
from shared.check_shop import shop_faults
from shared.issues import Severity
from shared.lengths import TICK_NM, LengthStyle
from shared.shop import Shop

FORMAT: Final = "ripfirst-shop"
VERSION: Final = 1
NAME: Final = "shop.json"


def shop_path() -> Path:
    """Return where the shop is kept for whoever is logged in."""
    place = QStandardPaths.StandardLocation.AppConfigLocation
    return Path(QStandardPaths.writableLocation(place)) / NAME


def save_shop(path: Path, shop: Shop) -> None:
    """Save a shop in one piece, its folder made first; `FileProblem` if that cannot be done."""
    header = {"format": FORMAT, "version": VERSION, "tick_nm": TICK_NM}
    atomic.make_folder(path.parent)
    atomic.save(path, as_text(header | {"shop": msgspec.to_builtins(shop)}).encode())


def read_shop(path: Path) -> Shop | None:
    """Read a shop; ``None`` if none was kept yet; `FileProblem` if it cannot be used."""
    if not is_there(path):
        return None
    raw = check_header(path, read_json(path), FORMAT, VERSION)
    try:
        shop = build(Shop, raw.get("shop"), "shop", adapt=Texts(LengthStyle().unit))
    except Misfit as misfit:
        raise FileProblem(path, misfit.place, misfit.reason) from None
    _refuse_faults(path, shop)
    return shop


def _refuse_faults(path: Path, shop: Shop) -> None:
    for issue in shop_faults(shop, LengthStyle()):
        if issue.severity is Severity.ERROR:
            sentence = issue.sentence.rstrip(".")
            raise FileProblem(path, f"shop.{issue.field}", sentence[:1].lower() + sentence[1:])
