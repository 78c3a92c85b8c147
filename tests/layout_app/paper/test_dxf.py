"""DXF read back by ezdxf: sound, true to size, on its layers, whatever parts are called."""

import builtins
import os
import subprocess
import sys
from collections import Counter
from dataclasses import replace
from io import BytesIO, StringIO
from math import hypot
from typing import Any

import ezdxf
import ezdxf.bbox
import ezdxf.colors
import pytest
from ezdxf import recover
from ezdxf.document import Drawing
from ezdxf.entities import Circle, LWPolyline, Text
from ezdxf.math import Vec3

from layout_app.paper import ink
from layout_app.paper.dxf import _LAYER_OF, LAYERS, MissingExtraError, dxf_words, sheet_dxf
from layout_app.paper.matter import Matter, matter_of
from layout_app.paper.pens import PaperHand
from layout_app.paper.plain import one_line
from layout_app.paper.titled import titled
from shared.drawing import Role, SheetDrawing, draw_loose
from shared.geometry import Rect
from shared.layout import LayoutSheet
from shared.lengths import INCH, MM
from shared.plan import Placement, Plan
from shared.stock import NoGo
from tests.layout_app.paper.full_sheet import full_matter
from tests.layout_app.paper.matters import HOSTILE, hostile_matter

Quad = tuple[float, float, float, float]


@pytest.fixture(scope="module")
def matter() -> Matter:
    """A plan with hostile names."""
    return hostile_matter()


@pytest.fixture(scope="module", params=[0, 1])
def drawing(request: pytest.FixtureRequest, matter: Matter) -> SheetDrawing:
    """Its first and second sheet."""
    found = matter.drawings[request.param]
    assert isinstance(found, SheetDrawing)
    return found


@pytest.fixture(scope="module")
def read(drawing: SheetDrawing, matter: Matter) -> Drawing:
    """The file as ezdxf reads it."""
    return ezdxf.read(StringIO(sheet_dxf(drawing, matter)))


def boxes_on(document: Drawing, layer: str) -> list[Quad]:
    """Return left, bottom, right and top of each closed outline of a layer, in mm."""
    found = document.modelspace().query(f'LWPOLYLINE[layer=="{layer}"]')
    closed = [one for one in found if isinstance(one, LWPolyline) and one.closed]
    for one in closed:
        assert len(one) == 4
    return [_box([(x, y) for x, y, *_ in one.get_points()]) for one in closed]


def _box(points: list[tuple[float, float]]) -> Quad:
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return min(xs), min(ys), max(xs), max(ys)


def flipped(rect: Rect, sheet: Rect) -> Quad:
    """Return a rectangle of the plan in mm with y up from the sheet's lower left corner."""
    top = sheet.width - rect.y
    return rect.x / MM, (top - rect.width) / MM, rect.right / MM, top / MM


def alike(found: list[Quad], wanted: list[Quad]) -> None:
    """Compare rectangles in any order, to 0.01 mm."""
    assert len(found) == len(wanted)
    for one, other in zip(sorted(found), sorted(wanted), strict=True):
        assert one == pytest.approx(other, abs=0.01)


def texts(document: Drawing) -> list[Text]:
    """Return all texts of a file."""
    return [one for one in document.modelspace().query("TEXT") if isinstance(one, Text)]


def test_the_audit_finds_no_error(drawing: SheetDrawing, matter: Matter) -> None:
    """Neither the strict reader nor the one that mends files has anything to mend."""
    written = sheet_dxf(drawing, matter)
    audit = ezdxf.read(StringIO(written)).audit()
    assert not audit.errors
    assert not audit.fixes
    _, mended = recover.read(BytesIO(written.encode()))
    assert not mended.errors
    assert not mended.fixes


def test_it_is_in_millimetres(read: Drawing) -> None:
    """The header says millimetres (DXF reference: $INSUNITS 4), metric, R2010 (AC1024)."""
    assert read.header["$INSUNITS"] == 4
    assert read.header["$MEASUREMENT"] == 1
    assert read.dxfversion == "AC1024"


