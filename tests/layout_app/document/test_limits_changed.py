"""A limit of the shop is changed: what lies there is held against it, and planned anew."""

from dataclasses import replace

from pytestqt.qtbot import QtBot

from layout_app.document import edit_job
from layout_app.document.document import Document
from layout_app.document.ticks import tick, untick
from layout_app.look.theme import Theme
from layout_app.model.words import shop_limits
from layout_app.panels.issues import IssuesList
from shared.lengths import INCH
from shared.plan import CutKind
from shared.saw import beyond_limits
from shared.shop import Limit, Rail
from tests.layout_app.adopting import adopt
from tests.layout_app.small_job import document, planned

SHORT = (Rail(length=60 * INCH),)


def shorten(doc: Document) -> Document:
    """Give the shop one rail that reaches 50 in, of sheets L 96 × W 48."""
    edit_job.edit_shop(doc, replace(doc.job.shop, rails=SHORT, overhang=10 * INCH))
    return doc


def begun() -> Document:
    """Return the planned document with its first cut made."""
    doc = document()
    tick(doc, [1])
    return doc


def said(doc: Document) -> list[str]:
    """Return the sentences about limits."""
    return [one.sentence for one in shop_limits.issues_of(doc.plan, doc.job)]


def test_a_shorter_rail_leads_to_another_plan(qtbot: QtBot) -> None:
    """A rip of 96 in can be cut no more, and gives way to crosscuts first."""
    del qtbot
    doc = shorten(document())
    assert doc.plan is None
    assert "96 in" in doc.problems["1"]
    new = planned(doc.job)
    assert not list(beyond_limits(new, doc.job.shop))
    assert new.cuts[0].kind is CutKind.CROSSCUT
    adopt(doc, new)
    assert doc.problems == {}
    assert doc.plan is not None
    assert doc.plan.cuts[0].kind is CutKind.CROSSCUT
    assert not said(doc)


def test_what_breaks_a_limit_on_a_begun_sheet_is_said(qtbot: QtBot) -> None:
    """A sheet on which cuts are made stays; the list names sheet, cut and limit once."""
    doc = shorten(begun())
    shown = IssuesList(doc, Theme.light())
    qtbot.addWidget(shown)
    texts = [shown.item(i).text() for i in range(shown.count())]
    limit = "is 96_in long, and the longest rail reaches 50_in".replace("_", "\N{NO-BREAK SPACE}")
    about = [text for text in texts if limit in text]
    assert len(about) == 1
    assert about[0].endswith("or change the limit in the shop.")


def test_a_sheet_that_is_begun_no_longer_is_held_against_the_limits_again(qtbot: QtBot) -> None:
    """Its tick taken back, the sheet of 96 in has no cuts; ticked cuts alone let it stay."""
    del qtbot
    doc = shorten(begun())
    assert doc.problems == {}
    untick(doc, [1])
    assert "96 in" in doc.problems["1"]
    assert doc.plan is None


def test_limits_of_carrying_and_holding_are_said_too(qtbot: QtBot) -> None:
    """With 30 in to carry the rail and 95 in to hold, blocks of strips break both.

    So much tells the made cut another way, which has to be said: it was made so.
    """
    del qtbot
    doc = begun()
    doc.asks = lambda edit: doc.push(replace(edit, retells=True))
    edit_job.edit_shop(doc, replace(doc.job.shop, carry=30 * INCH, hold=95 * INCH))
    assert doc.plan is not None
    limits = {one.limit for one in beyond_limits(doc.plan, doc.job.shop)}
    assert limits == {Limit.CARRY, Limit.HOLD}
    sentences = said(doc)
    assert len(sentences) == 2
    assert any("and 30 in carries it" in text for text in sentences)
    assert any("and 95 in can be held" in text for text in sentences)


def test_a_limit_that_is_lifted_gives_the_better_plan_back(qtbot: QtBot) -> None:
    """Without the short rail the rips first cost less sawing, and are shown again."""
    del qtbot
    doc = shorten(document())
    adopt(doc, planned(doc.job))
    edit_job.edit_shop(doc, replace(doc.job.shop, rails=()))
    adopt(doc, planned(doc.job))
    assert doc.plan is not None
    assert doc.plan.cuts[0].kind is CutKind.RIP
