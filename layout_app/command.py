"""Where the command ``ripfirst`` begins: it hears Ctrl+C before anything is loaded.

So nothing is imported at the top but what the interpreter has loaded for itself.
"""

import os
import sys


def main() -> int:
    """Run the command of this process; return its exit code."""
    # `signal` itself takes milliseconds to load, in which Ctrl+C may come; this one is built in.
    import _signal  # type: ignore[import-not-found] # no stub has it  # noqa: PLC0415 - nothing at the top

    _signal.signal(_signal.SIGINT, _leave)
    from layout_app.interrupts import INTERRUPTS, end_quietly  # noqa: PLC0415 - once Ctrl+C is heard

    INTERRUPTS.listen()
    _write_anything()
    from layout_app.cli import main as cli  # noqa: PLC0415 - takes a second, in which Ctrl+C may come
    from solver.kept_code import forget_run  # noqa: PLC0415 - takes its time, too

    INTERRUPTS.at_leaving(forget_run)
    code = cli.main()
    end_quietly()
    return code


def _leave(number: int, _frame: object) -> None:
    """End the process while it still begins: there is nothing to clean up, or to write."""
    os.write(2, b"ripfirst: interrupted; nothing was written.\n")
    os._exit(128 + number)  # as shells have it


def _write_anything() -> None:
    """Have signs that the terminal or file does not know replaced, not refused."""
    import codecs  # noqa: PLC0415 - once Ctrl+C is heard

    codecs.register_error("plain", _plain)
    for stream in (sys.stdout, sys.stderr):
        if stream is not None and hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="plain")


def _plain(error: UnicodeError) -> tuple[str, int]:
    """Return what stands for signs that cannot be encoded: a plain one, else a question mark."""
    assert isinstance(error, UnicodeEncodeError)
    alike = str.maketrans({"×": "x", "−": "-", "–": "-", "·": "-", "“": '"', "”": '"', "’": "'"})
    signs = error.object[error.start : error.end].translate(alike)
    return "".join(sign if sign.isascii() else "?" for sign in signs), error.end
