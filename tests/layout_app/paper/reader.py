"""A reader who has only the pages saws a job again: every question has its answer on the panels.

The reader knows the size of each whole sheet and the kerfs from the cover, keeps a stack of named
pieces, and does what the panels say: which piece, along or across, set to what, which side is
kept, what becomes of both. Sizes are worked out by the reader: extent less size less kerf. What a
panel says of a piece has to be what the reader holds.
"""

import re
from collections import Counter
from dataclasses import dataclass, field

from layout_app.paper.matter import Matter
from layout_app.paper.pack.cover import assumptions
from shared.lengths import INCH, MM, Unit, parse_length
from shared.shop import RunsOn
from tests.layout_app.paper.panel_reader import Saying, numbers_in

SIZE = r"(?:\d+ \d+/\d+|\d+/\d+|\d+(?:\.\d+)?)(?: shy| strong)?"
PAIR = rf"(?P<l>{SIZE}) × (?P<w>{SIZE})"
HELD = re.compile(rf"L (?P<l>{SIZE}) × W (?P<w>{SIZE})")
SET = re.compile(rf"(?:Set \w+|Guide|Stop|Fence|Mark) (?P<size>{SIZE})")
BECOMES = re.compile(rf"(?P<name>.*?)(?: of each)?,? ?{PAIR}(?:, (?P<fate>.*))?")
RAIL = re.compile(
    rf"(?:(\d+) x )?({SIZE}) (?:in|mm) (?:rail|straightedge)s?(?: joined)?"
    rf"(?:, about ({SIZE}) (past|short of)"
    rf" (?:both|where you enter, ({SIZE})(?: (past|short of))? opposite))?"
)
FOR = re.compile(r"(?:stack for|finish at) cuts? (?P<numbers>[\d, to]+)")
ON_HORSES = ("as it lies", "turn it a quarter", "turned over", "walk round")
"""Of a piece that the cut before left on the sawhorses."""


