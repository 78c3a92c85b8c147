"""A published plan: whole, in both units, rounded once, read back by a Markdown reader."""

import re
from dataclasses import replace
from itertools import pairwise

import pytest
from lxml import etree
from markdown_it import MarkdownIt
from markdown_it.token import Token

from layout_app.paper.ink import words_on
from layout_app.paper.matter import Matter, matter_of
from layout_app.paper.plain import one_line
from layout_app.paper.publish import publish_files
from layout_app.paper.published.drawn import all_sheets, sheets
from layout_app.paper.published.lists import finished, sawn
from layout_app.paper.published.reader import in_unit
from shared.cautions import DEFER, cautions_for
from shared.drawing import draw_loose
from shared.job import Job
from shared.layout import LayoutSheet
from shared.lengths import INCH, MM, LengthStyle, Unit, parse_length
from shared.parts import Part
from shared.plan import Placement
from tests.layout_app.paper.matters import hostile_job, hostile_matter
from tests.layout_app.small_job import planned, small_job

READER = MarkdownIt("commonmark").enable("table")
UNESCAPED_PIPE = re.compile(r"(?<!\\)(?:\\\\)*\|")
Table = list[list[str]]


@pytest.fixture(scope="module")
def matter() -> Matter:
    """A plan with hostile names, its job in inches."""
    return hostile_matter()


@pytest.fixture(scope="module")
def files(matter: Matter) -> dict[str, bytes]:
    """Its folder."""
    return publish_files(matter)


@pytest.fixture(scope="module", params=Unit)
def unit(request: pytest.FixtureRequest) -> Unit:
    """Inches, then millimetres."""
    found = request.param
    assert isinstance(found, Unit)
    return found


@pytest.fixture(scope="module")
def text(files: dict[str, bytes], unit: Unit) -> str:
    """The document in that unit."""
    return files[f"plan-{unit}.md"].decode()


def words(token: Token) -> str:
    """Return what is shown of an inline token."""
    return "".join(child.content for child in token.children or () if child.type == "text")


def tables(text: str) -> dict[str, Table]:
    """Return all tables by the heading before them, as a Markdown reader has them."""
    found: dict[str, Table] = {}
    tokens, title = READER.parse(text), ""
    for before, token in pairwise(tokens):
        if before.type == "heading_open":
            title = words(token)
        elif before.type == "table_open":
            found[title] = []
        elif before.type == "tr_open":
            found[title].append([])
        if token.type == "inline" and before.type in {"th_open", "td_open"}:
            found[title][-1].append(words(token))
    return found


def test_the_folder_holds_both_documents_and_all_drawings(
    files: dict[str, bytes], matter: Matter
) -> None:
    """Each sheet in each unit, as long as a page and at true size; all sheets on top; well-formed.

    Paper of 210 mm (ISO 216) or 215.9 mm (Letter) has room for 180 mm; 1 in is 25.4 mm.
    """
    names = {f"sheet-{sheet.id}-{unit}" for sheet in matter.plan.sheets for unit in Unit}
    small = {f"all-sheets-{unit}" for unit in Unit}
    drawn = {f"{name}.svg" for name in names | small}
    true = {f"{name}-true-size.svg" for name in names}
    terms = {name for name in files if name.startswith("reading-")}
    assert set(files) == {"plan.html", "plan-in.md", "plan-mm.md"} | drawn | true | terms
    for name in terms:
        assert f"]({name})" in files[f"plan-{name[-6:-4]}.md"].decode()
    for name in drawn | true:
        root = etree.fromstring(files[name])
        long = float(root.get("width", "").removesuffix("mm"))
        assert long > 96 * 25.4 if name in true else long == 180
        unit = name.removesuffix("-true-size.svg").removesuffix(".svg")[-2:]
        assert f"]({name})" in files[f"plan-{unit}.md"].decode()


def test_nothing_lies_outside_a_drawing_in_the_text(matter: Matter) -> None:
    """All words of it have room on its page, the list and the scale below it too."""
    for unit in Unit:
        told = in_unit(matter, unit)
        for page in [one.page for one in (*sheets(told, matter).values(), *all_sheets(told))]:
            rooms = [room for _, room in words_on(page.items)]
            assert rooms
            assert min(room.x for room in rooms) > -0.1
            assert max(room.right for room in rooms) < page.length + 0.1
            assert max(room.bottom for room in rooms) < page.width + 0.1


