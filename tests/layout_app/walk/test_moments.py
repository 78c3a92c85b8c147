"""What comes before a cut on the walk: sheets checked, rails laid, pieces turned, sizes set."""

from dataclasses import replace

from layout_app.document.document import Document
from layout_app.panels.ticks import all_cards
from layout_app.walk.moments import (
    Before,
    CheckSheet,
    CutNow,
    End,
    RailChange,
    SetUp,
    Start,
    TurnOver,
    moments_of,
)
from layout_app.walk.notices import LOST, notice
from layout_app.walk.pages import spoken
from shared.lengths import INCH
from shared.making.record import RailLaid
from shared.making.settings import Device, Setting
from shared.shop import Rail
from shared.telling import Untold, words


def test_what_has_to_be_changed_has_its_moment_before_its_cut(doc: Document) -> None:
    """Moments are the cautions, then before each cut what its record says is to be done."""
    cards = all_cards(doc)
    moments = moments_of(cards)
    assert isinstance(moments[0], Start)
    assert isinstance(moments[-1], End)
    assert [m.card for m in moments if isinstance(m, CutNow)] == list(cards)
    before = {kind: set[int]() for kind in (CheckSheet, SetUp, RailChange, TurnOver)}
    for moment in moments:
        if type(moment) in before:
            before[type(moment)].add(moment.card.number)
    assert before[SetUp] == {card.number for card in cards if card.record.anew}
    rails = {card.number: card.record.rail for card in cards if card.record.rail}
    assert before[RailChange] == {n for n, laid in rails.items() if laid.change or laid.fetched}
    assert min(rails) in before[RailChange]
    assert before[TurnOver] == {card.number for card in cards if card.record.turn_over}
    assert before[CheckSheet] == {cards[0].number}
    assert before[SetUp]
    assert before[RailChange]


def test_the_first_rail_is_laid_before_anything_is_checked_or_set(doc: Document) -> None:
    """It serves for the check of the sheet as well; there is none that it is laid instead of."""
    moments = moments_of(all_cards(doc))
    first, check = (moment for moment in moments[:4] if not isinstance(moment, Start))
    assert isinstance(first, RailChange)
    assert isinstance(check, CheckSheet)
    said = notice(first, doc.job.style)
    assert (said.lead, first.before) == ("Lay", None)
    assert f"Lay the {said.figure} along" in " ".join(notice(check, doc.job.style).lines)


def test_a_set_up_names_the_cuts_until_it_is_set_again(doc: Document) -> None:
    """Every cut that is set is named by one set-up, that of its own setting."""
    cards = all_cards(doc)
    found = [m for m in moments_of(cards) if isinstance(m, SetUp)]
    named = [(number, m.setting) for m in found for number in m.numbers]
    assert named == [(c.number, c.record.setting) for c in cards if c.record.setting.name]


def test_what_came_off_with_the_rail_is_set_again(doc: Document) -> None:
    """Turned over, another rail, the guide set as it was: three moments, in that order, and why."""
    cut = all_cards(doc)[0]
    guide = Setting(device=Device.GUIDE, tool="saw", size=12 * INCH, name="G1")
    laid = RailLaid(
        rail=Rail(length=55 * INCH),
        width=7 * INCH,
        run_up=INCH,
        run_out=INCH,
        enough=True,
        change=False,
        fetched=False,
        joins=False,
        parted=False,
        edge_at=12 * INCH,
    )
    bare = replace(cut.record, sheet_check=None)
    record = replace(bare, setting=guide, anew=True, proves=True, rail=laid)
    longer = replace(laid, rail=Rail(length=110 * INCH), change=True)
    again = replace(record, rail=longer, turn_over=True, again=True, proves=False)
    tell = cut.untold._tell
    first, second = (replace(cut, untold=Untold(one, tell)) for one in (record, again))
    moments = moments_of((first, second))
    kinds = [type(moment) for moment in moments if not isinstance(moment, Start)]
    assert kinds == [SetUp, CutNow, TurnOver, RailChange, SetUp, CutNow, End]
    style = doc.job.style
    said = [notice(moment, style) for moment in moments if isinstance(moment, Before)]
    assert [one.figure for one in said] == ["12", "sheet 1", "110 in rail", "12"]
    assert "55 in rail" in said[2].lead
    assert LOST in said[3].lines
    assert LOST not in said[0].lines
    assert words.MEASURE_ONE in said[0].lines
    assert words.MEASURE_ONE not in said[3].lines

    joined = replace(laid, rail=Rail(length=55 * INCH, joined=2), change=True)
    parted = replace(laid, change=True, parted=True)
    for rail, before, lead in (
        (joined, laid.rail, "Join the rails, and lay"),
        (parted, joined.rail, "Part the rails, and lay"),
    ):
        card = replace(cut, untold=Untold(replace(record, rail=rail), tell))
        assert notice(RailChange(card, before), style).lead == lead


def test_rails_joined_to_check_a_sheet_are_parted_for_its_first_cut(doc: Document) -> None:
    """One of two of 55 is laid after both were joined along the edge; of three one is left."""
    cut = next(card for card in all_cards(doc) if card.record.rail and card.record.sheet_check)
    rail, check = cut.record.rail, cut.record.sheet_check
    assert rail is not None
    assert check is not None
    for count, lead in ((2, "Part the rails, and lay"), (3, "Lay")):
        single = Rail(length=55 * INCH, count=count)
        laid = replace(rail, rail=single, fetched=True, change=False, parted=False)
        both = replace(check, rail=replace(single, joined=2))
        record = replace(cut.record, rail=laid, sheet_check=both)
        card = replace(cut, untold=Untold(record, cut.untold._tell))
        checked, laying, *_ = (one for one in moments_of([card]) if isinstance(one, Before))
        assert isinstance(checked, CheckSheet)
        assert isinstance(laying, RailChange)
        assert notice(laying, doc.job.style).lead == lead


def test_what_comes_before_a_cut_is_spoken_as_its_page_says_it(doc: Document) -> None:
    """Every word of the page, its figure included, and a full stop behind each sentence."""
    moments = moments_of(all_cards(doc))
    befores = [one for one in moments if isinstance(one, Before)]
    assert {type(one) for one in befores} >= {CheckSheet, SetUp, RailChange}
    for one in befores:
        said, page = spoken(one, doc.job.style), notice(one, doc.job.style)
        for part in (page.title, page.lead, page.figure, *page.lines):
            assert part.rstrip(".") in said
        assert said.endswith(".")
        assert ".." not in said
