"""Errors of what is claimed, what lies nowhere, the shop, and matched sets."""

from copy import deepcopy
from random import Random
from typing import Final

from tests.soak.planting import (
    LATER,
    MORE,
    NAME,
    NOT_HERE,
    PROOF,
    STAYS,
    WEAKER,
    WORDS,
    Kind,
    Row,
    add,
    append,
    double,
    drop,
    flip,
    put,
    swap,
    when,
    word,
)

A_FINISHED: Final[Row] = {"part": "nobody knows", "copy": 1}


def _swapped_members(row: Row, raw: Row, chance: Random) -> object:
    """Swap two copies of equal size where they lie, and nothing else of the file."""
    names = {part["id"] for part in raw["parts"] if part["group"]}
    lying = [one for one in raw["placements"] if one["part"] in names]
    pairs = [
        (one, two)
        for place, one in enumerate(lying)
        for two in lying[place + 1 :]
        if (one["length"], one["width"]) == (two["length"], two["width"])
    ]
    if not pairs:
        return False
    one, two = chance.choice(pairs)
    for field in ("part", "copy"):
        one[field], two[field] = two[field], one[field]
    return True


def _swapped_everywhere(row: Row, raw: Row, chance: Random) -> object:
    """Swap two such copies in trees and keys, too, so that only the figure tells."""
    before = {(one["part"], one["copy"]): one for one in deepcopy(raw["placements"])}
    if not _swapped_members(row, raw, chance):
        return False
    moved = [
        (key, (now["part"], now["copy"]))
        for key, now in zip(before, raw["placements"], strict=True)
        if key != (now["part"], now["copy"])
    ]
    new = dict(moved)
    for sheet in raw["sheets"]:
        _rename_in(sheet["tree"], new)
    for cut in raw["cuts"]:
        cut["key"] = ""
    return True


def _rename_in(run: Row | None, new: dict[tuple[str, int], tuple[str, int]]) -> None:
    for piece in run["pieces"] if run else ():
        place = piece["place"]
        if place and (place["part"], place["copy"]) in new:
            place["part"], place["copy"] = new[place["part"], place["copy"]]
        _rename_in(piece["run"], new)


def _group_renamed(row: Row, raw: Row, chance: Random) -> object:
    """Give a whole set another name among the parts."""
    groups = [part["group"] for part in raw["parts"] if part["group"]]
    if not groups:
        return False
    gone = chance.choice(groups)
    for part in raw["parts"]:
        if part["group"] == gone:
            part["group"] = "another set"
    return True


def _block_split(row: Row, raw: Row, chance: Random) -> object:
    """Say that a figure breaks where it runs on."""
    long = [one for one in row["blocks"] if len(one["copies"]) > 1]
    if not long:
        return False
    block = chance.choice(long)
    at = chance.randrange(1, len(block["copies"]))
    rest = block | {"copies": block["copies"][at:]}
    block["copies"] = block["copies"][:at]
    row["blocks"].insert(row["blocks"].index(block) + 1, rest)
    return True


def _blocks_joined(row: Row, raw: Row, chance: Random) -> object:
    """Say that a figure runs on where it breaks."""
    if len(row["blocks"]) < 2:
        return False
    last = row["blocks"].pop()
    row["blocks"][-1]["copies"] += last["copies"]
    return True


