"""Situations at the saw in plain figures, each with what has to be minded and who says so.

Lengths in mm, weights by density in kg/m3; the shop is the usual one (rail 180 mm wide, carries
from 100 mm, hold from 300 mm, guide 150 to 610, stop to 1200, 23 kg lifted and 46 kg turned).
What is written here is a maker's judgement, made before the rules were run over it.
"""

from dataclasses import dataclass, field, replace
from typing import Any

from shared.lengths import MM, Unit
from shared.making.hazards import Sort, hazards_of
from shared.making.lifting import Moved
from shared.making.record import Bed, CutRecord, RailLaid, Way
from shared.making.recording import records
from shared.making.settings import Device
from shared.plan import Cut, CutKind, Keep, Offcut, Plan, PlanSheet
from shared.practice import USUAL_SHOP, USUAL_TABLE, usual_base
from shared.shop import Axis, Rail, RunsOn, Shop, Support
from shared.stock import SheetGrain, Trims

D, H = Sort.DANGER, Sort.HANDLING
KERF = 2.2
RAILS = "guide-rail manuals: a rail 250 mm (10 in) longer than the cut"
SUPPORTED = "saw manuals: large panels sag; support both sides near the line"
PUSHED = "table-saw manuals: a push stick under 6 in wide or 12 in long"
FENCED = "table-saw manuals: no freehand cut, no crosscut against the fence"
NIOSH = "NIOSH, as OSHA quotes it: 23 kg (51 lb) in the best case"
PRACTICE = "common practice"


