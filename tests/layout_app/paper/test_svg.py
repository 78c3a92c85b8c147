"""The SVG drawing: true size, whole, legible, and the same to readers that are not ours."""

from dataclasses import replace
from fractions import Fraction
from io import StringIO
from xml.etree import ElementTree

import pytest
import svgelements
from lxml import etree
from PySide6.QtGui import QFont, QFontMetricsF

from layout_app.paper.millimetres import mm
from layout_app.paper.svg import document
from layout_app.paper.titled import drawing_page
from shared.drawing import draw_sheet
from shared.job import Job
from shared.lengths import INCH, MM, LengthStyle, Unit
from shared.parts import Part
from shared.plan import Plan
from shared.shop import Shop
from shared.stock import NoGo, Stock, Trims
from solver.budget.stop import Budget
from solver.run import run
from tests.layout_app.paper.full_sheet import full_matter

NS = {"svg": "http://www.w3.org/2000/svg"}
HOSTILE = "<script>alert(1)</script> & \"side\" 'B' \x00\x07 אב 🪚 " + "long " * 60


def written(plan: Plan, sheet: str, style: LengthStyle, job: Job) -> str:
    """Return one sheet of a plan as SVG at true size."""
    return document(drawing_page(draw_sheet(plan, sheet, style), style, job))


