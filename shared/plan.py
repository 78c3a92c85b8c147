"""A plan: sheets, placements, numbered cuts, offcuts and proof; as in ``plan.json``.

Coordinates are ticks in the frame of `shared.geometry`, measured from the corner of
the untrimmed sheet. A plan is made by the solver or from a hand layout, and shown,
saved or printed only after `shared.saw` has sawn it.
"""

from dataclasses import dataclass, field
from enum import StrEnum

from shared.geometry import Rect
from shared.lengths import TICK_NM, Length
from shared.parts import Copy, GrainRule
from shared.shop import CutRule, Shop
from shared.stock import NoGo, SheetGrain, Trims
from shared.tree import Run

FORMAT = "ripfirst-plan"
VERSION = 2
"""Version 1 held neither the shop nor matched sets, nor what the sheets count."""


class CutKind(StrEnum):
    """What a cut is for."""

    TRIM = "trim"
    """Makes a reference edge; what falls away is waste."""
    RIP = "rip"
    CROSSCUT = "crosscut"
    LAST_TRIM = "last trim"
    """A cut of level 4 or deeper behind which no part is left: it brings a part to size."""
    FINISH = "finish"
    """Brings a blank to its final size, at the table saw or once a fit part is measured."""


class Keep(StrEnum):
    """Which side of the kerf is kept as the piece that was wanted."""

    NEAR = "near"
    """The side towards the reference edge or end."""
    FAR = "far"

    @property
    def other(self) -> "Keep":
        """The side across the kerf."""
        return Keep.FAR if self is Keep.NEAR else Keep.NEAR


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanPart:
    """A part as the saw sees it: cut size, number, material, grain rule and match group.

    ``length`` and ``width`` are those of what is sawn from the sheet, of a blank its own;
    ``sawn_length`` and ``sawn_width`` those after the last cut. ``waits`` says that the last
    cuts of a fit part stay open, ``show`` that its face is shown.
    """

    id: str
    name: str
    length: Length
    width: Length
    copies: int
    material: str
    grain_rule: GrainRule
    group: str = ""
    sawn_length: Length = 0
    sawn_width: Length = 0
    waits: bool = False
    show: bool = False
    allowance: Length = 0
    oversize: Length = 0

    @property
    def final(self) -> tuple[Length, Length]:
        """Length and width after the last cut, in ticks."""
        return self.sawn_length or self.length, self.sawn_width or self.width

    @property
    def is_blank(self) -> bool:
        """Whether cuts bring it to size after it is sawn from its sheet."""
        return self.final != (self.length, self.width)


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanSheet:
    """One sheet lying on the sawhorses.

    ``id`` is its number on screen and paper ("1", "2", ...) and the name of the piece
    it is before the first cut; of a piece of an earlier sheet it is the piece's name, and
    ``named`` pieces have been sawn off it before: such a ``piece`` counts as no sheet.
    ``tree`` is the tree of cuts the sequence follows. ``density`` is in kg/m3, 0 when it is not
    known. ``price`` is in hundredths, 0 where it costs nothing or nobody gave any; ``cost`` is
    what it counts where the cost is made least: hundredths, or with ``by_area`` square
    millimetres. One that ``stays`` is begun or kept as it lay: the shop's limits, which may have
    changed since, are not held against it. ``off_rule`` says that its cuts are of deeper levels
    than the plan's rule, or begin in another direction: it was laid by hand or around bad
    places, parts a matched set, or the rails take no other.
    """

    id: str
    stock: str
    name: str
    material: str
    thickness: Length
    length: Length
    width: Length
    grain: SheetGrain
    trims: Trims
    price: int = 0
    density: int = 0
    no_go: tuple[NoGo, ...] = ()
    named: int = 0
    piece: bool = False
    cost: int = 0
    by_area: bool = False
    stays: bool = False
    off_rule: bool = False
    tree: Run | None = None

    @property
    def rect(self) -> Rect:
        """The untrimmed sheet in its own frame."""
        return Rect(x=0, y=0, length=self.length, width=self.width)


@dataclass(frozen=True, slots=True, kw_only=True)
class Placement:
    """A copy of a part on a sheet: corner, and extents as it lies.

    ``copy`` counts from 1 to the part's number of copies.
    """

    part: str
    copy: int
    sheet: str
    x: Length
    y: Length
    length: Length
    width: Length
    turned: bool = False

    @property
    def key(self) -> Copy:
        """Which copy it is."""
        return self.part, self.copy

    @property
    def rect(self) -> Rect:
        """Its rectangle in the sheet's frame."""
        return Rect(x=self.x, y=self.y, length=self.length, width=self.width)


@dataclass(frozen=True, slots=True, kw_only=True)
class Cut:
    """One pass of the saw through one piece.

    Attributes
    ----------
    number
        In sawing order over all sheets of the plan, from the plan's first number on.
    sheet, kind, level, tool, kerf
        Where, what for, how deep in the tree (1 to 4; more inside the block of a match
        group and on hand layouts), with what.
    x, y, length, width
        The rectangle the saw turns to dust, clipped to the piece (a skim is narrower
        than the kerf).
    piece
        Name of the piece that is cut. What is left of it keeps this name.
    off
        Name of the piece sawn off; ``""`` when what falls away at a trim is waste.
    setup
        Key of the set-up: same key, same tool and guide or stop size.
    running
        Where the keep side lies, from the trimmed reference edge (or end) of the whole
        sheet, in ticks.
    size
        What is set at the guide or stop: the sawn-off piece's size, or, for a trim, the
        stock taken off the factory edge, kerf included.
    keep
        Which side of the kerf the wanted piece lies on.
    key
        Says what is sawn off, whatever the order: as in `shared.cuts.forest`.
    """

    number: int
    sheet: str
    kind: CutKind
    level: int
    tool: str
    kerf: Length
    x: Length
    y: Length
    length: Length
    width: Length
    piece: str
    off: str
    setup: str
    running: Length
    size: Length
    keep: Keep
    key: str = ""

    @property
    def rect(self) -> Rect:
        """What becomes dust, in the sheet's frame."""
        return Rect(x=self.x, y=self.y, length=self.length, width=self.width)