@dataclass(frozen=True, slots=True, kw_only=True)
class Situation:
    """One cut: its piece, how it is led, and what has to be minded, by code."""

    what: str
    source: str
    expect: dict[str, Sort]
    piece: tuple[float, float, float] = (2440, 1220, 18)
    density: int = 0
    material: str = "ply"
    axis: Axis = Axis.RIP
    size: float = 600
    kind: CutKind = CutKind.RIP
    rail: float = 0
    """Length of the rail laid; 0 for one that reaches 125 beyond the cut at each end."""
    joined: int = 1
    way: Way = Way.RAIL
    bed: Bed = Bed.KEEP
    device: Device = Device.GUIDE
    moved: Moved = Moved.NOTHING
    turn_over: bool = False
    ends: bool = False
    """Whether what is cut is finished by it, and carried away."""
    shop: dict[str, Any] = field(default_factory=dict)

    @property
    def uses(self) -> Shop:
        """The shop it is in, with the rail that is laid as its only one."""
        length = round(max(self.piece) * MM) + 250 * MM if not self.rail else round(self.rail * MM)
        rail = Rail(length=length // self.joined, joined=self.joined, count=self.joined)
        return replace(USUAL_SHOP, table=USUAL_TABLE, rails=(rail,), **self.shop)

    @property
    def record(self) -> CutRecord:
        """Its record: one cut of a sheet as large as the piece, led as the situation says."""
        (made,) = records((_plan(self),), self.uses)
        setting = replace(made.setting, device=self.device, size=round(self.size * MM))
        made = replace(
            made,
            way=self.way,
            bed=self.bed,
            setting=setting,
            moved=self.moved,
            turn_over=self.turn_over,
            rail=self._laid(made),
        )
        return replace(made, find_hazards=lambda one: hazards_of(one, self.uses))

    def _laid(self, made: CutRecord) -> RailLaid | None:
        """Half of what is over stands free at each end."""
        if self.way in {Way.FENCE, Way.EDGE_GUIDE}:
            return None
        assert made.rail is not None
        over = round(self.rail * MM) - made.length if self.rail else 250 * MM
        half, enough = over // 2, over >= 250 * MM
        return replace(made.rail, run_up=half, run_out=over - half, enough=enough)


def _plan(one: Situation) -> Plan:
    length, width, thick = (round(side * MM) for side in one.piece)
    size, kerf = round(one.size * MM), round(KERF * MM)
    rips, trims = one.axis is Axis.RIP, one.kind is CutKind.TRIM
    whole = width if rips else length
    start = size - kerf if trims else size
    dust = min(kerf, whole - start)
    cut = Cut(
        number=1,
        sheet="1",
        kind=one.kind,
        level=1,
        tool="saw",
        kerf=kerf,
        x=0 if rips else start,
        y=start if rips else 0,
        length=length if rips else dust,
        width=dust if rips else width,
        piece="1",
        off="" if trims else "1a",
        setup="",
        running=size,
        size=size,
        keep=Keep.FAR if trims else Keep.NEAR,
    )
    sheet = PlanSheet(
        id="1",
        stock="s",
        name=one.material,
        material=one.material,
        thickness=thick,
        length=length,
        width=width,
        grain=SheetGrain.NONE,
        trims=Trims(),
        density=one.density,
    )
    kept = Offcut(
        sheet="1",
        piece="1a",
        x=0,
        y=0,
        length=length if rips else start,
        width=start if rips else width,
        keep=True,
    )
    return Plan(sheets=(sheet,), cuts=(cut,), offcuts=(kept,) if one.ends else ())


TABLE: dict[str, Any] = {"way": Way.FENCE, "bed": Bed.NONE, "device": Device.FENCE}
ACROSS: dict[str, Any] = {"axis": Axis.CROSSCUT, "kind": CutKind.CROSSCUT, "device": Device.STOP}
TRIM: dict[str, Any] = {"kind": CutKind.TRIM, "device": Device.MARK}
LAID, TURNED = Moved.LAID, Moved.TURNED

SITUATIONS = (
    Situation(
        what="a birch sheet of 36 kg is laid on and trimmed",
        source=NIOSH,
        density=680,
        size=10,
        moved=LAID,
        expect={"heavy": D, "drops": H},
        **TRIM,
    ),
    Situation(
        what="an MDF sheet of 41 kg is laid on",
        source=f"{NIOSH}; NIOSH and IARC on wood dust",
        density=769,
        material="MDF 18",
        moved=LAID,
        expect={"heavy": D, "dust": H},
    ),
    Situation(
        what="the next rip of a birch sheet that lies there already",
        source=NIOSH,
        density=680,
        expect={},
    ),
    Situation(
        what="a chipboard of 69 kg is turned on the horses",
        source=f"{PRACTICE}: a board too heavy to turn alone",
        piece=(2800, 2070, 18),
        density=660,
        moved=TURNED,
        rail=2700,
        size=900,
        expect={"turn": D},
        **ACROSS,
    ),
    Situation(
        what="a birch sheet of 36 kg, which can be turned alone with one end down, is turned",
        source=NIOSH,
        density=680,
        moved=TURNED,
        expect={"turn-heavy": D},
        **ACROSS,
    ),
    Situation(
        what="a sheet of 21 kg is turned",
        source=f"{PRACTICE}: room to turn",
        piece=(2440, 1220, 12),
        density=600,
        moved=TURNED,
        expect={"large-turn": H},
        **ACROSS,
    ),
    Situation(
        what="a rip frees a finished panel of 26.9 kg",
        source=NIOSH,
        density=680,
        size=900,
        ends=True,
        expect={"carry-away": D, "unguided": H},
        device=Device.BOTH_ENDS,
    ),
    Situation(
        what="a rip frees a finished strip of 17.9 kg",
        source=NIOSH,
        density=680,
        size=600,
        ends=True,
        expect={},
    ),
    Situation(
        what="a piece of 250 x 120 under a rail of 1400",
        source=f"{PRACTICE}: 300 mm (12 in) to hold; a rail end with nothing under it tips",
        piece=(250, 120, 18),
        size=100,
        rail=1400,
        expect={"small": D, "free-rail": D, "narrow-bed": H},
        **ACROSS,
    ),
    Situation(
        what="a piece of 305 x 250 parted into two short ones",
        source=f"{PRACTICE}: the last cut leaves something to hold",
        piece=(305, 250, 18),
        size=150,
        rail=1400,
        expect={"small-side": D, "free-rail": D, "narrow-bed": H},
        **ACROSS,
    ),
    Situation(
        what="a strip of 424 crosscut on a rail of 1400, 488 free at each end",
        source=f"{PRACTICE}: scrap of the same thickness under both rail ends",
        piece=(1800, 424, 18),
        rail=1400,
        expect={"long-rail": H},
        **ACROSS,
    ),
    Situation(
        what="a strip of 170, less than a rail is wide, on a rail of 1400",
        source=f"{PRACTICE}: a rail is about 180 mm wide; it tips lengthways, too",
        piece=(1800, 170, 18),
        size=400,
        rail=1400,
        expect={"free-rail": D},
        **ACROSS,
    ),
    Situation(
        what="a strip of 190, more than a rail is wide, on a rail of 1400",
        source=f"{PRACTICE}: scrap of the same thickness under both rail ends",
        piece=(1800, 190, 18),
        size=400,
        rail=1400,
        expect={"long-rail": H},
        **ACROSS,
    ),
    Situation(
        what="a rail of 2700 in hand on a strip of 500",
        source=f"{PRACTICE}: scrap of the same thickness under both rail ends",
        piece=(1800, 500, 18),
        rail=2700,
        expect={"long-rail": H},
        **ACROSS,
    ),
    Situation(
        what="a piece 100 wide carries a rail with 976 of it free",
        source=f"{PRACTICE}: a rail is about 180 mm wide; it tips both ways",
        piece=(1200, 424, 18),
        size=100,
        rail=1400,
        expect={"free-rail": D, "narrow-bed": H},
        **ACROSS,
    ),
    Situation(
        what="a strip of 900 on a rail of 1400, which rests by two thirds",
        source=PRACTICE,
        piece=(1800, 900, 18),
        rail=1400,
        expect={},
        **ACROSS,
    ),
    Situation(
        what="a rail of 1400 over 1220, where 1470 is asked for",
        source=RAILS,
        rail=1400,
        expect={"overhang": D},
        **ACROSS,
    ),
    Situation(
        what="a rail of 2700 over 2440: as long as is asked for",
        source=RAILS,
        rail=2700,
        expect={},
    ),
    Situation(
        what="a rail of 2500 over 2440",
        source=RAILS,
        rail=2500,
        expect={"overhang": D},
    ),
    Situation(
        what="a rail of 2000 over 2440",
        source=RAILS,
        rail=2000,
        expect={"no-rail": D},
    ),
    Situation(
        what="two rails of 1400 joined over 2440",
        source=f"{PRACTICE}: a kinked joint shows on the edge",
        rail=2800,
        joined=2,
        expect={"joined": H},
    ),
    Situation(
        what="a strip of 90 kept of a wide piece, the rail on the other side",
        source="saw manuals: long narrow strips twist and close the kerf",
        piece=(2440, 500, 18),
        size=90,
        bed=Bed.WASTE,
        device=Device.MARK,
        expect={"twist": D, "narrow-keep": H},
    ),
    Situation(
        what="a strip of 90 kept, 77.8 left: neither carries the rail",
        source=f"{PRACTICE}: pack behind with scrap of the same thickness",
        piece=(2440, 170, 18),
        size=90,
        bed=Bed.PACKED,
        device=Device.MARK,
        expect={"packed": D, "twist": D},
    ),
    Situation(
        what="a rip of 400 of 800",
        source=PRACTICE,
        piece=(2440, 800, 18),
        size=400,
        expect={},
    ),
    Situation(
        what="a rip that leaves a strip of 40",
        source="saw manuals: long narrow strips twist and close the kerf",
        piece=(2440, 642.2, 18),
        size=600,
        expect={"twist": D},
    ),
    Situation(
        what="a strip of 50 from a piece only 900 long: too short to twist",
        source=PRACTICE,
        piece=(900, 500, 18),
        size=50,
        bed=Bed.WASTE,
        device=Device.MARK,
        expect={"narrow-keep": H},
    ),
    Situation(
        what="a trim of 10: its sliver bends away, closes nothing, and drops",
        source=f"{PRACTICE}: never catch what falls at the saw",
        size=10,
        expect={"drops": H},
        **TRIM,
    ),
    Situation(
        what="a trim of 40: its strip is stiff enough to twist, so it is carried",
        source="saw manuals: long narrow strips twist and close the kerf",
        size=40,
        expect={"twist": D},
        **TRIM,
    ),
    Situation(
        what="a trim of 10 on foam: nothing drops",
        source=PRACTICE,
        size=10,
        shop={"support": Support.FOAM},
        expect={},
        **TRIM,
    ),
    Situation(
        what="a part of 250 from a strip that can be held: it is small when it comes free",
        source=f"{PRACTICE}: 300 mm (12 in) to hold, on each side",
        piece=(1800, 280, 18),
        size=250,
        rail=530,
        expect={"small-side": D},
        **ACROSS,
    ),
    Situation(
        what="508 x 176, 133 kept: all of it is under a rail 180 wide",
        source=f"{PRACTICE}: hands 150 mm from the blade, so nothing is left to hold",
        piece=(508, 176, 18),
        size=133,
        device=Device.BOTH_ENDS,
        expect={"covered": D, "narrow-bed": H, "unguided": H},
    ),
    Situation(
        what="2440 x 171, 159 kept: all of a long strip is under a rail 180 wide",
        source=f"{PRACTICE}: hands 150 mm from the blade, so nothing is left to hold",
        piece=(2440, 171, 18),
        size=159,
        device=Device.BOTH_ENDS,
        expect={"covered": D, "twist": D, "narrow-bed": H, "unguided": H},
    ),
    Situation(
        what="2440 x 200, 185 kept: a hand finds no room, but it is as wide as its rail",
        source=f"{PRACTICE}: a long piece as wide as its rail does not rock under it",
        piece=(2440, 200, 18),
        size=185,
        device=Device.BOTH_ENDS,
        expect={"unguided": H},
    ),
    Situation(
        what="a rail of 2700 over 1830: 435 are free at each end, though two thirds rest",
        source=f"{PRACTICE}: scrap of the same thickness under both rail ends",
        piece=(1830, 600, 18),
        size=300,
        rail=2700,
        expect={"long-rail": H},
    ),
    Situation(
        what="a trim of 4 with a kerf of 2.2",
        source=f"{PRACTICE}: a trim takes the kerf and about 2 mm",
        size=4,
        expect={"thin-trim": H, "drops": H},
        **TRIM,
    ),
    Situation(
        what="600 of 601.5: the blade takes all that is left",
        source=f"{PRACTICE}: a skim cut rides half in air",
        piece=(2440, 601.5, 18),
        expect={"skim": H},
    ),
    Situation(
        what="a sheet of 6 mm laid on sawhorses",
        source=SUPPORTED,
        piece=(2440, 1220, 6),
        density=680,
        moved=LAID,
        expect={"sag": D},
    ),
    Situation(
        what="a sheet of 6 mm laid on foam",
        source=SUPPORTED,
        piece=(2440, 1220, 6),
        density=680,
        moved=LAID,
        shop={"support": Support.FOAM},
        expect={},
    ),
    Situation(
        what="a sheet of 6 mm laid on a slatted grid",
        source=SUPPORTED,
        piece=(2440, 1220, 6),
        density=680,
        moved=LAID,
        shop={"support": Support.GRID},
        expect={},
    ),
    Situation(
        what="a short piece of 6 mm laid on sawhorses",
        source=SUPPORTED,
        piece=(700, 400, 6),
        size=200,
        moved=LAID,
        expect={},
    ),
    Situation(
        what="a rip of 700 with a guide to 610",
        source=f"{PRACTICE}: guides reach 610 mm (24 in)",
        size=700,
        device=Device.BOTH_ENDS,
        expect={"unguided": H},
    ),
    Situation(
        what="a crosscut at 1754 with a stop to 1200",
        source=f"{PRACTICE}: beyond the stop a size is marked at both ends",
        size=1754.2,
        expect={"unguided": H},
        **(ACROSS | {"device": Device.BOTH_ENDS}),
    ),
    Situation(
        what="140 kept with the rail on the other side, out of the guide's way",
        source=f"{PRACTICE}: a guide sizes what lies under its rail",
        piece=(900, 500, 18),
        size=140,
        bed=Bed.WASTE,
        device=Device.BOTH_ENDS,
        expect={"narrow-keep": H},
    ),
    Situation(
        what="150 kept under a rail 180 wide, less on the other side",
        source=f"{PRACTICE}: pack scrap beside a piece narrower than the rail",
        piece=(900, 290, 18),
        size=150,
        expect={"covered": D, "narrow-bed": H},
    ),
    Situation(
        what="a rip of 60 at the table saw",
        source=PUSHED,
        piece=(900, 300, 18),
        size=60,
        expect={"table": D, "push-stick": D},
        **TABLE,
    ),
    Situation(
        what="a rip of 200 at the table saw",
        source="table-saw manuals: riving knife and guard",
        piece=(900, 420, 18),
        size=200,
        expect={"table": D},
        **TABLE,
    ),
    Situation(
        what="a crosscut of 400 at the table saw",
        source=FENCED,
        piece=(900, 310, 18),
        size=400,
        expect={"table": D, "table-crosscut": D},
        **(ACROSS | TABLE),
    ),
    Situation(
        what="a piece 250 along the fence and 400 wide",
        source=f"{FENCED}; {PUSHED}",
        piece=(250, 400, 18),
        size=200,
        expect={"table": D, "table-short": D, "push-stick": D},
        **TABLE,
    ),
    Situation(
        what="a piece of 2000 x 500 at a table saw where 1200 can be handled",
        source=f"{PRACTICE}: what one person can handle there",
        piece=(2000, 500, 18),
        size=200,
        expect={"table": D, "table-large": D},
        **TABLE,
    ),
    Situation(
        what="a rip at the table saw that leaves a sliver of 4",
        source="table-saw manuals: slivers are thrown back",
        piece=(900, 206.2, 18),
        size=200,
        expect={"table": D, "sliver": D},
        **TABLE,
    ),
    Situation(
        what="a size of 700 with a fence to 610",
        source=FENCED,
        piece=(1100, 900, 18),
        size=700,
        expect={"table": D, "fence": D, "table-large": D},
        **TABLE,
    ),
    Situation(
        what="a circular saw along a clamped straightedge, long enough",
        source=f"{PRACTICE}: clamped at both ends, base flat",
        piece=(1800, 900, 18),
        rail=1900,
        way=Way.STRAIGHTEDGE,
        expect={"straightedge": H},
        **ACROSS,
    ),
    Situation(
        what="a circular saw along a straightedge only 100 longer than the cut",
        source=f"{PRACTICE}: one base length at each end",
        piece=(1800, 900, 18),
        rail=1000,
        way=Way.STRAIGHTEDGE,
        expect={"overhang": D, "straightedge": H},
        **ACROSS,
    ),
    Situation(
        what="a straightedge across a strip of 90, under a base of 280",
        source=f"{PRACTICE}: base and clamps want room on the piece",
        piece=(1800, 90, 18),
        rail=1400,
        way=Way.STRAIGHTEDGE,
        shop={"base": usual_base(Unit.MM, round(KERF * MM))},
        expect={"short-for-base": D},
        **ACROSS,
    ),
    Situation(
        what="an edge guide along a sawn edge",
        source=f"{PRACTICE}: a bowed edge is copied",
        piece=(900, 500, 18),
        size=200,
        way=Way.EDGE_GUIDE,
        bed=Bed.NONE,
        expect={"edge-guide": H},
    ),
    Situation(
        what="a trim of 8: the narrow side of the base, 38, is on the piece, the rest in the air",
        source=f"{PRACTICE}: the base has to rest on both sides of the blade",
        piece=(1800, 900, 18),
        size=8,
        kind=CutKind.TRIM,
        rail=2400,
        way=Way.STRAIGHTEDGE,
        shop={"base": usual_base(Unit.MM, round(KERF * MM)), "runs_on": RunsOn.STRAIGHTEDGE},
        expect={"base-off": D, "straightedge": H, "drops": H},
    ),
    Situation(
        what="an edge guide on a piece of 153, under a base of 167",
        source=f"{PRACTICE}: the base has to rest on both sides of the blade",
        piece=(600, 153, 18),
        size=120,
        way=Way.EDGE_GUIDE,
        bed=Bed.NONE,
        shop={"base": usual_base(Unit.MM, round(KERF * MM))},
        expect={"narrow-for-base": D, "edge-guide": H},
    ),
    Situation(
        what="a piece of 8 kg is turned over",
        source=f"{PRACTICE}: left and right change places",
        piece=(1200, 500, 18),
        density=680,
        moved=TURNED,
        turn_over=True,
        expect={"turned-over": H},
        size=200,
    ),
    Situation(
        what="board without grain of 769 kg/m3, whatever its name",
        source="NIOSH and IARC on wood dust; published density of MDF",
        material="white board",
        density=769,
        piece=(900, 500, 18),
        size=200,
        expect={"dust": H},
    ),
)
