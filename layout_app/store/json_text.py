"""JSON as text: read with the place of every fault, written so that a maker can read it.

The first fields of every file say what it is, its version, and how long a tick is.
"""

import json
import stat
from collections import Counter
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any, NoReturn

from layout_app.store.errors import FileProblem, told
from shared.lengths import TICK_NM
from shared.quoting import quoted, whole

LARGEST_FILE = 64 * 1024 * 1024
"""Bytes; a project of 10,000 parts needs a tenth of it."""

_LINE = 120


def read_fields(path: Path, expected: str, version: int) -> Mapping[str, object]:
    """Read the fields of a file of the expected format; `FileProblem` if that cannot be done."""
    return fields_of(path, read_bytes(path), expected, version)


def read_bytes(path: Path) -> bytes:
    """Return what a file holds; `FileProblem` if it cannot be read or is too large."""
    with told(path, "cannot be read"):
        try:
            if stat.S_ISDIR(path.stat().st_mode):
                raise FileProblem(path, "", "this is a folder, not a file")
            with path.open("rb") as file:
                data = file.read(LARGEST_FILE + 1)
        except FileNotFoundError:
            raise FileProblem(path, "", "there is no such file") from None
    if len(data) > LARGEST_FILE:
        raise FileProblem(path, "", "the file is too large")
    return data


def fields_of(path: Path, data: bytes, expected: str, version: int) -> Mapping[str, object]:
    """Return the fields of a file of the expected format; `FileProblem` if it is another."""
    raw = json_of(path, data)
    if not isinstance(raw, dict):
        raise FileProblem(path, "", f"this is JSON, but no {expected} file")
    if raw.get("format") != expected:
        found = raw.get("format")
        named = quoted(found) if isinstance(found, str) else "none"
        raise FileProblem(path, "format", f"expected “{expected}”, found {named}")
    _check_version(path, raw.get("version"), version)
    if raw.get("tick_nm", TICK_NM) != TICK_NM:
        raise FileProblem(path, "tick_nm", f"lengths must be in ticks of {TICK_NM} nm")
    return raw


def _check_version(path: Path, found: object, known: int) -> None:
    if type(found) is not int or found < 1:
        raise FileProblem(path, "version", f"expected a version from 1 to {known}")
    if found > known:
        reason = f"version {found} was written by a newer Ripfirst; this one reads up to {known}"
        raise FileProblem(path, "version", reason)


def json_of(path: Path, data: bytes) -> object:
    """Return what JSON says that was read from a file; `FileProblem` if it is none."""
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise FileProblem(path, "", "the file is not text (UTF-8)") from error
    if not text.strip():
        raise FileProblem(path, "", "the file is empty")
    try:
        return json.loads(
            text, object_pairs_hook=_once_each, parse_constant=_no_number, parse_int=_whole
        )
    except json.JSONDecodeError as error:
        raise _malformed(path, text, error) from None
    except _RefusedError as error:
        raise FileProblem(path, "", str(error)) from None
    except RecursionError:
        raise FileProblem(path, "", "it is nested too deeply") from None


def as_text(value: object) -> str:
    """Write plain JSON: what fits goes on one line, the rest is indented.

    What no file can hold of a text is replaced, so that no name makes saving impossible.
    """
    return whole("".join(_lines(value, 0))) + "\n"


class _RefusedError(ValueError):
    """JSON that is well-formed and still means nothing here."""


def _malformed(path: Path, text: str, error: json.JSONDecodeError) -> FileProblem:
    place = f"line {error.lineno}, column {error.colno}"
    unfinished = error.pos >= len(text.rstrip()) or error.msg.startswith("Unterminated string")
    if unfinished and text.lstrip()[:1] in ("{", "["):
        return FileProblem(path, place, "the file is cut off here")
    return FileProblem(path, place, f"this is not JSON ({error.msg[0].lower()}{error.msg[1:]})")


def _once_each(pairs: list[tuple[str, object]]) -> dict[str, object]:
    fields = dict(pairs)
    if len(fields) != len(pairs):
        twice, _ = Counter(name for name, _ in pairs).most_common(1)[0]
        raise _RefusedError(f"the field “{twice[:40]}” stands twice in one place")
    return fields


def _no_number(word: str) -> NoReturn:
    raise _RefusedError(f"{word} is no number")


def _whole(digits: str) -> int:
    if len(digits) > 20:
        raise _RefusedError(f"the number {digits[:20]}… is too large")
    return int(digits)


def _lines(value: object, depth: int) -> Iterator[str]:
    flat = json.dumps(value, ensure_ascii=False)
    if len(flat) + 2 * depth <= _LINE or not isinstance(value, (dict, list, tuple)):
        yield flat
        return
    opening, closing = "{}" if isinstance(value, dict) else "[]"
    yield opening
    for i, (head, item) in enumerate(_items(value)):
        yield ("," if i else "") + "\n" + "  " * (depth + 1) + head
        yield from _lines(item, depth + 1)
    yield "\n" + "  " * depth + closing


def _items(value: dict[str, Any] | list[Any] | tuple[Any, ...]) -> Iterator[tuple[str, object]]:
    if not isinstance(value, dict):
        yield from (("", item) for item in value)
        return
    for name, item in value.items():
        yield json.dumps(name, ensure_ascii=False) + ": ", item
