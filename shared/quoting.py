"""Quotes what the maker wrote, for sentences."""


def quoted(text: str) -> str:
    """Quote a text on one line, printable, and at most 40 characters of it."""
    line = "".join(c if c.isprintable() else " " for c in text[:120]).strip()
    return f"“{line[:40]}…”" if len(line) > 40 else f"“{line}”"
