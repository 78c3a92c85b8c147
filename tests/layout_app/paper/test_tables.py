"""Tables for spreadsheets: read back by Python's csv and by a spreadsheet library."""

import csv
import re
from collections.abc import Callable
from dataclasses import fields, replace
from io import StringIO

import pytest
from hypothesis import given
from hypothesis import strategies as st
from openpyxl import Workbook

from layout_app.paper.cut_rows import cut_row
from layout_app.paper.matter import Matter
from layout_app.paper.tables import cuts_csv, parts_csv, shopping_csv, table, text
from shared.lengths import INCH, MM, Unit, parse_length
from shared.making.lifting import Moved
from shared.making.record import (
    Bearers,
    Bed,
    CutRecord,
    Edge,
    Face,
    Guard,
    RailLaid,
    SheetCheck,
    SizeCheck,
    Squared,
    SquaredBy,
    Way,
)
from shared.shop import Rail, Support
from tests.layout_app.paper.matters import HOSTILE, hostile_matter

Row = dict[str, str]
MADE = (parts_csv, cuts_csv, shopping_csv)
SIGNS = set("=+-@＝＋－＠")


@pytest.fixture(scope="module", params=Unit)
def matter(request: pytest.FixtureRequest) -> Matter:
    """A plan with hostile names, in inches and in millimetres."""
    return hostile_matter(request.param)


def rows_of(written: str) -> list[Row]:
    """Read a table with Python's csv."""
    return list(csv.DictReader(StringIO(written, newline=""), strict=True))


def is_number(cell: str) -> bool:
    """Say whether a cell is a plain number."""
    return re.fullmatch(r"-?\d+(\.\d+)?", cell) is not None


def near(cell: str, ticks: int) -> bool:
    """Say whether a cell holds a length in mm, to 0.01 mm."""
    return abs(float(cell) - ticks / MM) < 0.01


def reads_as(cell: str, ticks: int, style_unit: Unit) -> bool:
    """Say whether a written length is that long, to half of 1/32 in or 0.1 mm."""
    mark = re.sub(" (shy|strong)", "", cell)
    finest = INCH // 32 if style_unit is Unit.INCH else MM // 10
    return abs(parse_length(mark, style_unit) - ticks) <= finest // 2


@pytest.mark.parametrize("make", MADE)
def test_rows_end_and_are_quoted_as_rfc_4180_says(
    make: Callable[[Matter], str], matter: Matter
) -> None:
    """Each row ends in CR LF, which stands nowhere else, and has a cell for each heading."""
    lines = make(matter).split("\r\n")
    assert lines.pop() == ""
    assert not any("\n" in line or "\r" in line for line in lines)
    found = list(csv.reader(lines, strict=True))
    assert len(found) == len(lines) > 3
    assert {len(row) for row in found} == {len(found[0])}
    assert all(line.startswith('"') and line.endswith('"') for line in lines)


@pytest.mark.parametrize("delimiter", [",", ";", "\t", "|"])
@pytest.mark.parametrize("make", MADE)
def test_no_cell_is_a_formula_to_a_spreadsheet_library(
    make: Callable[[Matter], str], delimiter: str, matter: Matter
) -> None:
    """Put into openpyxl no cell has the type of a formula, whatever rows are split at."""
    sheet = Workbook().active
    assert sheet is not None
    for row in csv.reader(StringIO(make(matter), newline=""), delimiter=delimiter):
        sheet.append(row)
    cells = [cell for row in sheet.iter_rows() for cell in row]
    assert sheet.max_row > 3
    assert not [cell.value for cell in cells if cell.data_type == "f"]
    texts = [str(cell.value) for cell in cells if cell.value is not None]
    assert not [one for one in texts if one.strip()[:1] in SIGNS and not is_number(one)]


def test_the_library_would_have_found_a_formula() -> None:
    """The check can fail: the first hostile name, put in bare, is a formula to openpyxl."""
    sheet = Workbook().active
    assert sheet is not None
    sheet.append([HOSTILE[0]])
    assert sheet["A1"].data_type == "f"


@pytest.mark.parametrize(
    ("words", "cell"),
    [
        ("=1+1", "'=1+1"),
        ("  -2", "'-2"),
        ("\t@x", "'@x"),
        ("\r\n+x", "'+x"),
        ("a;=b, +c|@d", "a;'=b,' +c|'@d"),
        ("＝1", "'＝1"),
        ("3/4", "'3/4"),
        ("1e1", "'1e1"),
        ("007", "'007"),
        ("1-2", "'1-2"),
        ("12", "12"),
        ("1a", "1a"),
        ("3/4 birch ply", "3/4 birch ply"),
        ("Shelf - left", "Shelf - left"),
        ("a\nb\x00c", "a b\N{REPLACEMENT CHARACTER}c"),
        ("", ""),
    ],
)
def test_texts_that_would_be_taken_for_something_else_get_an_apostrophe(
    words: str, cell: str
) -> None:
    """The signs are those OWASP names; trade names with a stroke or a fraction stay."""
    assert text(words) == cell