def test_every_part_reads_back(read: Drawing, drawing: SheetDrawing, matter: Matter) -> None:
    """Each placement of the plan is a closed outline on PARTS to 0.01 mm, y up."""
    blanks = [part.id for part in matter.plan.parts if part.is_blank]
    assert not blanks
    placed = [one for one in matter.plan.placements if one.sheet == drawing.sheet]
    assert len(placed) > 3
    alike(boxes_on(read, "PARTS"), [flipped(one.rect, drawing.rect) for one in placed])


def test_every_cut_reads_back(read: Drawing, drawing: SheetDrawing, matter: Matter) -> None:
    """The dust of each cut is an outline on CUTS, its number a text on NUMBERS."""
    cuts = [cut for cut in matter.plan.cuts if cut.sheet == drawing.sheet]
    alike(boxes_on(read, "CUTS"), [flipped(cut.rect, drawing.rect) for cut in cuts])
    numbers = [one.plain_text() for one in texts(read) if one.dxf.layer == "NUMBERS"]
    assert sorted(numbers) == sorted(str(cut.number) for cut in cuts)


def test_sheet_and_falls_read_back(read: Drawing, drawing: SheetDrawing, matter: Matter) -> None:
    """The sheet's lower left corner is the origin; each offcut is an outline on WASTE."""
    sheet = drawing.rect
    alike(boxes_on(read, "SHEET"), [(0, 0, sheet.length / MM, sheet.width / MM)])
    falls = [fall.rect for fall in matter.plan.offcuts if fall.sheet == drawing.sheet]
    trims = [box.rect for box in drawing.boxes if box.role is Role.TRIM]
    alike(boxes_on(read, "WASTE"), [flipped(rect, sheet) for rect in (*falls, *trims)])


def test_all_is_on_its_layers(read: Drawing) -> None:
    """Nothing is drawn elsewhere than on the eight layers, and none of them is empty."""
    used = Counter(entity.dxf.layer for entity in read.modelspace())
    wanted = {"SHEET", "GRAIN", "PARTS", "SIZES", "CUTS", "NUMBERS", "WASTE", "TITLE"}
    assert set(used) == set(LAYERS) == wanted
    for name, (width, _) in LAYERS.items():
        assert read.layers.get(name).dxf.lineweight == round(100 * width)


def test_the_header_says_how_far_all_reaches(read: Drawing) -> None:
    """All lies within ``$EXTMIN`` and ``$EXTMAX``, which are no farther out than words need."""
    found = ezdxf.bbox.extents(read.modelspace(), fast=True)
    least, most = Vec3(read.header["$EXTMIN"]), Vec3(read.header["$EXTMAX"])
    assert least.x <= found.extmin.x
    assert least.y <= found.extmin.y
    assert found.extmax.x <= most.x
    assert found.extmax.y <= most.y
    assert (most - least).magnitude < 1.25 * found.size.magnitude
    assert read.header["$LIMMIN"] == least.vec2
    assert read.header["$LIMMAX"] == most.vec2
    layout = read.modelspace().dxf
    assert (layout.extmin, layout.extmax) == (least, most)


def test_the_title_names_sheet_plan_and_day(
    read: Drawing, drawing: SheetDrawing, matter: Matter
) -> None:
    """All of it stands on TITLE."""
    said = [one.plain_text() for one in texts(read) if one.dxf.layer == "TITLE"]
    assert said[0].startswith(f"Sheet {drawing.sheet}: ")
    assert matter.identity in said


LEAST_CONTRAST = 3.0
"""Of lines and signs with their ground (WCAG 2.2, 1.4.11)."""


def luminance(rgb: tuple[int, int, int]) -> float:
    """Return the relative luminance of a colour (WCAG 2.2, definition)."""
    parts = [
        c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in (v / 255 for v in rgb)
    ]
    return 0.2126 * parts[0] + 0.7152 * parts[1] + 0.0722 * parts[2]


