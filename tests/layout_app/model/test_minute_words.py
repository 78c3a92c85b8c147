"""Where the minutes go: whole minutes of each kind that add up to what is shown of all."""

from dataclasses import astuple, replace
from math import ceil

import hypothesis.strategies as st
import pytest
from hypothesis import given, settings

from layout_app.model.words.minute_words import KINDS, PACE, shares, where_they_go, whose_seconds
from layout_app.model.words.order_words import verdict
from shared.lengths import MM
from shared.making.timing import Counts, Seconds
from shared.practice import USUAL_SHOP, USUAL_SHOP_IN
from shared.shop import SawingOrder, Shop

SOME = Seconds(
    cutting=3480, setting=2290, measuring=290, marking=540, rails=250, lifting=790, skimming=0
)


def test_kinds_add_up_to_the_minutes_shown() -> None:
    """58, 38 and 1/6, 4 and 5/6, 9, 4 and 1/6, 13 and 1/6 are 127 and 1/3: shown as 128.

    121 + 5 whole minutes are 126, and two more go to the largest rests: 5/6 and the first 1/6.
    """
    assert dict(shares(SOME)) == {
        "cutting": 58,
        "set-ups": 39,
        "measuring first pieces": 5,
        "marking sizes": 9,
        "rails": 4,
        "lifting and turning": 13,
    }
    assert where_they_go(Seconds(), Counts(), USUAL_SHOP) == ()


def test_minutes_can_be_added_up_from_what_is_said() -> None:
    """Counts times seconds, in plain arithmetic; figures of the maker's own are marked.

    4 x 50 + 12 x 5.5 = 266, 3 x 60 = 180, 20, 2 x 60, 20 + 2 x 120, 3 x 20 + 15 + 60, 60.
    """
    its = Counts(
        cuts=4,
        sawn=5500 * MM,
        settings=3,
        proven=1,
        marked=2,
        exchanged=1,
        joined=2,
        lifts=3,
        turns=1,
        heavy=1,
        skims=1,
    )
    took = Seconds(
        cutting=266,
        setting=180,
        measuring=20,
        marking=120,
        rails=260,
        lifting=135,
        skimming=60,
    )
    slow = replace(USUAL_SHOP, cut_s=50, metre_s=12)
    assert [share.counted for share in where_they_go(took, its, slow)] == [
        "4 cuts, your 50 s each; your 12 s a metre (39 in) over 5.5 m",
        "set 3 times, 60 s each; 2 set-up changes, as the first is none",
        "1 first piece, 20 s",
        "2 cuts, 60 s each",
        "another in hand once, 20 s; joined or parted twice, 120 s each",
        "3 lifts, 20 s each; 1 turn, 15 s; 1 heavy, 60 s more",
        "1 cut, 60 s more",
    ]
    own = where_they_go(took, its, replace(USUAL_SHOP, **dict.fromkeys(PACE, 7)))
    assert own[5].counted == "3 lifts, 7 s each; 1 turn, 7 s; 1 heavy, 7 s more"
    few = where_they_go(Seconds(setting=60), Counts(settings=1), slow)
    assert [share.counted for share in few] == [
        "set once, 60 s; no set-up change, as the first is none"
    ]


@settings(max_examples=60, deadline=None)
@given(st.lists(st.integers(0, 20_000), min_size=7, max_size=7))
def test_no_minute_is_lost_or_made(each: list[int]) -> None:
    """Quota rule of largest remainders: each kind gets its share rounded down or up."""
    took = Seconds(**dict(zip(Seconds.__dataclass_fields__, each, strict=True)))
    said = dict(shares(took))
    assert sum(said.values()) == ceil(sum(each) / 60)
    for kind, seconds in zip(KINDS.values(), astuple(took), strict=True):
        assert said.get(kind, 0) in {seconds // 60, ceil(seconds / 60)}


@pytest.mark.parametrize(
    ("shop", "said"),
    [
        (USUAL_SHOP, "The seconds behind them are common practice, estimates. "),
        (replace(USUAL_SHOP_IN, loose=3), "The seconds behind them are common practice"),
        (replace(USUAL_SHOP, cut_s=50), "The seconds for a cut are your own, the others are"),
        (
            replace(USUAL_SHOP, cut_s=50, lift_s=25, turn_s=5),
            "The seconds for a cut, a lift and a turn are your own, the others are common",
        ),
        (
            replace(USUAL_SHOP, **dict.fromkeys(PACE, 7)),
            "The seconds behind them are your own. Change them in the tab Shop, under",
        ),
    ],
)
def test_it_is_said_whose_the_seconds_are(shop: Shop, said: str) -> None:
    """The maker's are named, as long as they are not all."""
    assert whose_seconds(shop).startswith(said)


@pytest.mark.parametrize(
    ("seconds", "least", "said"),
    [
        (600, 600, "no {} order takes fewer minutes"),
        (600, 599, "at most 1 min could be saved, {}"),
        (600, 540, "at most 1 min could be saved, {}"),
        (600, 239, "at most 7 min could be saved, {}"),
    ],
)
def test_an_order_is_said_to_be_best_only_if_it_is(seconds: int, least: int, said: str) -> None:
    """A second that may be saved is up to a minute on the page, of orders of the same mode.

    Walking least, lifts come first.
    """
    names = {
        SawingOrder.BY_SHEET: ("sheet-by-sheet", "sheet by sheet"),
        SawingOrder.BY_SETUP: ("set-up-by-set-up", "set-up by set-up"),
    }
    for mode, (joined, name) in names.items():
        of = joined if seconds == least else name
        assert verdict(mode, seconds, least) == said.format(of)
    walking = verdict(SawingOrder.LEAST_WALKING, seconds, least)
    best = "least walking: no order has fewer lifts and turns"
    assert walking == (best if seconds == least else "least walking")