@given(st.lists(st.lists(st.text(max_size=20), min_size=2, max_size=2), min_size=1, max_size=5))
def test_any_text_comes_back_as_one_cell_without_a_formula(rows: list[list[str]]) -> None:
    """Whatever is typed, csv reads as many cells as were written, and none begins with a sign."""
    found = list(csv.reader(StringIO(table(("a", "b"), rows), newline=""), strict=True))[1:]
    assert [len(row) for row in found] == [2] * len(rows)
    for cell in (cell for row in found for cell in row):
        assert cell.strip()[:1] not in SIGNS


def test_numbers_of_ours_stay_numbers() -> None:
    """A negative number carries no apostrophe."""
    written = table(("a",), [[-3]])
    assert rows_of(written)[0]["a"] == "-3"


def test_each_part_is_in_the_list_with_the_plan_s_sizes(matter: Matter) -> None:
    """Finished, cut and band sizes, written and in mm, are those of job and plan."""
    rows = {row["ID"]: row for row in rows_of(parts_csv(matter))}
    planned = {part.id: part for part in matter.plan.parts}
    assert list(rows) == [part.id for part in matter.job.parts]
    for part in matter.job.parts:
        row, on = rows[part.id], [p.sheet for p in matter.plan.placements if p.part == part.id]
        assert (row["Copies"], row["Copies on sheets"]) == (str(part.copies), str(len(on)))
        assert set(re.findall(r"\d+", row["Sheets"])) == set(on)
        assert near(row["Finished L mm"], part.length)
        assert near(row["Finished W mm"], part.width)
        assert near(row["Cut L mm"], planned[part.id].length)
        assert near(row["Cut W mm"], planned[part.id].width)
        assert reads_as(row["Cut L"], planned[part.id].length, matter.style.unit)
        assert reads_as(row["Finished W"], part.width, matter.style.unit)
        assert near(row["Band left mm"], part.bands.left)
        assert near(row["Fit allowance mm"], part.fit_allowance)
    assert rows["door"]["Show face"] == "yes"


def test_names_come_back_as_they_were_typed(matter: Matter) -> None:
    """What no program can take for something else is not touched."""
    rows = {row["ID"]: row for row in rows_of(parts_csv(matter))}
    for place in (10, 12, 13):
        assert rows[f"p{place}"]["Part"] == HOSTILE[place]
    assert rows["p14"]["Part"] == HOSTILE[14].strip()
    assert rows["p0"]["Part"] == "'" + HOSTILE[0]


def test_each_cut_is_in_the_list_with_the_plan_s_numbers(matter: Matter) -> None:
    """Set size, position, kerf and dust are those of the plan to 0.01 mm."""
    rows = rows_of(cuts_csv(matter))
    assert len(rows) == len(matter.plan.cuts) > 10
    for row, cut in zip(rows, matter.plan.cuts, strict=True):
        assert (row["Cut"], row["Sheet"]) == (str(cut.number), cut.sheet)
        assert row["Piece"] in {cut.piece, f"'{cut.piece}"}
        assert near(row["Set mm"], cut.size)
        assert near(row["Kerf mm"], cut.kerf)
        if row["Position mm"]:
            assert near(row["Position mm"], cut.running)
        if row["Position"]:
            position, whence = row["Position"].split(" from ")
            assert whence in {"reference edge", "left end"}
            assert reads_as(position, cut.running, matter.style.unit)
        dust = cut.rect
        assert near(row["Dust x mm"], dust.x)
        assert near(row["Dust y mm"], dust.y)
        assert near(row["Dust L mm"], dust.length)
        assert near(row["Dust W mm"], dust.width)
        assert near(row["Long mm"], max(dust.length, dust.width))


def test_headings_of_cuts_are_told_apart(matter: Matter) -> None:
    """No heading stands twice, and every figure of the record has one of its own."""
    (headings, *_) = csv.reader(StringIO(cuts_csv(matter), newline=""), strict=True)
    assert len(headings) == len(set(headings)) > 50


def test_each_cut_parts_its_piece_into_what_it_makes_and_leaves_and_dust(matter: Matter) -> None:
    """By area, worked out from the table alone: nothing is lost, nothing is added.

    Each piece is a whole sheet, or what an earlier row made or left under that name.
    """
    lying: dict[str, tuple[float, int]] = {}
    for row in rows_of(cuts_csv(matter)):
        size = {
            what: float(row[f"{what} L mm"] or 0) * float(row[f"{what} W mm"] or 0)
            for what in ("Piece", "Makes", "Left", "Dust")
        }
        assert size["Makes"] + size["Left"] + size["Dust"] == pytest.approx(size["Piece"])
        before = lying.get(row["Piece"])
        assert before == (None if before is None else (pytest.approx(size["Piece"]), before[1]))
        assert row["Piece from cut"] == ("" if before is None else str(before[1]))
        for what in ("Makes", "Left"):
            lying[row[f"{what} name"] or row["Piece"]] = size[what], int(row["Cut"])
        lying[row["Piece"]] = _stays(row, size), int(row["Cut"])