CLAIMS: Final[dict[str, Kind]] = {
    # What is claimed.
    "value one more": Kind("proof", add("value", 1)),
    "value one less": Kind("proof", add("value", -1)),
    "bound above the value": Kind(
        "",
        when(
            lambda row: not row["unplaced"],
            lambda row, raw, chance: row["proof"].update(bound=row["proof"]["value"] + 1),
        ),
    ),
    "bound negative": Kind("proof", put("bound", -1)),
    "bound lowered": Kind("proof", add("bound", -1), WEAKER),
    "bound raised": Kind("proof", add("bound", 1), PROOF),
    "proven or not": Kind("proof", flip("proven"), PROOF),
    "another goal": Kind(
        "proof", word("goal", "fewest sheets", "least price", "least cost", "least area"), NAME
    ),
    "rule in other words": Kind("proof", put("rule", "any rule at all")),
    "prices in other words": Kind("proof", put("prices", "any prices at all"), WORDS),
    "value of a material more": Kind("proof.materials.*", add("value", 1)),
    "value of a material less": Kind("proof.materials.*", add("value", -1)),
    "bound of a material lowered": Kind("proof.materials.*", add("bound", -1), WEAKER),
    "bound of a material raised": Kind("proof.materials.*", add("bound", 1), PROOF),
    "bound of a material negative": Kind("proof.materials.*", put("bound", -1)),
    "material proven or not": Kind("proof.materials.*", flip("proven"), PROOF),
    "another goal of a material": Kind(
        "proof.materials.*",
        word("goal", "fewest sheets", "least price", "least cost", "least area"),
        NAME,
    ),
    "fewer cuts than any plan": Kind("proof.materials.*", put("least_cuts", 9999)),
    "fewest cuts negative": Kind("proof.materials.*", put("least_cuts", -1)),
    "least sawing of no proof": Kind(
        "proof.materials.*", when(lambda row: not row["proven"], put("least_sawing", True))
    ),
    "best offcut of no least sawing": Kind(
        "proof.materials.*", when(lambda row: not row["least_sawing"], put("best_remainder", True))
    ),
    "proof of unknown material": Kind("proof.materials.*", put("material", "nobody knows")),
    "proof of a material left out": Kind("proof", drop("materials"), WEAKER),
    "proof of a material twice": Kind("proof", double("materials")),
    "proof of one more material": Kind(
        "proof",
        append(
            "materials",
            {"material": "nobody knows", "goal": "fewest sheets", "value": 0, "bound": 0}
            | {"proven": True, "least_cuts": 0, "least_sawing": False, "best_remainder": False},
        ),
    ),
    # What lies nowhere.
    "unplaced unknown part": Kind(
        "", append("unplaced", {"part": "nobody knows", "copies": 1, "need": "waits"})
    ),
    "unplaced though it lies": Kind(
        "",
        lambda row, raw, chance: row["unplaced"].append(
            {"part": chance.choice(row["placements"])["part"], "copies": 1, "need": "waits"}
        ),
    ),
    "unplaced one more": Kind("unplaced.*", add("copies", 1)),
    "unplaced none": Kind("unplaced.*", put("copies", 0)),
    "unplaced without a need": Kind("unplaced.*", put("need", "")),
    "unplaced left out": Kind("", drop("unplaced")),
    "unplaced twice": Kind("", double("unplaced")),
    "finished unknown part": Kind("", append("finished", A_FINISHED)),
    "finished though it lies": Kind(
        "",
        lambda row, raw, chance: row["finished"].append(
            {key: chance.choice(row["placements"])[key] for key in ("part", "copy")}
        ),
    ),
    "finished another part": Kind("finished.*", put("part", "nobody knows")),
    "finished copy 0": Kind("finished.*", put("copy", 0)),
    "finished copy beyond all": Kind("finished.*", put("copy", 99)),
    "finished left out": Kind("", drop("finished")),
    "finished twice": Kind("", double("finished")),
    # The shop.
    "shop with another kerf": Kind("shop", add("kerf", 1)),
    "shop with a negative kerf": Kind("shop", put("kerf", -1)),
    "shop with another saw": Kind("shop", put("tool", "some other saw")),
    "shop with short rails": Kind(
        "shop",
        lambda row, raw, chance: row.update(
            rails=[{"length": row["overhang"] + 4_000_000, "joined": 1}]
        ),
        STAYS,
    ),
    "shop with a rail of no length": Kind("shop", put("rails", [{"length": 0, "joined": 1}])),
    "shop with rails joined from none": Kind(
        "shop", put("rails", [{"length": 10**9, "joined": 0}])
    ),
    "shop without rails": Kind("shop", put("rails", []), MORE),
    "shop with a negative overhang": Kind("shop", put("overhang", -1)),
    "shop where nothing carries the rail": Kind("shop", put("carry", 10**9), STAYS),
    "shop with a negative carry": Kind("shop", put("carry", -1)),
    "shop where nothing can be held": Kind("shop", put("hold", 10**9), STAYS),
    "shop with a negative hold": Kind("shop", put("hold", -1)),
    "shop without its table saw": Kind("shop", put("table", None), NOT_HERE),
    "table saw with another kerf": Kind("shop.table", add("kerf", 1), NOT_HERE),
    "table saw with a negative kerf": Kind("shop.table", put("kerf", -1)),
    "table saw of another name": Kind("shop.table", put("tool", "some other saw"), NOT_HERE),
    "table saw that can be set to nothing": Kind(
        "shop.table", put("fence", {"least": 9000, "most": 8000})
    ),
    "guide that can be set to nothing": Kind("shop", put("guide", {"least": 9000, "most": 8000})),
    "shop that keeps every offcut": Kind(
        "", lambda row, raw, chance: row["shop"].update(keep_length=0, keep_width=0), MORE
    ),
    "shop that keeps no offcut": Kind("shop", put("keep_length", 10**10), MORE),
    "shop with negative keep": Kind("shop", put("keep_width", -1)),
    "shop where nothing may lie about": Kind("shop", put("loose", 0)),
    "shop with negative seconds": Kind("shop", put("cut_s", -1)),
    "shop with a negative lift": Kind("shop", put("lift_g", -1)),
    "shop with a negative oversize": Kind("shop", put("oversize", -1)),
    "shop with another pace": Kind("shop", add("cut_s", 10), LATER),
    "shop with another way of sawing": Kind("shop", word("sawing", "by sheet", "by set-up"), LATER),
    "rule of one level": Kind("rule", put("levels", 1)),
    "rule of nine levels": Kind("rule", put("levels", 9)),
    "rule of two levels": Kind("rule", put("levels", 2), NOT_HERE),
    "rule of the other direction": Kind("rule", word("first", "rip", "crosscut"), NOT_HERE),
    # Matched sets.
    "members swapped where they lie": Kind("", _swapped_members),
    "members swapped in the tree, too": Kind("", _swapped_everywhere),
    "set renamed among the parts": Kind("", _group_renamed),
    "part of a set set free": Kind("parts.*", when(lambda row: row["group"], put("group", ""))),
    "part in a set it is not of": Kind("parts.*", put("group", "another set"), NOT_HERE),
    "set renamed": Kind("matches.*", put("name", "another set")),
    "set of other rows": Kind("matches.*", add("columns", 1), NOT_HERE),
    "set without columns": Kind("matches.*", put("columns", 0)),
    "set left out": Kind("", drop("matches")),
    "set told twice": Kind("", double("matches")),
    "block left out": Kind("matches.*", drop("blocks")),
    "block told twice": Kind("matches.*", double("blocks")),
    "block told to break": Kind("matches.*", _block_split),
    "blocks told to be one": Kind("matches.*", _blocks_joined),
    "block on another sheet": Kind("matches.*.blocks.*", put("sheet", "777")),
    "block turned": Kind(
        "matches.*.blocks.*", word("way", "straight", "turned left", "turned right")
    ),
    "block without a member": Kind("matches.*.blocks.*", drop("copies")),
    "block with a member twice": Kind("matches.*.blocks.*", double("copies")),
    "members of a block swapped": Kind("matches.*.blocks.*", swap("copies")),
    "member of a block unknown": Kind("matches.*.blocks.*.copies.*", put("part", "nobody knows")),
    "member of a block another copy": Kind("matches.*.blocks.*.copies.*", add("copy", 1)),
}
