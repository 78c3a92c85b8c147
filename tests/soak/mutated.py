"""Files that were changed at random: each is read, or refused with one sentence.

``python -m tests.soak.mutated --n 28000`` prints how many were, and what was raised instead.
"""

import argparse
import contextlib
import json
import random
import signal
import tempfile
from collections import Counter
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any, Final

from PySide6.QtCore import QRect

from layout_app.document.document import Document
from layout_app.document.ticks import tick
from layout_app.look.window_settings import Shape, WindowSettings
from layout_app.model.carry_over import opened
from layout_app.model.sawing import saw
from layout_app.store.errors import FileProblem
from layout_app.store.own_files import read_settings, read_shop, save_settings, save_shop
from layout_app.store.plan_file import plan_text, read_plan
from layout_app.store.project_file import project_text, read_project
from shared.lengths import Unit
from shared.practice import usual
from shared.saw import verify
from tests.layout_app.small_job import document

ODD: Final = (
    *(None, True, False, 0, -1, 1, 2**31, 2**53, -(2**53), 10**19, 10**400, 1.5, -0.0, 1e308),
    *("", "x", "\ud800", "\0", "a" * 5000, "1/0", "23 1/4", "NaN", "\u202e", "96,5", "1e9 mm"),
    *([], {}, [[]], [None], {"": 1}, [1, "a", {}], {"id": "a"}),
)
"""Values put in place of others."""


@contextlib.contextmanager
def no_longer_than(seconds: int) -> Iterator[None]:
    """Raise TimeoutError if something takes so long: it would never end."""
    if not hasattr(signal, "SIGALRM"):
        yield
        return

    def end(*_: object) -> None:
        raise TimeoutError

    before = signal.signal(signal.SIGALRM, end)
    signal.alarm(seconds)
    try:
        yield
    finally:
        signal.alarm(0)
        signal.signal(signal.SIGALRM, before)


def read_all(kind: str, path: Path) -> None:
    """Read a file as the window or the command does, and do what comes next with it."""
    if kind == "project":
        project = read_project(path)
        project_text(saw(opened(project)).project)
    elif kind == "plan":
        verify(read_plan(path))
    elif kind == "shop":
        read_shop(path)
    else:
        read: Any = read_settings(path)
        settings = read[0] if isinstance(read, tuple) else read
        if settings is not None and settings.shape is not None:
            shape = settings.shape
            QRect(shape.x, shape.y, shape.length, shape.height)


LONGEST_S: Final = 60
"""So many seconds no file takes, however slow the machine."""


def good_files(folder: Path) -> dict[str, bytes]:
    """Return a file of each kind as the program writes it."""
    made: Document = document()
    plain = project_text(made.project)
    tick(made, [1, 2])
    shape = Shape(x=10, y=20, length=900, height=700, across=(300, 600), down=(1, 0, 9))
    save_settings(folder / "window.json", WindowSettings(shape=shape, recent=("/a/b", "/c")))
    save_shop(folder / "shop.json", usual(Unit.INCH))
    assert made.plan is not None
    return {
        "project": plain.encode(),
        "project begun": project_text(made.project).encode(),
        "plan": plan_text(made.plan).encode(),
        "shop": (folder / "shop.json").read_bytes(),
        "settings": (folder / "window.json").read_bytes(),
    }


def try_mutated(folder: Path, number: int, seed: int = 0) -> Counter[str]:
    """Read so many mutated files; count what came of them."""
    chance, good, count = random.Random(seed), good_files(folder), Counter[str]()
    path = folder / "mutated.json"
    for place in range(number):
        kind = list(good)[place % len(good)]
        data = chance.choice(MUTATIONS)(chance, good[kind])
        path.write_bytes(data)
        try:
            with no_longer_than(LONGEST_S):
                read_all(kind.split()[0], path)
        except FileProblem as problem:
            lines = len(str(problem).splitlines())
            count["refused" if lines == 1 else f"fault: {lines} lines"] += 1
        except Exception as fault:
            count[f"fault: {kind}: {type(fault).__name__} {fault}"[:150]] += 1
            (folder / f"fault-{place}.json").write_bytes(data)
        else:
            count["read"] += 1
    return count


