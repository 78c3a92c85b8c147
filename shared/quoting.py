"""What the maker wrote, in sentences and in files."""


def quoted(text: str) -> str:
    """Quote a text on one line, printable, and at most 40 characters of it."""
    line = "".join(c if c.isprintable() else " " for c in text[:120]).strip()
    return f"“{line[:40]}…”" if len(line) > 40 else f"“{line}”"


def whole(text: str) -> str:
    """Return a text that any file can hold.

    Halves of a letter (surrogates) that stand beside each other become the letter; one alone
    becomes the replacement character, as the Unicode Standard has it (3.9, U+FFFD).
    """
    return text.encode("utf-16-le", "surrogatepass").decode("utf-16-le", "replace")