def _stays(row: Row, size: dict[str, float]) -> float:
    """Return the area of what keeps the name of the piece."""
    return next(
        (size[what] for what in ("Makes", "Left") if row[f"{what} name"] == row["Piece"]), 0
    )


def test_every_field_of_a_record_is_in_the_table(matter: Matter) -> None:
    """Whatever is another in a record or its rail, another cell is: nothing is left out."""
    laid = RailLaid(
        rail=Rail(length=INCH),
        width=0,
        run_up=0,
        run_out=0,
        enough=True,
        change=False,
        fetched=False,
        joins=False,
        parted=False,
        edge_at=0,
    )
    first = matter.told[1]
    told = replace(first, record=replace(first.record, rail=laid))
    setting = told.record.setting
    rails: dict[str, object] = {"width": 1, "run_up": 1, "run_out": 1, "edge_at": 1}
    rails |= {"rail": Rail(length=MM), "enough": False, "change": True}
    rails |= {"fetched": True, "joins": True, "parted": True}
    others: dict[str, object] = {
        "since": 90,
        "grams": 1,
        "makes": replace(told.record.makes, name="other"),
        "left": replace(told.record.makes, name="other"),
        "way": Way.FENCE,
        "rail": None,
        "bed": Bed.PACKED,
        "setting": replace(setting, name="G90"),
        "anew": not told.record.anew,
        "again": not told.record.again,
        "proves": not told.record.proves,
        "squared": Squared(edge=Edge.FAR, by=SquaredBy.SQUARE),
        "sheet_check": SheetCheck(rail=None, straight_first=True, bow=1, absorbs=1),
        "checks": (SizeCheck(side=told.record.makes, size=1),),
        "position": 1,
        "entry": Edge.REFERENCE,
        "up": Face.BACK,
        "turn_over": not told.record.turn_over,
        "face_matters": not told.record.face_matters,
        "guards": (Guard.TAPE,),
        "support": Support.FOAM,
        "bearers": Bearers(keep=(1,), other=(2,)),
        "moved": Moved.TURNED,
        "find_hazards": lambda _: ("other",),
    }
    assert {one.name for one in fields(CutRecord)} == {"stroke", *others}
    assert {one.name for one in fields(RailLaid)} == set(rails)
    before = cut_row(told)
    records = [replace(told.record, **{name: value}) for name, value in others.items()]
    records += [
        replace(told.record, rail=replace(laid, **{name: value})) for name, value in rails.items()
    ]
    for record in records:
        assert cut_row(replace(told, record=record)) != before


def test_sheets_bands_and_hardware_are_on_the_shopping_list(matter: Matter) -> None:
    """Sheets by what the plan uses, bands by the roll, hardware as the maker says."""
    rows = rows_of(shopping_csv(matter))
    sheets = {row["Material"]: row for row in rows if row["What"] == "sheet"}
    ply = sheets["3/4 birch ply"]
    used = sum(sheet.stock == "a" for sheet in matter.plan.sheets)
    assert (ply["Take"], ply["Buy"], ply["Price each"]) == ("0", str(used), "52.50")
    assert float(ply["Price"]) == pytest.approx(52.5 * used)
    assert near(ply["L mm"], matter.job.stock[0].length)
    assert near(ply["Thickness mm"], matter.job.stock[0].thickness)
    bands = [row for row in rows if row["What"] == "edge band"]
    assert [float(row["Thickness mm"]) for row in bands] == [1, 2]
    # Workshop practice: a strip overhangs by 2 in (40 mm), a tenth is added. Of 1 mm band
    # four strips of 30 in, of 2 mm four of 11-7/8 in.
    extra = 50.8 if matter.style.unit is Unit.INCH else 40
    for row, edge in zip(bands, (762, 301.625), strict=True):
        assert parse_length(row["Needed"], matter.style.unit) >= float(row["Needed mm"]) * MM - 1
        assert float(row["Needed mm"]) == pytest.approx(4 * (edge + extra) * 1.1, abs=0.01)
    hardware = [(row["Name"], row["Buy"]) for row in rows if row["What"] == "hardware"]
    assert hardware == [("Drawer slides", "6"), ("'=1+1", "12")]


def test_a_plan_that_is_not_whole_says_so_first(matter: Matter) -> None:
    """The banner stands in the row below the headings."""
    told = replace(matter, banner="NOT A WHOLE PLAN: parts are not placed.")
    for make in MADE:
        rows = list(csv.reader(StringIO(make(told), newline="")))
        assert rows[1][0] == told.banner
        assert not any(rows[1][1:])


def test_tables_can_be_saved_as_utf_8(matter: Matter) -> None:
    """Half a surrogate pair in a name is no hindrance."""
    for make in MADE:
        assert make(matter).encode("utf-8-sig").decode("utf-8-sig") == make(matter)