def _flipped(chance: random.Random, data: bytes) -> bytes:
    changed = bytearray(data)
    for _ in range(chance.choice((1, 1, 2, 8))):
        changed[chance.randrange(len(changed))] = chance.randrange(256)
    return bytes(changed)


def _cut(chance: random.Random, data: bytes) -> bytes:
    start, end = sorted(chance.randrange(len(data) + 1) for _ in range(2))
    return chance.choice((data[:start], data[start:], data[:start] + data[end:]))


def _repeated(chance: random.Random, data: bytes) -> bytes:
    start, end = sorted(chance.randrange(len(data) + 1) for _ in range(2))
    return data[:end] + data[start:end] + data[end:]


def _deep(chance: random.Random, data: bytes) -> bytes:
    place, depth = chance.randrange(len(data)), chance.choice((10, 900, 1100, 100_000))
    pair = chance.choice((b"[]", b'{"a":'))
    return data[:place] + pair[:1] * depth + pair[1:] * depth + data[place:]


def _changed_value(chance: random.Random, data: bytes) -> bytes:
    """Put an odd value, or one from elsewhere in the file, in place of some."""
    raw = json.loads(data)
    places = list(_places(raw))
    for _ in range(chance.choice((1, 1, 1, 3))):
        holder, key = chance.choice(places)
        other, at = chance.choice(places)
        try:
            holder[key] = chance.choice((chance.choice(ODD), other[at]))
        except (KeyError, IndexError):
            continue
    return _as_json(raw)


def _nudged(chance: random.Random, data: bytes) -> bytes:
    """Change a number by a little, or a word to another of the file."""
    raw = json.loads(data)
    places = [(holder, key) for holder, key in _places(raw) if type(holder[key]) in (int, str)]
    holder, key = chance.choice(places)
    if isinstance(holder[key], int):
        holder[key] += chance.choice((-1, 1, -holder[key], 10**7, -(10**7)))
    else:
        words = [other[at] for other, at in places if isinstance(other[at], str)]
        holder[key] = chance.choice(words)
    return _as_json(raw)


def _without(chance: random.Random, data: bytes) -> bytes:
    """Leave something out, or have it twice."""
    raw = json.loads(data)
    holder, key = chance.choice(list(_places(raw)))
    if isinstance(holder, list) and chance.random() < 0.5:
        holder.insert(key, holder[key])
    else:
        del holder[key]
    return _as_json(raw)


def _nested_tree(chance: random.Random, data: bytes) -> bytes:
    """Put a tree of cuts of many levels where one is."""
    raw = json.loads(data)
    trees = [(holder, key) for holder, key in _places(raw) if key == "tree" and holder[key]]
    if not trees:
        return data
    holder, key = chance.choice(trees)
    depth = chance.choice((5, 40, 150, 300))
    tree: Any = holder[key]
    for level in range(depth):
        axis = ("rip", "crosscut")[level % 2]
        tree = {"axis": axis, "pieces": [{"size": chance.choice((1, 10**6)), "run": tree}]}
    holder[key] = tree
    return _as_json(raw)


def _as_json(raw: Any) -> bytes:
    try:
        return json.dumps(raw).encode()
    except (ValueError, RecursionError):  # what leads back into itself is no JSON
        return b"{}"


def _places(raw: Any) -> Iterator[tuple[Any, Any]]:
    keys = range(len(raw)) if isinstance(raw, list) else raw if isinstance(raw, dict) else ()
    for key in keys:
        yield raw, key
        yield from _places(raw[key])


MUTATIONS: Final[tuple[Callable[[random.Random, bytes], bytes], ...]] = (
    *(_flipped, _cut, _repeated, _deep, _changed_value, _changed_value, _nudged, _without),
    _nested_tree,
)


def main() -> None:
    """Print the counts."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--n", type=int, default=28_000)
    parser.add_argument("--seed", type=int, default=0)
    parser.add_argument("--keep", type=Path, help="a folder for files that raised something")
    wish = parser.parse_args()
    if wish.keep:
        wish.keep.mkdir(parents=True, exist_ok=True)
        count = try_mutated(wish.keep, wish.n, wish.seed)
    else:
        with tempfile.TemporaryDirectory() as name:
            count = try_mutated(Path(name), wish.n, wish.seed)
    for what, times in count.most_common():
        print(times, what)


if __name__ == "__main__":
    main()