@dataclass
class Reader:
    """Someone at the saw with the pages alone; lengths in ticks, to the width of a pencil line.

    ``by_rule`` counts what no word of a panel says because the reading page says it for all.
    """

    unit: Unit
    kerfs: dict[bool, int]
    """Of the saw on the rail, and at the table, where the piece runs against the fence."""
    sheets: dict[str, tuple[int, int]]
    base: bool = False
    """Whether the base of the saw runs along a straightedge, which is narrow and clamped."""
    pieces: dict[str, tuple[int, int]] = field(default_factory=dict)
    made_at: dict[str, int] = field(default_factory=dict)
    wanted_at: dict[str, set[int]] = field(default_factory=dict)
    sawn: int = 0
    boxes: int = 0
    """Passes in a row before this one, whose remainders no page tells."""
    parts: Counter[tuple[str, int, int]] = field(default_factory=Counter)
    by_rule: Counter[str] = field(default_factory=Counter)

    def size(self, text: str) -> int:
        """Read a size off a rule."""
        return parse_length(re.sub(" (shy|strong)", "", text), self.unit)

    def same(self, text: str, ticks: int) -> bool:
        """Say whether a size on the page is what is held, to 0.2 mm or 1/32 in.

        Three sizes, each rounded to 0.01 mm or 1/64 in, come together in one. What is sawn on at
        the next pass is not told: each such pass rounds two sizes more, by half a step at most.
        """
        step = INCH // 64 if self.unit is Unit.INCH else MM // 100
        return abs(self.size(text) - ticks) <= max(MM // 5, INCH // 32) + self.boxes * step

    def saw(self, said: Saying) -> None:
        """Do what is said of one cut."""
        name = _plain(said.piece)
        held, text = self._take(said, name), " | ".join(said.facts)
        along = "end" in self._entry(said)
        whole = held[1] if along else held[0]
        at_table = "the fence" in text
        kerf, size = self.kerfs[at_table], self._set(said)
        side = re.search(r"[Kk]eep the (V|far) side, ", text)
        assert side is not None, text
        near, far = size, max(0, whole - size - kerf)
        if side[1] == "far":
            near, far = size - kerf, whole - size
        kept, rest = (far, near) if side[1] == "far" else (near, far)
        if not at_table and "edge guide along" not in text:
            self._lay_rail(text, held[0] if along else held[1], kept, rest)
        del self.pieces[name]
        trims = said.title.startswith("Trim the ")
        made, part = (name, "") if trims else _made(said)
        self._becomes(said, (made, part), _laid(held, kept, along=along))
        self._remains(said, name, _laid(held, rest, along=along), rest, trims=trims)
        self.sawn += 1

    def _take(self, said: Saying, name: str) -> tuple[int, int]:
        if said.begins and "whole sheet" in said.head:
            self.pieces[name] = self.sheets[name.removeprefix("sheet ")]
        elif said.begins and self.made_at[name] == said.number - 1:
            assert any(how in said.head for how in ON_HORSES), said
        elif said.begins:
            since = re.search(r"from the stack \(cuts? ([\d, to]+)\)", said.head)
            assert since is not None, said
            assert self.made_at[name] in numbers_in(since[1]), said
        else:
            assert self.made_at[name] == said.number - 1, said
        assert said.number in self.wanted_at.pop(name, {said.number}), said
        held = self.pieces[name]
        if said.begins:
            sides = HELD.search(said.head)
            assert sides is not None, said
            assert self.same(sides["l"], held[0]), said
            assert self.same(sides["w"], held[1]), said
        return held

    def _entry(self, said: Saying) -> str:
        """Read off the drawing where the saw enters; words that tell it too tell the same."""
        if said.enters:
            assert said.enters == said.arrow, said
            self.by_rule["the saw enters at the side towards you"] += "towards you" in said.head
        else:
            self.by_rule["the saw enters at the arrow"] += 1
        return said.arrow

    def _set(self, said: Saying) -> int:
        found = [one for one in map(SET.match, (*said.bars, *said.facts)) if one is not None]
        assert len(found) == 1, said
        return self.size(found[0]["size"])

    def _lay_rail(self, text: str, long: int, kept: int, rest: int) -> None:
        """Lay the rail: it is as long as the cut and what stands free, and lies on enough wood.

        What stands free is said in steps of 5 mm or 1/4 in, never more than it is. A rail 180 mm
        wide lies on the wider side, or on one as wide as itself (workshop practice).
        """
        laid = RAIL.search(text)
        assert laid is not None, text
        over = int(laid[1] or 1) * self.size(laid[2]) - long
        if laid[3] is None:
            self.by_rule["the rail stands out as far at both ends"] += 1
            assert over >= -MM, text
        else:
            other = laid[6] or laid[4]
            ends = [
                (1 if how == "past" else -1) * self.size(free)
                for free, how in ((laid[3], laid[4]), (laid[5] or laid[3], other))
            ]
            assert -MM <= over - sum(ends) <= 2 * max(5 * MM, INCH // 4) + MM, text
        beside = "on the other, " in text
        under, free = (rest, kept) if beside else (kept, rest)
        assert under >= 180 * MM or under >= free or "on scrap" in text or self.base, text
        self.by_rule["the rail's edge is on the line"] += not beside and not self.base

    def _becomes(self, said: Saying, made: tuple[str, str], size: tuple[int, int]) -> None:
        whole = next(text for text in said.facts if text.startswith("Makes "))
        found = BECOMES.fullmatch(whole.split(". ")[0])
        assert found is not None, whole
        self._put(made, (found["l"], found["w"]), size, said.number, found["fate"] or "")

    def _remains(
        self, said: Saying, name: str, size: tuple[int, int], rest: int, *, trims: bool
    ) -> None:
        if not said.ends and not trims:
            self._hold(name, size, said.number)
            self._trust("what remains is sawn on at the next box")
            return
        texts = [text for one in said.facts for text in one.split(". ")]
        left = next((text for text in texts if _is_left(text)), "")
        if not left:
            assert not trims, said
            self._hold(name, size, said.number)
            self._trust("what remains is sawn on at the next cut, as it is drawn")
            return
        if left.startswith("Nothing remains"):
            assert rest == 0
        elif left.startswith("Waste"):
            found = re.match(rf"Waste(?: of each)? ({SIZE})", left)
            assert found is not None, left
            assert self.same(found[1], rest), left
        else:
            found = BECOMES.fullmatch(left)
            assert found is not None, left
            called = found["name"].strip()
            part = "" if called.startswith(("Remains", "Offcut")) else called.partition(" ")[2]
            off = called if called.startswith("Offcut") else name
            sides = found["l"], found["w"]
            self._put((off, part), sides, size, said.number, found["fate"] or "")
        self.boxes = 0

    def _trust(self, rule: str) -> None:
        """Go on with a remainder that no page tells the size of."""
        self.by_rule[rule] += 1
        self.boxes += 1

    def _put(
        self,
        made: tuple[str, str],
        said: tuple[str, str],
        size: tuple[int, int],
        number: int,
        fate: str,
    ) -> None:
        """Compare a piece with what is said of it, and put it where that says."""
        name, part = made
        assert name not in self.pieces, made
        assert all(map(self.same, said, size)), (made, said, size)
        later = FOR.search(fate)
        if "label" in fate and part:
            short, long = sorted(round(side / MM) for side in size)
            self.parts[re.sub(r" \d+$", "", part), long, short] += 1
        elif "label" in fate:
            assert name.lower().startswith("offcut"), (made, fate)
        else:
            self._hold(name, (self.size(said[0]), self.size(said[1])), number)
            if fate.endswith(f"; {name} stays"):
                self.wanted_at[name] = {number + 1}
            elif later is not None:
                self.wanted_at[name] = numbers_in(later["numbers"])
            elif fate == "stays":
                self.wanted_at[name] = {number + 1}
            else:
                assert not fate, fate
                self.by_rule["what remains is sawn on in the next row"] += 1
                self.wanted_at[name] = {number + 1}

    def _hold(self, name: str, size: tuple[int, int], number: int) -> None:
        self.pieces[name] = size
        self.made_at[name] = number


def _is_left(text: str) -> bool:
    if text.startswith(("Makes ", "Mark ")):
        return False
    left = text.startswith(("Remains ", "Waste ", "Nothing remains", "Offcut "))
    return left or BECOMES.fullmatch(text) is not None


def _plain(name: str) -> str:
    return name[0].lower() + name[1:] if name.startswith("Sheet ") else name


def _made(said: Saying) -> tuple[str, str]:
    """Read the name of what a cut makes, and the part it is, from its box or from its row."""
    _, _, titled = said.title.partition(" \N{RIGHTWARDS ARROW} ")
    called = said.makes or titled
    words = called.split(" ", 1)
    if words[0] in {"sheet", "offcut"}:
        return called, ""
    part = words[1] if len(words) > 1 else ""
    return words[0], titled if part.startswith("no. ") else part


def _laid(held: tuple[int, int], wide: int, *, along: bool) -> tuple[int, int]:
    return (held[0], wide) if along else (wide, held[1])


KERF = re.compile(r"Kerf of the (.+): (.+)\.")


def kerfs_of(made: Matter) -> dict[bool, int]:
    """Read the kerfs off the cover, that of the table saw under ``True``."""
    found = (KERF.match(said) for said in assumptions(made))
    unit = made.style.unit
    read = {one[1]: one[2].rpartition("exactly ")[2] for one in found if one is not None}
    return {saw == "table saw": parse_length(kerf, unit) for saw, kerf in read.items()}


def reader_of(made: Matter) -> Reader:
    """Return someone with the pages of a job and its sheets."""
    sheets = {sheet.id: (sheet.length, sheet.width) for sheet in made.plan.sheets}
    clamped = made.job.shop.runs_on is RunsOn.STRAIGHTEDGE
    return Reader(made.style.unit, kerfs_of(made), sheets, base=clamped)