def test_layers_are_told_from_a_white_and_from_a_black_ground(read: Drawing) -> None:
    """Colour 7 turns with the ground; each other has 3 to 1 with both."""
    for name in LAYERS:
        colour = read.layers.get(name).color
        if colour == 7:
            continue
        own = luminance(ezdxf.colors.aci2rgb(colour))
        assert 1.05 / (own + 0.05) >= LEAST_CONTRAST, name
        assert (own + 0.05) / 0.05 >= LEAST_CONTRAST, name


def test_a_blank_is_dashed() -> None:
    """A part that is cut oversize has its blank dashed around it, of a line type that is loaded."""
    matter = full_matter()
    drawing = matter.drawings[0]
    document = ezdxf.read(StringIO(sheet_dxf(drawing, matter)))
    assert not document.audit().errors
    kind = document.linetypes.get("DASHED")
    assert kind.pattern_tags.tags
    dashed = [
        one for one in document.modelspace().query("LWPOLYLINE") if one.dxf.linetype == "DASHED"
    ]
    blanks = [box.rect for box in drawing.boxes if box.role is Role.BLANK]
    assert len(blanks) == 1
    found = [_box([(x, y) for x, y, *_ in one.get_points()]) for one in dashed]
    alike(found, [flipped(rect, drawing.rect) for rect in blanks])
    (whole,) = [one for one in matter.plan.placements if one.part == "t"]
    assert whole.rect == blanks[0]


def test_every_group_of_a_diagram_has_a_layer(drawing: SheetDrawing, matter: Matter) -> None:
    """No group is moved or scaled, and each is known by name."""
    made = titled(drawing, PaperHand(size=50.0), matter.style, matter.job)
    groups = [item for item in made.items if isinstance(item, ink.Group)]
    assert len(groups) == len(made.items) > 7
    assert {group.name for group in groups} <= set(_LAYER_OF)
    inner = [item for group in groups for item in group.items if isinstance(item, ink.Group)]
    for group in (*groups, *inner):
        assert (group.x, group.y, group.scale) == (0.0, 0.0, 1.0)


def test_words_are_legible_and_near_the_sheet(read: Drawing, drawing: SheetDrawing) -> None:
    """Capitals of words are at least a hundredth of the sheet's length, at most a twentieth."""
    long = drawing.rect.length / MM
    found = [one for one in texts(read) if one.dxf.layer == "SIZES"]
    assert len(found) > 10
    for one in found:
        assert long / 100 <= one.dxf.height <= long / 20
        assert -long / 5 <= one.dxf.align_point.x <= 1.2 * long
        assert one.dxf.rotation in {0, 90}


def test_the_same_plan_gives_the_same_text(drawing: SheetDrawing, matter: Matter) -> None:
    """Neither dates nor ids of the day get into it, nor what was drawn before."""
    first = sheet_dxf(drawing, matter)
    sheet_dxf(matter.drawings[0], matter)
    assert sheet_dxf(drawing, matter) == first


ALONE = """
import sys, hashlib
from layout_app.paper.dxf import sheet_dxf
from layout_app.paper.matter import matter_of
from shared.drawing import draw_loose
from shared.layout import LayoutSheet
from shared.plan import Plan
from tests.layout_app.small_job import small_job
sheet = draw_loose(small_job(), LayoutSheet(id="1", stock="full"))
text = sheet_dxf(sheet, matter_of(small_job(), Plan(), loose=(sheet,)))
print(hashlib.sha256(text.encode()).hexdigest())
"""


def test_another_run_of_the_program_gives_the_same_text() -> None:
    """Nothing depends on how Python happens to order its sets in a run."""
    made = {
        subprocess.run(
            [sys.executable, "-c", ALONE],
            check=True,
            capture_output=True,
            env={**os.environ, "PYTHONHASHSEED": seed},
        ).stdout
        for seed in ("1", "3", "4")
    }
    assert len(made) == 1


