"""Names that every system takes for a file."""

import re
from typing import Final

LONGEST: Final = 80
"""Letters of a name at most; systems take 255 bytes, folders above count too."""
_FORBIDDEN: Final = re.compile(r'[<>:"/\\|?*\x00-\x1f\x7f\u202a-\u202e\u2066-\u2069]+')
_RESERVED: Final = re.compile(r"(con|prn|aux|nul|com[0-9¹²³]|lpt[0-9¹²³])(\..*)?", re.IGNORECASE)


def safe_name(text: str, instead: str = "plan") -> str:
    """Return a text as the name of a file or folder on any system, without an ending.

    What Windows forbids ("Naming files, paths, and namespaces") becomes a dash: characters,
    names of devices, dots and spaces at the end. ``instead`` is used where nothing is left.
    """
    name = _FORBIDDEN.sub("-", text)[:LONGEST].strip(" .-")
    if not name:
        return instead
    return f"{name}-" if _RESERVED.fullmatch(name) else name
