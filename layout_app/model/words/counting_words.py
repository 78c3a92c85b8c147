"""How minutes are counted, kind of work by kind of work, with the shop's own seconds."""

from layout_app.model.words.minute_words import whose_seconds
from shared.lengths import Unit
from shared.shop import Shop, Support
from shared.weighing import format_weight


def how_counted(shop: Shop, unit: Unit) -> tuple[str, ...]:
    """Say in sentences what is counted, with the seconds of a shop, and what is not."""
    lifted, turned = (
        format_weight(grams, unit) if grams else "any weight"
        for grams in (shop.lift_g, shop.turn_g)
    )
    walked = (
        "" if shop.support is Support.HORSES else " On your support nothing is turned a quarter."
    )
    return (
        "Minutes are a sum over the cuts in the order that is shown, begun with nothing set and"
        " nothing in hand. What has no figure here, such as a rest or sweeping, is no part of it.",
        f"A cut: {shop.cut_s} s, and {shop.metre_s} s for each metre (39 in) of its length.",
        f"A set-up: {shop.setup_s} s whenever guide, stop or fence is set, also to the size it had"
        " before the rail was changed. Trims and what is marked set nothing.",
        f"A first piece: {shop.measure_s} s, measured before the next of several is cut at one"
        " set-up.",
        f"Marking both ends: {shop.unguided_s} s, where neither guide nor stop can be set.",
        f"Another rail: {shop.rail_s} s for putting one away and taking another;"
        f" {shop.join_s} s for joining rails, or parting them.",
        f"A lift: {shop.lift_s} s whenever a piece is laid on its support. A turn there, a quarter"
        f" or over: {shop.turn_s} s.{walked}",
        f"Heavy pieces: {shop.heavy_s} s more for each lift or turn beyond what you can alone. You"
        f" lift {lifted}, and turn {turned}.",
        f"A skim cut: {shop.skim_s} s more, since only part of the kerf is in wood.",
        "While a layout is planned, or changed by hand, there is no order yet: then cuts, sizes"
        " that are set, what is marked and skim cuts are weighed, a cut as one of a metre.",
        "That no order takes fewer minutes is said of the layout shown and the mode chosen: another"
        " of either may take fewer.",
        "Ticked in the walk through the cuts, eight cuts with a kind of work and eight without tell"
        " what it takes you. That is offered in the tab Shop; nothing changes by itself. It is no"
        " race.",
        whose_seconds(shop),
    )