@dataclass(frozen=True, slots=True, kw_only=True)
class Offcut:
    """A piece that is no part when all cuts are made; ``keep`` when worth labelling."""

    sheet: str
    piece: str
    x: Length
    y: Length
    length: Length
    width: Length
    keep: bool

    @property
    def rect(self) -> Rect:
        """Its rectangle in the sheet's frame."""
        return Rect(x=self.x, y=self.y, length=self.length, width=self.width)


class Goal(StrEnum):
    """What a proof is about."""

    FEWEST_SHEETS = "fewest sheets"
    LEAST_PRICE = "least price"
    """Values in hundredths of the maker's currency."""
    LEAST_COST = "least cost"
    """The same, but some of it reckoned by area, or not all materials have prices: nobody gave
    such values as money, so they are not shown as money."""
    LEAST_AREA = "least area"
    """Values in square millimetres of the sheets that have to be bought: there are no prices."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MaterialProof:
    """Value reached and proven bound for the sheets of one material.

    ``least_cuts`` is how many cuts every plan of the proven value takes under the same
    rule; 0 when nothing is known. ``least_sawing`` says that no such plan takes less sawing
    time, ``best_remainder`` that none of these leaves a larger offcut worth keeping.
    """

    material: str
    goal: Goal
    value: int
    bound: int
    proven: bool
    least_cuts: int = 0
    least_sawing: bool = False
    best_remainder: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Proof:
    """How good the plan is, and for which rule that was shown.

    ``value`` and ``bound`` are sums over the materials in units of ``goal``, of those that have
    prices where not all do; ``proven`` holds only if every material is; ``rule`` says in words
    which rule was solved, ``prices`` which prices it rests on where not all were given.
    """

    goal: Goal = Goal.FEWEST_SHEETS
    value: int = 0
    bound: int = 0
    proven: bool = False
    rule: str = ""
    prices: str = ""
    materials: tuple[MaterialProof, ...] = ()

    @property
    def least_cuts(self) -> int:
        """Cuts that every plan of the proven value takes; 0 unless known of each material."""
        least = [one.least_cuts for one in self.materials]
        return sum(least) if self.proven and all(least) else 0


ASIDE = "set aside"
"""Stands for a need where the maker set copies aside: they need nothing."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Unplaced:
    """Copies of a part that no stock at hand can give, and what they would need."""

    part: str
    copies: int
    need: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Finished:
    """A copy of a part that was sawn before this plan was made."""

    part: str
    copy: int

    @property
    def key(self) -> Copy:
        """Which copy it is."""
        return self.part, self.copy


class BlockTurn(StrEnum):
    """How a block of a matched set lies; a quarter turn is a turn of all its parts together."""

    STRAIGHT = "straight"
    """Rows run along x, the first nearest to the reference edge."""
    LEFT = "turned left"
    """Rows run towards the reference edge, the first nearest to the reference end."""
    RIGHT = "turned right"
    """Rows run away from the reference edge, the first farthest from the reference end."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MatchedCopy:
    """A member of a matched set."""

    part: str
    copy: int

    @property
    def key(self) -> Copy:
        """Which copy it is."""
        return self.part, self.copy


@dataclass(frozen=True, slots=True, kw_only=True)
class MatchedBlock:
    """Members across which the figure runs on: neighbours, one kerf between them."""

    sheet: str
    way: BlockTurn
    copies: tuple[MatchedCopy, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class MatchedSet:
    """A match group as it lies: the blocks between which its figure breaks.

    All copies of the parts of the group are its members, in the order of the parts, so many
    ``columns`` in a row. ``blocks`` hold those that lie on sheets, in the order of their first
    members; a member that lies alone is a block by itself.
    """

    name: str
    columns: int
    blocks: tuple[MatchedBlock, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """A whole job, laid out and sequenced.

    ``first`` is the number of its first cut, more than 1 when some were made before;
    ``finished`` are the copies those made. ``shop`` and ``rule`` are what it was made for,
    ``None`` where that is not known; then nothing is known of ``matches`` either.
    """

    format: str = FORMAT
    version: int = VERSION
    tick_nm: int = TICK_NM
    name: str = ""
    parts: tuple[PlanPart, ...] = ()
    sheets: tuple[PlanSheet, ...] = ()
    placements: tuple[Placement, ...] = ()
    cuts: tuple[Cut, ...] = ()
    offcuts: tuple[Offcut, ...] = ()
    proof: Proof = field(default_factory=Proof)
    unplaced: tuple[Unplaced, ...] = ()
    first: int = 1
    finished: tuple[Finished, ...] = ()
    shop: Shop | None = None
    rule: CutRule | None = None
    matches: tuple[MatchedSet, ...] = ()

    def cut(self, number: int) -> Cut:
        """Return the cut of that number; IndexError if there is none."""
        if number < self.first:
            raise IndexError(f"there is no cut {number}")
        return self.cuts[number - self.first]

    def has_cut(self, number: int | None) -> bool:
        """Say whether there is a cut of that number."""
        return number is not None and 0 <= number - self.first < len(self.cuts)

    def cuts_of(self, material: str) -> int:
        """Count the cuts of the sheets of one material."""
        sheets = {sheet.id for sheet in self.sheets if sheet.material == material}
        return sum(cut.sheet in sheets for cut in self.cuts)