def test_a_leader_begins_at_the_rim_of_its_tag(read: Drawing) -> None:
    """No line goes through a number."""
    numbers = read.modelspace().query('*[layer=="NUMBERS"]')
    discs = [one for one in numbers if isinstance(one, Circle)]
    leaders = [one for one in numbers if isinstance(one, LWPolyline)]
    for leader in leaders:
        x, y, *_ = leader.get_points()[0]
        assert any(
            hypot(x - disc.dxf.center.x, y - disc.dxf.center.y)
            == pytest.approx(disc.dxf.radius, rel=1e-3)
            for disc in discs
        )
    assert discs


@pytest.mark.parametrize("name", HOSTILE)
def test_a_hostile_name_comes_back_as_typed(name: str, matter: Matter) -> None:
    """As the only part of a sheet its name is read on one line, codes not followed."""
    sheet = LayoutSheet(id="1", stock="a", placements=(_lying("p1"),))
    job = replace(
        matter.job, parts=tuple(replace(part, name=name) for part in matter.job.parts[1:2])
    )
    loose = draw_loose(job, sheet)
    empty = matter_of(job, Plan(), loose=(loose,))
    document = ezdxf.read(StringIO(sheet_dxf(loose, empty)))
    assert not document.audit().errors
    said = "".join("".join(one.plain_text().split()) for one in texts(document))
    assert "".join(one_line(name).split()) in said


def _lying(part: str) -> Placement:
    return Placement(part=part, copy=1, sheet="1", x=0, y=0, length=80 * INCH, width=40 * INCH)


@pytest.mark.parametrize(
    ("words", "spelled"),
    [
        ("50 %", "50 %"),
        ("%%c", "%%%%%%c"),
        ("a^J", "a^ J"),
        ("\\U+0041", "\\ U+0041"),
        ("a\\b", "a\\b"),
        ("a\nb", "a b"),
    ],
)
def test_codes_of_dxf_text_are_spelled_out(words: str, spelled: str) -> None:
    """``%%%`` is a percent sign and ``^`` with a space a caret (DXF reference)."""
    assert dxf_words(words) == spelled


def test_a_sheet_that_cannot_be_cut_says_so(matter: Matter) -> None:
    """Banner and bad places are drawn; there are no cuts."""
    row = replace(matter.job.stock[0], no_go=(NoGo(x=0, y=0, length=3 * INCH, width=2 * INCH),))
    job = replace(matter.job, stock=(row, *matter.job.stock[1:]))
    loose = draw_loose(
        job, LayoutSheet(id="9", stock="a", placements=(_lying("p1"),)), problem="Parts overlap."
    )
    lost = matter_of(job, Plan(), loose=(loose,))
    document = ezdxf.read(StringIO(sheet_dxf(loose, lost)))
    said = " ".join(one.plain_text() for one in texts(document))
    assert "NOT A WHOLE PLAN" in said
    assert "Parts overlap." in said
    assert not document.modelspace().query('*[layer=="CUTS"]')
    assert (0, 0, 3 * 25.4, 2 * 25.4) in [
        pytest.approx((left, row.width / MM - top, right, row.width / MM - bottom), abs=0.01)
        for left, bottom, right, top in boxes_on(document, "WASTE")
    ]


def test_a_missing_library_is_named(
    drawing: SheetDrawing, matter: Matter, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Without ezdxf one sentence says what to install."""
    real = builtins.__import__

    def without(name: str, *rest: Any, **named: Any) -> Any:
        if name.partition(".")[0] == "ezdxf":
            raise ImportError(name)
        return real(name, *rest, **named)

    monkeypatch.setattr(builtins, "__import__", without)
    with pytest.raises(MissingExtraError, match=r'pip install "ripfirst\[dxf\]"\.$'):
        sheet_dxf(drawing, matter)


def test_the_library_is_not_loaded_before_it_is_needed() -> None:
    """Importing the module does not import ezdxf."""
    code = "import sys, layout_app.paper.dxf; sys.exit('ezdxf' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
