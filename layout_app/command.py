"""Where the command ``ripfirst`` begins: it hears Ctrl+C before anything slow is loaded.

So nothing but ``sys``, which is there anyway, is imported at the top.
"""

import sys
from types import TracebackType  # loaded by the interpreter itself


def main() -> int:
    """Run the command of this process; return its exit code."""
    sys.excepthook = _end_quietly
    from layout_app.interrupts import INTERRUPTS, end_quietly  # noqa: PLC0415

    INTERRUPTS.listen()
    _write_anything()
    from layout_app import cli  # noqa: PLC0415 - takes a second, in which Ctrl+C may come
    from solver.kept_code import forget_run  # noqa: PLC0415

    INTERRUPTS.at_leaving(forget_run)
    code = cli.main()
    end_quietly()
    return code


def _end_quietly(
    kind: type[BaseException], fault: BaseException, trace: TracebackType | None
) -> None:
    """Show what nobody caught, but no traceback of Ctrl+C in the first moment."""
    if not issubclass(kind, KeyboardInterrupt):
        sys.__excepthook__(kind, fault, trace)


def _write_anything() -> None:
    """Have signs that the terminal or file does not know replaced, not refused."""
    import codecs  # noqa: PLC0415

    codecs.register_error("plain", _plain)
    for stream in (sys.stdout, sys.stderr):
        if stream is not None and hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="plain")


def _plain(error: UnicodeError) -> tuple[str, int]:
    """Return what stands for signs that cannot be encoded: a plain one, else a question mark."""
    assert isinstance(error, UnicodeEncodeError)
    alike = str.maketrans({"×": "x", "−": "-", "–": "-", "“": '"', "”": '"', "’": "'"})
    signs = error.object[error.start : error.end].translate(alike)
    return "".join(sign if sign.isascii() else "?" for sign in signs), error.end
