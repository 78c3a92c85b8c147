"""Gestures in the plain program by keys and by mouse: ``python -m tests.soak.hands [--n 10]``.

Each kind of gesture is done so many times by keys alone and again by mouse, on a virtual screen
with a window manager; after each the project is saved and undone. What the two ways have saved is
compared: where everything lies, what is set aside and locked, and the list of parts. The mouse
aims with up to four pixels' error. Prints per kind how many were equal, different, or changed
nothing; what differed is printed in full.
"""

import argparse
import sys
import tempfile
from collections.abc import Callable, Iterator
from contextlib import nullcontext
from dataclasses import dataclass
from pathlib import Path

from PySide6.QtWidgets import QApplication

from layout_app.bench.frame import to_mm
from layout_app.look.style_sheet import dress
from layout_app.look.theme import Theme
from layout_app.model.project import Project
from layout_app.store.project_file import save_project
from shared.lengths import step
from shared.parts import Copy
from tests.e2e.desk import desk
from tests.soak.both_hands import Hands, gaping, project, state

First = Callable[[Hands, Copy], object]
Then = Callable[[Hands, Copy, Project], object]


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of gesture in two ways; who comes second is told what the first has made.

    ``waits``: it is done to what is set aside. ``mouse_first``: the second way is by keys.
    """

    name: str
    first: First
    second: Then
    waits: bool = False
    mouse_first: bool = False
    base: Callable[[], Project] = project


def _keys(*pressed: str) -> First:
    def do(hands: Hands, copy: Copy) -> None:
        hands.select(copy)
        hands.program.key(*pressed)

    return do


def _menu(text: str) -> Then:
    def do(hands: Hands, copy: Copy, made: Project) -> None:
        del made
        assert hands.on_menu(hands.place_of(copy), text), text

    return do


def _dropped(*, push: bool = False, anywhere: bool = False) -> First:
    """Return the drop of a part at random on its sheet, or on one of all."""

    def do(hands: Hands, copy: Copy) -> None:
        lies = hands.base.layout.find(copy)
        sheets = [sheet.id for sheet in hands.base.layout.sheets]
        sheet = lies.sheet if lies is not None and not anywhere else hands.rng.choice(sheets)
        stock = hands.base.job.stock[0]
        at = (hands.rng.uniform(0.1, 0.9) * side for side in (stock.length, stock.width))
        start = hands.token(copy) if lies is None else hands.middle(lies)
        with hands.held("ctrl") if push else nullcontext():
            hands.program.take(start, hands.point(sheet, *at))
            hands.program.let_go()

    return do


def _carried(*, push: bool = False) -> Then:
    """Return the carrying of a part, by keys, to where it was dropped."""

    def do(hands: Hands, copy: Copy, made: Project) -> None:
        lies = made.layout.find(copy)
        if lies is not None and lies != hands.base.layout.find(copy):
            road = hands.road(copy, lies, push=push)
            hands.select(copy)
            hands.program.key("Return", *road, "Return")

    return do


def _onto_tray(hands: Hands, copy: Copy, made: Project) -> None:
    del made
    shelf = hands.alike.bench.shelf
    middle = shelf.mapTo(hands.alike, shelf.rect().center())
    hands.drag(copy, (middle.x(), middle.y()))


def _drag_right_edge(hands: Hands, copy: Copy) -> None:
    one = hands.base.layout.find(copy)
    assert one is not None
    hands.program.key("Escape")
    hands.program.click(hands.middle(one))
    x, y = hands.point(one.sheet, one.x + one.length, one.y + one.width / 2)
    hands.program.take((x, y), (x + hands.rng.choice((-1, 1)) * hands.rng.randint(12, 40), y))
    hands.program.let_go()


def _drag_far_corner(hands: Hands, copy: Copy) -> None:
    """Drag the far corner of a part by its handle, without snapping."""
    one = hands.base.layout.find(copy)
    assert one is not None
    hands.program.key("Escape")
    hands.program.click(hands.middle(one))
    x, y = hands.point(one.sheet, one.x + one.length, one.y + one.width)
    with hands.held("shift"):
        hands.program.take((x, y), (x - hands.rng.randint(8, 20), y - hands.rng.randint(8, 20)))
        hands.program.let_go()


def _carry_edges(hands: Hands, copy: Copy, made: Project) -> None:
    lies, was, now = hands.base.layout.find(copy), hands.base.job, made.job
    assert lies is not None
    length = now.part(copy[0]).length - was.part(copy[0]).length
    width = now.part(copy[0]).width - was.part(copy[0]).width
    along, across = (width, length) if lies.turned else (length, width)
    hands.select(copy)
    by, pressed = step(was.style), ["e"]
    for more, less_key, more_key in ((along, "Left", "Right"), (across, "Up", "Down")):
        pressed += [more_key if more > 0 else less_key] * round(abs(more) / by)
    hands.program.key(*pressed, "Return")


def _type_sizes(hands: Hands) -> None:
    """Make a part half an inch shorter and wider in the fields that are open over it."""
    hands.program.key("Tab", "End")
    hands.desk.do("type", "--delay", 5, " - 1/2")
    hands.program.key("Tab", "End")
    hands.desk.do("type", "--delay", 5, " + 1/4")
    hands.program.key("Return")


def _sizes_by_keys(hands: Hands, copy: Copy) -> None:
    hands.select(copy)
    hands.program.key("F2")
    _type_sizes(hands)


def _sizes_by_mouse(hands: Hands, copy: Copy, made: Project) -> None:
    del made
    hands.desk.do("mousemove", "--sync", 1, 1)
    hands.program.click(hands.place_of(copy), times=2)
    _type_sizes(hands)


def _draw(hands: Hands, copy: Copy) -> None:
    del copy
    sheet = hands.base.layout.sheets[-1]
    row, used = hands.base.job.stock_row(sheet.stock), [one.rect for one in sheet.placements]
    right = max(one.right for one in used)
    across = sorted(hands.rng.sample(range(0, row.width, row.width // 40), 2))
    along = sorted(hands.rng.sample(range(right, row.length, (row.length - right) // 40), 2))
    hands.program.click(hands.ground)
    hands.program.key("Escape", "d")
    hands.program.take(
        hands.point(sheet.id, along[0], across[0]), hands.point(sheet.id, along[1], across[1])
    )
    hands.program.let_go()


def _draw_by_keys(hands: Hands, copy: Copy, made: Project) -> None:
    del copy
    known = {part.id for part in hands.base.job.parts}
    lying = (one for sheet in made.layout.sheets for one in sheet.placements)
    for one in [one for one in lying if one.part not in known]:
        road = hands.drawn_road(one)
        hands.program.click(hands.ground)
        hands.program.key("Escape", "d", "Return", *road, "Return")


def _swap(hands: Hands, copy: Copy) -> None:
    hands.choose_two(copy)
    hands.program.key("s")


def _swap_by_menu(hands: Hands, copy: Copy, made: Project) -> None:
    del made
    hands.choose_two(copy, again=True)
    hands.on_menu(hands.place_of(copy), "Swap two parts", [copy, hands.other])


KINDS = (
    Kind("drag within a sheet", _dropped(), _carried(), mouse_first=True),
    Kind("drag to any sheet", _dropped(anywhere=True), _carried(), mouse_first=True),
    Kind("push aside", _dropped(push=True), _carried(push=True), mouse_first=True),
    Kind("drag off the tray", _dropped(), _carried(), waits=True, mouse_first=True),
    Kind("set aside", _keys("w"), _onto_tray),
    Kind("turn", _keys("t"), _menu("Turn")),
    Kind("swap", _swap, _swap_by_menu),
    Kind("lock a part", _keys("l"), _menu("Lock part")),
    Kind("lock a strip", _keys("shift+l"), _menu("Lock strip")),
    Kind("lock a sheet", _keys("ctrl+l"), _menu("Lock sheet")),
    Kind("close up", _keys("c"), _menu("Close up the sheet"), base=gaping),
    Kind("duplicate", _keys("ctrl+d"), _menu("Duplicate")),
    Kind("an edge", _drag_right_edge, _carry_edges, mouse_first=True),
    Kind("name and sizes", _sizes_by_keys, _sizes_by_mouse),
    Kind("a corner", _drag_far_corner, _carry_edges, mouse_first=True),
    Kind("draw a part", _draw, _draw_by_keys, mouse_first=True),
)


@dataclass(slots=True)
class Count:
    """How many tries of a kind were equal, were not, and changed nothing either way."""

    equal: int = 0
    different: int = 0
    nothing: int = 0


def compared(hands: Hands, kind: Kind, number: int) -> Count:
    """Do a kind of gesture so many times in both ways, each time to another part."""
    count = Count()
    before = state(hands.base)
    lying = [one.key for one in hands.lying()]
    waiting = [one.key for one in hands.base.layout.waiting]
    for _ in range(number):
        copy = hands.rng.choice(waiting if kind.waits else lying)
        kind.first(hands, copy)
        one = hands.at_rest()
        _undo(hands, one)
        kind.second(hands, copy, one)
        other = hands.at_rest()
        _undo(hands, other)
        if state(one) != state(other):
            count.different += 1
            ways = ("mouse", "keys") if kind.mouse_first else ("keys", "mouse")
            for way, found in zip(ways, (one, other), strict=True):
                print(f"  {kind.name} of {copy}, {way}: {_told(hands.base, found)}")
            hands.desk.shoot(f"{kind.name} {copy}")
        elif state(one) == before:
            count.nothing += 1
            print(f"  {kind.name} of {copy} changed nothing")
        else:
            count.equal += 1
    return count


def _told(before: Project, after: Project) -> str:
    """Say what lies elsewhere, waits, is locked or is another part."""
    lay = {one for sheet in before.layout.sheets for one in sheet.placements}
    lie = {one for sheet in after.layout.sheets for one in sheet.placements}
    moved = (
        f"{one.part} {one.copy} on {one.sheet} at {to_mm(one.x):.1f} {to_mm(one.y):.1f}"
        f"{' turned' if one.turned else ''}"
        for one in sorted(lie - lay, key=lambda one: one.key)
    )
    aside = set(after.layout.waiting) - set(before.layout.waiting)
    locked = set(after.layout.holds) ^ set(before.layout.holds)
    parts = [one for one in after.job.parts if one not in before.job.parts]
    return "; ".join([*moved, *map(str, (*aside, *locked, *parts))]) or "nothing"


def _undo(hands: Hands, made: Project) -> None:
    """Take back what was done, if it was something, and see that all is as before."""
    hands.program.key("Escape")
    if state(made) != state(hands.base):
        hands.program.key("ctrl+z")
        hands.until("what was before", lambda found: state(found) == state(hands.base))


def main() -> None:
    """Do all kinds, or one of them."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--n", type=int, default=10)
    parser.add_argument("--kind", default="")
    parser.add_argument("--seed", type=int, default=1)
    asked = parser.parse_args()
    application = QApplication(sys.argv[:1])
    dress(application, Theme.light())
    with tempfile.TemporaryDirectory() as name:
        for kind in _wanted(asked.kind):
            print(
                f"{kind.name}: {_in_a_program(Path(name), kind, asked.n, asked.seed)}", flush=True
            )


def _wanted(name: str) -> Iterator[Kind]:
    yield from (kind for kind in KINDS if name in kind.name)


def _in_a_program(folder: Path, kind: Kind, number: int, seed: int) -> Count:
    """Do a kind in a program of its own."""
    path = folder / "hands.ripfirst.json"
    base = kind.base()
    save_project(path, base)
    with desk(folder) as made:
        hands = Hands(made, path)
        try:
            hands.begin(base, seed)
            return compared(hands, kind, number)
        finally:
            hands.close()


if __name__ == "__main__":
    main()