def test_the_same_matter_gives_the_same_bytes(files: dict[str, bytes], matter: Matter) -> None:
    """Nothing depends on when it was made."""
    assert publish_files(matter) == files


def test_each_row_has_as_many_cells_as_headings(text: str) -> None:
    """Counted in the text itself, since readers fill up and cut off rows."""
    blocks = [block for block in text.split("\n\n") if block.startswith("|")]
    assert len(blocks) == len(tables(text)) >= 5
    for block in blocks:
        counts = [len(UNESCAPED_PIPE.findall(line)) for line in block.splitlines()]
        assert len(counts) > 2
        assert set(counts) == {counts[0]}


def test_names_make_no_markup(text: str, unit: Unit, matter: Matter) -> None:
    """A Markdown reader finds no HTML, no code, no link but ours, and one title."""
    tokens = READER.parse(text)
    kinds = {token.type for token in tokens}
    assert not kinds & {"html_block", "fence", "code_block", "blockquote_open", "hr"}
    inner = [child for token in tokens for child in token.children or ()]
    assert {child.type for child in inner} <= {
        *("text", "strong_open", "strong_close", "link_open", "link_close", "image"),
    }
    links = [str(child.attrs["href"]) for child in inner if child.type == "link_open"]
    assert links[0] in {"plan-mm.md", "plan-in.md"}
    assert links[1:] == [f"sheet-{sheet.id}-{unit}-true-size.svg" for sheet in matter.plan.sheets]
    titles = [
        words(after)
        for token, after in pairwise(tokens)
        if token.type == "heading_open" and token.tag == "h1"
    ]
    assert titles == [one_line(matter.job.name)]


def test_every_part_is_in_the_cut_list_under_its_own_name(text: str, matter: Matter) -> None:
    """Name, copies and material come back as typed, on one line."""
    rows = tables(text)["Cut list"][1:]
    for row, part in zip(rows, matter.job.parts, strict=True):
        assert row[0] == one_line(part.name)
        assert row[1] == str(part.copies)
        assert row[6] == one_line(part.material)


def test_sizes_read_back_to_the_plan(text: str, unit: Unit, matter: Matter) -> None:
    """Each size is the plan's: to nearest 1/32 in or 0.1 mm, down or up to it for fit parts."""
    finest = INCH // 32 if unit is Unit.INCH else MM // 10
    for row, part in zip(tables(text)["Cut list"][1:], matter.job.parts, strict=True):
        exact = part.length, part.width, part.cut_length, part.cut_width
        for cell, ticks in zip(row[2:6], exact, strict=True):
            off = abs(read(cell, unit) - ticks)
            assert off < finest if part.fit_allowance else off <= finest // 2


def test_bands_are_told_to_the_hundredth(files: dict[str, bytes]) -> None:
    """A band of 1 mm is 3/64 in to the nearest 64th (0.0394 in), in mm it is 1."""
    inches = {row[0]: row for row in tables(files["plan-in.md"].decode())["Cut list"]}
    metric = {row[0]: row for row in tables(files["plan-mm.md"].decode())["Cut list"]}
    assert inches["Door"][8] == "band 3/64 top, band 3/64 bottom, band 5/64 left, band 5/64 right"
    assert metric["Door"][8] == "band 1 top, band 1 bottom, band 2 left, band 2 right"


def test_what_it_takes_is_said_once(text: str, matter: Matter) -> None:
    """The number of sheets stands once at the top."""
    sheets = len(matter.plan.sheets)
    assert text.split("## At every cut", maxsplit=1)[0].count(f"{sheets} sheet") == 1


def test_every_cut_is_told_once_in_order(text: str, unit: Unit, matter: Matter) -> None:
    """Cuts stand by the panel, equal ones in one line; what is set is the plan's, by the step."""
    cuts = {cut.number: cut for cut in matter.plan.cuts}
    finest = INCH // 32 if unit is Unit.INCH else MM // 10
    told: list[int] = []
    size = ""
    for line in text.split("## Cuts in order")[1].split("\n## ", maxsplit=1)[0].splitlines():
        if row := ROW.match(line):
            told += numbers(row[1])
        elif found := SET.search(line):
            size = found[1]
            ahead = line.startswith("- ")  # a bar stands before its row, a mark in it
            number = min(set(cuts) - set(told)) if ahead else told[-1]
            assert abs(read(size, unit) - cuts[number].size) <= finest // 2
    assert size
    assert told == sorted(cuts)