@pytest.fixture(scope="module")
def job() -> Job:
    """Shelves and ends from a 48 by 96 in sheet with trims; one name is hostile."""
    ply = "3/4 ply"
    return Job(
        name="Shelf <unit> & more",
        parts=(
            Part(id="a:1", name=HOSTILE, copies=2, length=72 * INCH, width=12 * INCH, material=ply),
            Part(id="b/2", name="Shelf", copies=5, length=30 * INCH, width=11 * INCH, material=ply),
            Part(id="c", name="Cleat", copies=4, length=30 * INCH, width=INCH, material=ply),
        ),
        stock=(
            Stock(
                id="s",
                name="4 × 8",
                material=ply,
                length=96 * INCH,
                width=48 * INCH,
                thickness=3 * INCH // 4,
                trims=Trims(near=INCH // 4, start=INCH // 4),
            ),
        ),
        shop=Shop(kerf=INCH // 8),
    )


@pytest.fixture(scope="module")
def plan(job: Job) -> Plan:
    """A plan of it."""
    plan = run(job, Budget(time_s=0.0), lambda _: None)
    assert plan is not None
    return plan


@pytest.fixture(scope="module")
def drawing(plan: Plan, job: Job) -> str:
    """Its first sheet as SVG."""
    return written(plan, "1", job.style, job)


def test_ticks_are_written_exactly() -> None:
    """Millimetres of ticks are exact decimals (1 in = 25.4 mm, agreement of 1959)."""
    for ticks in (1, -1, INCH, INCH // 64, 2440 * MM, 400, 0, 123_456_789):
        assert Fraction(mm(ticks)) == Fraction(ticks, MM)
    assert mm(INCH) == "25.4"


def test_every_placement_reads_back_in_millimetres(drawing: str, plan: Plan) -> None:
    """A generic XML reader finds each part where the plan puts it, to the last digit."""
    root = etree.fromstring(drawing.encode())
    parts = root.xpath("//svg:g[@id='parts']/svg:rect", namespaces=NS)
    found = {
        tuple(Fraction(part.get(name)) for name in ("x", "y", "width", "height")) for part in parts
    }
    placed = [p for p in plan.placements if p.sheet == "1"]
    assert len(parts) == len(placed)
    assert found == {tuple(Fraction(v, MM) for v in (p.x, p.y, p.length, p.width)) for p in placed}


def test_every_shape_says_its_line(drawing: str) -> None:
    """None is "none": a renderer met in the wild drew a line around what does not say so."""
    root = etree.fromstring(drawing.encode())
    shapes = root.xpath("//svg:rect | //svg:circle | //svg:path", namespaces=NS)
    assert len(shapes) > 20
    assert all(one.get("stroke") and one.get("fill") for one in shapes)


def test_physical_size_by_a_second_reader(drawing: str, plan: Plan) -> None:
    """A reader that computes CSS pixels (96 to the inch, CSS Values 3) finds 96 in by 48 in."""
    tree = svgelements.SVG.parse(StringIO(drawing), reify=True, ppi=96)
    box = next(e for e in tree.elements() if isinstance(e, svgelements.Rect) and e.id == "sheet-1")
    assert box.width == pytest.approx(96 * 96, rel=1e-6)
    assert box.height == pytest.approx(48 * 96, rel=1e-6)


def test_view_box_matches_the_size(drawing: str) -> None:
    """One user unit is one millimetre."""
    root = ElementTree.fromstring(drawing)
    width, height = root.get("width", ""), root.get("height", "")
    assert width.endswith("mm")
    assert height.endswith("mm")
    assert root.get("viewBox") == f"0 0 {width[:-2]} {height[:-2]}"


def test_no_text_is_small_or_outside(drawing: str, qapp) -> None:
    """Text is at least a sixtieth of the drawing's width, and ids are unique XML names."""
    root = ElementTree.fromstring(drawing)
    width = float(root.get("width", "")[:-2])
    texts = root.findall(".//svg:text", NS)
    assert len(texts) > 10
    assert min(float(text.get("font-size", "0")) for text in texts) >= width / 60
    lines = [text for text in root.findall(".//svg:g[@id='words']/svg:text", NS) if text.text]
    font = QFont(["Helvetica", "Arial", "sans-serif"])
    font.setPixelSize(100)
    metrics = QFontMetricsF(font)
    for text in lines:
        long = metrics.horizontalAdvance(text.text or "") * float(text.get("font-size", "0")) / 100
        assert float(text.get("x", "0")) + long < width, text.text
    ids = [e.get("id") for e in root.iter() if e.get("id")]
    assert len(ids) == len(set(ids))
    assert all(identifier and identifier.replace("_", "a")[0].isalpha() for identifier in ids)


def test_each_cut_has_a_kerf_and_a_tag(drawing: str, plan: Plan) -> None:
    """Every cut of the sheet is drawn as a true kerf with its number."""
    root = ElementTree.fromstring(drawing)
    numbers = {str(cut.number) for cut in plan.cuts if cut.sheet == "1"}
    kerfs = root.findall(".//svg:g[@id='cuts']/svg:rect", NS)
    tags = root.findall(".//svg:g[@id='numbers']//svg:text", NS)
    assert len(kerfs) == len(numbers)
    assert {tag.text for tag in tags} == numbers


def test_the_same_plan_gives_the_same_bytes(plan: Plan, job: Job, drawing: str) -> None:
    """Nothing in the drawing depends on when it was made."""
    assert written(plan, "1", job.style, job) == drawing


def test_kerf_is_never_rounded_to_the_style(plan: Plan, job: Job) -> None:
    """A kerf of 5/64 in is said as 5/64 even where sizes are written to 1/16."""
    coarse = replace(job, shop=Shop(kerf=5 * INCH // 64), style=LengthStyle(denominator=16))
    assert "Kerf 5/64 in" in written(plan, "1", coarse.style, coarse)


def test_millimetres_are_written_in_millimetres(plan: Plan, job: Job) -> None:
    """The style decides the words, not the drawing."""
    style = LengthStyle(unit=Unit.MM)
    drawing = written(plan, "1", style, replace(job, style=style))
    assert "L 762 × W 279.4" in drawing


def test_a_bad_place_is_struck_out_and_named(plan: Plan, job: Job) -> None:
    """It stands at its true place in a closed outline with both diagonals, its name in words."""
    sheet = plan.sheets[0]
    x, y = sheet.length - 3 * INCH, sheet.width - 2 * INCH
    corner = NoGo(x=x, y=y, length=3 * INCH, width=2 * INCH)
    marked = replace(plan, sheets=(replace(sheet, no_go=(corner,)), *plan.sheets[1:]))
    text = written(marked, sheet.id, job.style, job)
    root = etree.fromstring(text.encode())
    group = root.xpath("//*[@id='kept-clear']")[0]
    (rect,) = group.xpath("*[local-name()='rect']")
    place = [rect.get(name) for name in ("x", "y", "width", "height")]
    assert place == [mm(x), mm(y), mm(3 * INCH), mm(2 * INCH)]
    assert rect.get("stroke") != "none"
    (path,) = group.xpath("*[local-name()='path']")
    assert path.get("d").count("M") == 2
    assert "kept clear: damaged corner, L 3 × W 2" in "".join(root.itertext())


def test_a_blank_is_dashed_around_its_part() -> None:
    """A part that is cut oversize: dashed as it leaves the sheet, an outline as it is finished."""
    matter = full_matter()
    root = etree.fromstring(written(matter.plan, "1", matter.style, matter.job).encode())
    (whole,) = [one for one in matter.plan.placements if one.part == "t"]
    (blank,) = root.xpath("//svg:g[@id='parts']/svg:rect[@stroke-dasharray]", namespaces=NS)
    place = [blank.get(name) for name in ("x", "y", "width", "height")]
    assert place == [mm(v) for v in (whole.x, whole.y, whole.length, whole.width)]
    (part,) = root.xpath("//svg:g[@id='parts']/svg:rect[@id='part-t-1']", namespaces=NS)
    assert (part.get("width"), part.get("height")) == ("900", "420")
    assert part.get("stroke-dasharray") is None
