"""Names that every system takes for a file."""

import re
import unicodedata
from collections.abc import Iterable
from typing import Final

from shared.quoting import whole

LONGEST, LONGEST_BYTES = 80, 200
"""Letters of a name at most, and bytes: systems take 255, folders above and endings count too."""
_FORBIDDEN: Final = re.compile(r'[<>:"/\\|?*\x00-\x1f\x7f\u202a-\u202e\u2066-\u2069]+')
_RESERVED: Final = re.compile(r"(con|prn|aux|nul|com[0-9¹²³]|lpt[0-9¹²³])(\..*)?", re.IGNORECASE)


def safe_name(text: str, instead: str = "plan") -> str:
    """Return a text as the name of a file or folder on any system, without an ending.

    What Windows forbids ("Naming files, paths, and namespaces") becomes a dash: characters,
    names of devices, dots and spaces at the end. ``instead`` is used where nothing is left.
    """
    letters = _FORBIDDEN.sub("-", whole(text))[:LONGEST]
    name = letters.encode()[:LONGEST_BYTES].decode(errors="ignore").strip(" .-")
    if not name:
        return instead
    return f"{name}-" if _RESERVED.fullmatch(name) else name


def safe_names(texts: Iterable[str], instead: str = "plan") -> dict[str, str]:
    """Return for each text the name of a file that no other of them has on any system.

    Systems take names for one that differ in capitals or in how an accent is spelled; of such
    the later ones get a number.
    """
    names: dict[str, str] = {}
    taken: set[str] = set()
    for text in texts:
        if text not in names:
            name, number = safe_name(text, instead), 1
            while _as_compared(names.setdefault(text, name)) in taken:
                number += 1
                names[text] = f"{name}-{number}"
            taken.add(_as_compared(names[text]))
    return names


def _as_compared(name: str) -> str:
    return unicodedata.normalize("NFKC", unicodedata.normalize("NFKC", name).casefold())