ROW = re.compile(r"- \*\*Cuts? ([\d, to]+): ")
SET = re.compile(r"- \*\*(?:Set \w+|Mark) ([\d/. ]+?(?: shy| strong)?)(?:[,; ]\D|\*)")


def numbers(written: str) -> list[int]:
    """Read numbers with their runs, such as ``1 to 4, 6``."""
    found: list[int] = []
    for run in written.split(", "):
        first, _, last = run.partition(" to ")
        found += range(int(first), int(last or first) + 1)
    return found


def read(written: str, unit: Unit) -> int:
    """Read a size whether or not it is off the mark."""
    return parse_length(re.sub(" (shy|strong)", "", written), unit)


def style_of(unit: Unit, denominator: int = 32, decimals: int = 1) -> LengthStyle:
    """Return a way to write lengths."""
    return LengthStyle(unit=unit, denominator=denominator, decimals=decimals)


def a_part(length: int, allowance: int = 0) -> Part:
    """Return a part of a length in ticks."""
    return Part(
        id="a", name="a", length=length, width=length, material="m", fit_allowance=allowance
    )


@pytest.mark.parametrize(
    ("part", "style", "planned_size", "sawn_size"),
    [
        # 11-7/8 in = 301.625 mm: nothing to fit, to nearest.
        (a_part(95 * INCH // 8), style_of(Unit.MM), "301.6", "301.6"),
        # D3: inset front 14-13/16 in = 376.2375 mm; blank 1/4 in more, 382.5875 mm.
        (
            a_part(237 * INCH // 16, INCH // 4),
            style_of(Unit.MM),
            "376.23",
            "382.6",
        ),
        # D4: a third of 23-1/2 in, 7-5/6, as a fit: down to 7-13/16, 1/48 to spare.
        (
            a_part(47 * INCH // 6, INCH // 4),
            style_of(Unit.INCH),
            "7 13/16 strong",
            "8 3/32 shy",
        ),
        # D4 in mm: 197.33 down to 197; the blank, 3 mm more, up to 200.4.
        (a_part(592 * MM // 3, 3 * MM), style_of(Unit.MM, decimals=0), "197.3", "200.4"),
        # 18 mm in 64ths: 45/64 and 0.0055 in more.
        (a_part(18 * MM), style_of(Unit.INCH, 64), "45/64 strong", "45/64 strong"),
    ],
)
def test_fits_go_down_blanks_up_and_all_else_to_nearest(
    part: Part, style: LengthStyle, planned_size: str, sawn_size: str
) -> None:
    """Workshop values, worked by hand (drawer fronts of 7-5/6 in, 1 in = 25.4 mm)."""
    assert finished(part.length, part, style) == planned_size
    assert sawn(part.cut_length, part, style) == sawn_size


def test_measured_thickness_stands_beside_the_named_one(files: dict[str, bytes]) -> None:
    """18 mm board is 45/64 and a bit; ply sold as 3/4 is 23/32 in = 18.26 mm (PS 1 table)."""
    inches = tables(files["plan-in.md"].decode())["Thickness, named and measured"][1:]
    metric = tables(files["plan-mm.md"].decode())["Thickness, named and measured"][1:]
    assert [row[2] for row in inches] == ["23/32", "45/64 strong"]
    assert [row[2] for row in metric] == ["18.26", "18"]
    assert [row[0] for row in inches] == ["3/4 birch ply", "-18 mm | board"]


def test_offcuts_are_never_promised_larger_than_they_are(text: str, unit: Unit) -> None:
    """No offcut is rounded up: none is said to be shy of its size."""
    rows = tables(text)["Offcuts to keep"][1:]
    assert rows
    assert not [cell for row in rows for cell in row[1:3] if "shy" in cell]


def test_band_to_buy_is_rounded_up(files: dict[str, bytes], matter: Matter) -> None:
    """Four strips of 30 in and 2 in of overhang: 128, with a tenth 140.8, up to 140-13/16.

    A roll for ply of 23/32 is 1/16 wider or more: 25/32.
    """
    rows = tables(files["plan-in.md"].decode())["Edge band"][1:]
    assert rows[0][0] == "3/4 birch ply"
    assert rows[0][2:] == ["23/32", "25/32", "4", "128", "140 13/16", "1 roll of 25 ft"]
    # In mm 40 a strip: 4 x (762 + 40) = 3208, with a tenth 3528.8; metric rolls. The ply is
    # 18.25625 thick; 2 wider is 20.25625, up to 20.3.
    rows = tables(files["plan-mm.md"].decode())["Edge band"][1:]
    assert rows[0][2:] == ["18.26", "20.3", "4", "3208", "3528.8", "1 roll of 10 m"]
    # In whole mm: 4 x (301.625 + 40) = 1366.5, with a tenth 1503.15.
    whole = replace(matter, style=replace(matter.style, decimals=0))
    rows = tables(publish_files(whole)["plan-mm.md"].decode())["Edge band"][1:]
    assert rows[1][4:7] == ["4", "1367", "1504"]


def test_cautions_and_assumptions_are_told(text: str, matter: Matter) -> None:
    """The sentence that defers to the manual, every usual caution, kerf and rounding."""
    shown = " ".join(words(token) for token in READER.parse(text) if token.type == "inline")
    for sentence in (DEFER, *cautions_for(matter.job.shop)):
        assert sentence in shown
    for said in ("Kerf of the track saw", "What must fit is rounded down", "as measured, not as"):
        assert said in shown


def test_build_steps_are_in_order_and_name_their_parts(text: str) -> None:
    """The maker's own words, then the parts by name, as a numbered list of three."""
    after = text.split("## After sawing\n\n")[1]
    tokens = READER.parse(after)
    steps = [words(token) for token in tokens if token.type == "inline"]
    assert steps[0] == "Groove Groove 1/4 in deep, 3/8 up (Door)"
    assert steps[1].startswith("Band # ends first 1. then edges (Door; =HYPERLINK(")
    assert steps[2] == "Finish"
    assert sum(token.type == "ordered_list_open" for token in tokens) == 1
    assert ["Drawer slides", "6", "20 in, pairs"] in tables(text)["Hardware"]


def test_a_document_speaks_one_unit(matter: Matter) -> None:
    """Told in the other unit and back it is the same; its own unit is told as it is."""
    metric = in_unit(matter, Unit.MM)
    assert in_unit(matter, Unit.INCH) is matter
    assert metric.style == replace(matter.style, unit=Unit.MM)
    assert in_unit(metric, Unit.INCH) == matter


def test_the_limits_of_the_maker_are_not_told() -> None:
    """A sheet of 23.8 kg, more than the maker lifts: no word of 20 kg, and what a sheet weighs.

    2440 x 1220 x 12 mm of 667 kg/m3 are 23.8 kg, worked by hand.
    """
    job = small_job()
    stock = [
        replace(row, length=2440 * MM, width=1220 * MM, thickness=12 * MM, density=667)
        for row in job.stock
    ]
    shop = replace(job.shop, lift_g=20_000, turn_g=20_000, cut_s=47)
    job = replace(job, stock=tuple(stock), shop=shop)
    matter = matter_of(job, planned(job))
    assert any("20 kg" in str(one) or "44.1 lb" in str(one) for one in matter.told)
    text = publish_files(matter)["plan-mm.md"].decode()
    assert "about 23.8 kg" in text
    for word in ("20 kg", "you can lift", "you can turn", " min"):
        assert word not in text


def test_a_plan_that_is_not_whole_says_so_at_once() -> None:
    """The banner comes first; a sheet that cannot be cut is drawn in the maker's unit only."""
    job: Job = small_job()
    lying = Placement(part="side", copy=1, sheet="9", x=0, y=0, length=40 * INCH, width=12 * INCH)
    loose = draw_loose(
        job, LayoutSheet(id="9", stock="full", placements=(lying,)), problem="No way."
    )
    matter = matter_of(job, planned(job), loose=(loose,), waiting=("1 × Shelf: a sheet.",))
    files = publish_files(matter)
    assert "sheet-9-in.svg" in files
    assert "sheet-9-mm.svg" not in files
    for unit in Unit:
        text = files[f"plan-{unit}.md"].decode()
        assert text.splitlines()[6] == f"**{matter.banner}**"
        assert "1 × Shelf: a sheet." in text
        assert "(sheet-9-in.svg)" in text
        assert "**This sheet cannot be cut: No way.**" in text


def test_a_job_without_plan_still_has_its_list() -> None:
    """Nothing is said of sheets, cuts or offcuts that are not there."""
    job = hostile_job()
    files = publish_files(
        matter_of(job, replace(planned(small_job()), sheets=(), placements=(), cuts=(), offcuts=()))
    )
    assert set(files) == {"plan.html", "plan-in.md", "plan-mm.md"}
    assert set(tables(files["plan-in.md"].decode())) == {"Cut list", "Edge band"}
