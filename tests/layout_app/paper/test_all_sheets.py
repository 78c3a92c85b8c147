"""All sheets in one drawing: a grid of a page's shape, its layers each whole and called by name."""

import re
from functools import cache
from itertools import pairwise
from xml.etree import ElementTree

import pytest

from layout_app.paper import ink
from layout_app.paper.all_sheets import columns_of, job_page
from layout_app.paper.fitting import fitted_page
from layout_app.paper.layers import LAYERS
from layout_app.paper.matter import Matter
from layout_app.paper.pack.book import Paper
from layout_app.paper.svg import EDITORS, document
from layout_app.paper.titled import drawing_page
from tests.layout_app.paper import packs
from tests.layout_app.paper.test_room import meetings, outside

G = "{http://www.w3.org/2000/svg}g"
SEEDS = (3, 5)


@cache
def together(seed: int) -> ink.Page:
    """Return all sheets of a random job in one drawing."""
    matter = packs.matter(seed)
    return job_page(
        matter.drawings, matter.style, matter.job, banner="NOT WHOLE.", identity=matter.identity
    )


def tree(page: ink.Page) -> ElementTree.Element:
    """Return a page as XML."""
    return ElementTree.fromstring(document(page))


def label(element: ElementTree.Element) -> str | None:
    """Return what vector editors call an element, if it is a layer to them."""
    layer = element.get(f"{{{EDITORS}}}groupmode") == "layer"
    return element.get(f"{{{EDITORS}}}label") if layer else None


@pytest.mark.parametrize(
    ("sheets", "columns"), [(1, 1), (2, 1), (3, 2), (4, 2), (6, 2), (9, 3), (12, 3)]
)
def test_the_grid_has_the_shape_of_a_page(sheets: int, columns: int) -> None:
    """Sheets of 2 to 1: two below each other are square; six as 2 by 3 are 4 to 3, no strip."""
    assert columns_of([(2.0, 1.0)] * sheets, 0.0) == columns


@pytest.mark.parametrize("seed", SEEDS)
def test_nothing_meets_and_nothing_is_outside(seed: int) -> None:
    """Words of all sheets and of the head keep apart, and lie on the page."""
    assert not meetings(together(seed))
    assert not outside(together(seed))


@pytest.mark.parametrize("seed", SEEDS)
def test_each_sheet_is_titled_and_the_plan_named_once(seed: int) -> None:
    """Job, plan, day and banner stand in the head; each sheet has its number above it."""
    matter, page = packs.matter(seed), together(seed)
    words = [one.text for one, _ in ink.words_on(page.items)]
    for drawing in matter.drawings:
        assert sum(one.startswith(f"Sheet {drawing.sheet}: ") for one in words) == 1
    assert words.count(matter.identity) == words.count("NOT WHOLE.") == 1
    assert matter.identity in page.title
    assert f"{matter.identity}</title>" in document(page)


@pytest.mark.parametrize("seed", SEEDS)
def test_all_that_is_drawn_is_in_a_layer_of_a_plain_name(seed: int) -> None:
    """An editor hides all numbers at once, or those of one sheet; ids say the same to others."""
    matter = packs.matter(seed)
    root = tree(together(seed))
    drawn = [one for one in root if one.tag.rpartition("}")[2] not in {"title", "desc"}]
    assert {one.tag for one in drawn} == {G}
    layers = {label(one): one for one in drawn}
    assert set(layers) <= {"Paper", "Head", *LAYERS.values()}
    assert {"Sheet", "Parts", "Cuts", "Cut numbers", "Titles and lists"} <= set(layers)
    order = [place for one in drawn if (place := _place(one)) is not None]
    assert all(one < other for one, other in pairwise(order))
    within = [label(one) for one in layers["Cut numbers"]]
    cut = {one.sheet for one in matter.plan.cuts}
    assert within == [f"Sheet {one.sheet}" for one in matter.drawings if one.sheet in cut]
    numbers = [one.text for one in layers["Cut numbers"].iter(f"{G[:-1]}text")]
    assert sorted(map(str, numbers)) == sorted(str(one.number) for one in matter.plan.cuts)


def _place(element: ElementTree.Element) -> int | None:
    names = list(LAYERS)
    name = element.get("id")
    return names.index(name) if name in names else None


def test_one_sheet_has_the_same_layers(matter: Matter) -> None:
    """On the top at true size; inside the drawing on a page that it is fitted to."""
    drawing = matter.drawings[0]
    true = tree(drawing_page(drawing, matter.style, matter.job))
    groups = {one.get("id"): label(one) for one in true.findall(G)}
    assert groups.pop("paper") == "Paper"
    assert groups == {name: LAYERS[str(name)] for name in groups}
    assert len(groups) > 7
    fitted = tree(fitted_page(drawing, matter, Paper.A4, black=False))
    inside = next(one for one in fitted.iter(G) if one.get("id") == f"drawing-{drawing.sheet}")
    assert {one.get("id"): label(one) for one in inside.findall(G)} == groups
    outer = [one for one in fitted.iter(G) if inside in one.iter(G) and one is not inside]
    assert [label(one) for one in (*outer, inside)] == ["Content", f"Sheet {drawing.sheet}"]


@pytest.fixture
def matter() -> Matter:
    """A random job with its plan."""
    return packs.matter(5)


def test_a_layer_s_name_is_the_editors_attribute_alone(matter: Matter) -> None:
    """The mark that stands for it in an element meant for a page of HTML is not written."""
    text = document(drawing_page(matter.drawings[0], matter.style, matter.job))
    assert "data-" not in text
    assert re.search(r'id="parts"[^>]*label="Parts"', text)
