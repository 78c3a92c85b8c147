"""Minutes to go: with ticks the heading tells what is ahead, and when an order was found.

The sum is that of the records of cuts that are not ticked, by plain arithmetic.
"""

import re
from dataclasses import replace
from typing import Any

import pytest
from pytestqt.qtbot import QtBot

from layout_app.document.document import Document
from layout_app.document.edit_job import edit_shop
from layout_app.document.ticks import tick
from layout_app.look.elided_label import Shortened
from layout_app.model.words.minute_words import PACE, minutes_tip
from layout_app.model.words.order_words import (
    order_words,
    sequence_versions,
    sequence_words,
    to_go_s,
)
from shared.making.recording import records
from shared.plan import Plan
from shared.practice import USUAL_SHOP
from tests.layout_app.small_job import document
from tests.seconds import minutes_of


@pytest.fixture
def doc(qtbot: QtBot) -> Document:
    """Return the small job at the pace of common practice, its order said to be the best."""
    del qtbot
    made = document()
    pace: dict[str, Any] = {name: getattr(USUAL_SHOP, name) for name in PACE}
    edit_shop(made, replace(made.job.shop, **pace))
    layout = replace(made.layout, sawing=made.job.shop.sawing, least_s=100_000)
    made.open(replace(made.project, layout=layout), None)
    return made


def plan_of(doc: Document) -> Plan:
    """Return the plan that is shown."""
    assert doc.plan is not None
    return doc.plan


def ahead(doc: Document) -> int:
    """Return the minutes of the records that are not ticked."""
    shop, made = doc.job.shop, set(doc.progress.made)
    left = [one for one in records((plan_of(doc),), shop) if one.number not in made]
    return minutes_of(left, shop)


def test_minutes_to_go_are_those_of_the_cuts_not_ticked(doc: Document) -> None:
    """Tick after tick, also out of turn; once all are made nothing is to go."""
    assert doc.takes is not None
    cuts, all_of_it = doc.takes.cuts, doc.takes.minutes
    assert sequence_words(doc.sawn, doc.takes).startswith(f"{cuts} cuts, about {all_of_it} min, ")
    assert to_go_s(doc.sawn) is None
    assert "To go" not in minutes_tip(doc.takes, doc.job.shop, left_s=to_go_s(doc.sawn))
    seen = [all_of_it]
    for number in range(1, cuts):
        tick(doc, [number])
        seen.append(ahead(doc))
        said = sequence_words(doc.sawn, doc.takes)
        begins = f"{number} made, {cuts - number} to go, about {seen[-1]} of {all_of_it} min, "
        assert said.startswith(begins)
        tip = minutes_tip(doc.takes, doc.job.shop, left_s=to_go_s(doc.sawn))
        assert tip.startswith(f"To go: about {seen[-1]} min.\n")
    assert seen == sorted(seen, reverse=True)
    assert seen[-1] < all_of_it
    tick(doc, [cuts])
    said = sequence_words(doc.sawn, doc.takes)
    assert said.startswith(f"all {cuts} cuts made, about {all_of_it} min, ")


def test_an_order_of_an_earlier_pace_is_said_to_be_one(doc: Document) -> None:
    """With ticks another pace orders nothing anew: in place of the verdict that is said."""
    shop = doc.job.shop
    best, earlier = (
        "no sheet-by-sheet order takes fewer minutes",
        "order found for the earlier pace",
    )
    tick(doc, [1])
    assert sequence_words(doc.sawn, doc.takes).endswith(f"; {best}")
    order = [cut.key for cut in plan_of(doc).cuts]
    assert edit_shop(doc, replace(shop, lift_s=shop.lift_s + 15))
    assert [cut.key for cut in plan_of(doc).cuts] == order
    assert sequence_words(doc.sawn, doc.takes).endswith(f"; sheet by sheet, {earlier}")
    assert re.fullmatch(rf"\d+ set-up changes?, sheet by sheet, {earlier}", order_words(doc.sawn))
    doc.undo()
    assert sequence_words(doc.sawn, doc.takes).endswith(f"; {best}")


def test_less_is_said_where_there_is_no_room(doc: Document) -> None:
    """What stands elsewhere goes first; verdict, or with ticks what is to go, stays to the last."""
    assert doc.takes is not None
    minutes, best = f"about {doc.takes.minutes} min", "no sheet-by-sheet order takes fewer minutes"
    *longer, last = sequence_versions(doc.sawn, doc.takes)
    assert last == f"{minutes}; {best}"
    assert all(best in words for words in longer)
    tick(doc, [1])
    full, *longer, last = sequence_versions(doc.sawn, doc.takes)
    begins = f"1 made, {doc.takes.cuts - 1} to go, about {ahead(doc)} of {doc.takes.minutes} min"
    assert last == begins
    assert full.startswith(f"{begins}, {doc.takes.setup_changes} set-up change")
    assert [len(words) for words in (*longer, last)] == sorted(map(len, (*longer, last)))[::-1]
    label = Shortened()
    label.say(full, (*longer, last))
    room = label.fontMetrics().horizontalAdvance
    assert label.words_for(room(full)) == label.text() == label.accessibleName() == full
    assert label.words_for(room(full) - 1) == longer[0]
    assert label.words_for(room(last)) == label.words_for(10) == last
