"""The demo projects: the botany club's herbarium and press rack.

Their one home is ``assets/`` in the repository; a wheel carries them as the data of the
package ``layout_app.data``, which the packaging maps to that folder.
"""

from importlib import resources
from importlib.resources.abc import Traversable
from pathlib import Path

from layout_app.store.atomic import make_folder, save
from layout_app.store.errors import FileProblem
from layout_app.store.project_file import SUFFIX


def copy_to(folder: Path) -> list[Path]:
    """Copy the demo projects into a folder, each into one of its own; return the files.

    `FileProblem` if one cannot be written.
    """
    copies = []
    for source in _sources():
        own = folder / source.name.removesuffix(SUFFIX)
        make_folder(own)
        save(own / source.name, source.read_bytes())
        copies.append(own / source.name)
    return copies


def _sources() -> list[Traversable]:
    home = _home()
    found = [file for file in home.iterdir() if file.name.endswith(SUFFIX)] if home else []
    if not found:
        raise FileProblem("demo", "", "this installation holds no demo project")
    return sorted(found, key=lambda file: file.name)


def _home() -> Traversable | None:
    """Return the folder of an installation, or of a checkout."""
    try:
        return resources.files("layout_app.data")
    except ModuleNotFoundError:
        assets = Path(__file__).resolve().parents[2] / "assets"
        return assets if assets.is_dir() else None
