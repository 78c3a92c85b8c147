"""Errors of the file itself, and of parts, sheets, trees, placements, cuts and offcuts."""

from collections.abc import Iterator
from copy import deepcopy
from random import Random
from typing import Final

from tests.soak.planting import (
    ALONE,
    NOT_HERE,
    Change,
    Kind,
    Row,
    add,
    append,
    double,
    drop,
    flip,
    other,
    put,
    swap,
    when,
    word,
)

TICK: Final = 1


def _cuts_swapped(row: Row, raw: Row, chance: Random) -> object:
    """Change the order of two cuts of one sheet, their numbers mended."""
    pairs = [
        (at, at + 1)
        for at in range(len(row["cuts"]) - 1)
        if row["cuts"][at]["off"] and row["cuts"][at + 1]["piece"] == row["cuts"][at]["off"]
    ]
    if not pairs:
        return False
    one, two = chance.choice(pairs)
    cuts = row["cuts"]
    cuts[one], cuts[two] = cuts[two], cuts[one]
    for number, cut in enumerate(cuts, row["first"]):
        cut["number"] = number
    return True


def _sheet_gone(row: Row, raw: Row, chance: Random) -> None:
    """Leave out a sheet with all that lies on it and is cut of it."""
    gone = chance.choice(row["sheets"])["id"]
    row["sheets"] = [one for one in row["sheets"] if one["id"] != gone]
    for field in ("placements", "cuts", "offcuts"):
        row[field] = [one for one in row[field] if one["sheet"] != gone]
    for number, cut in enumerate(row["cuts"], row["first"]):
        cut["number"] = number


def _tree_swapped(row: Row, raw: Row, chance: Random) -> object:
    """Swap two pieces of different size of some run of a tree."""
    runs = [
        run for run in _runs(row["tree"]) if len({piece["size"] for piece in run["pieces"]}) > 1
    ]
    if not runs:
        return False
    pieces = chance.choice(runs)["pieces"]
    one, two = pieces[0], next(piece for piece in pieces if piece["size"] != pieces[0]["size"])
    at, to = pieces.index(one), pieces.index(two)
    pieces[at], pieces[to] = two, one
    return True


def _runs(run: Row | None) -> Iterator[Row]:
    if run:
        yield run
        for piece in run["pieces"]:
            yield from _runs(piece["run"])


def in_tree(change: Change) -> Change:
    """Return a change of some run of a tree."""

    def some(row: Row, raw: Row, chance: Random) -> object:
        return change(chance.choice(list(_runs(row["tree"]))), raw, chance)

    return some


def _piece_doubled(run: Row, raw: Row, chance: Random) -> object:
    """List a piece twice; not one of waste, which may be what falls behind it anyway."""
    pieces = [piece for piece in run["pieces"] if piece["place"] or piece["run"]]
    if not pieces:
        return False
    run["pieces"].append(deepcopy(chance.choice(pieces)))
    return True


def of_a_place(change: Change) -> Change:
    """Return a change of a part in a tree."""

    def some(row: Row, raw: Row, chance: Random) -> object:
        found = [p["place"] for run in _runs(row["tree"]) for p in run["pieces"] if p["place"]]
        return change(chance.choice(found), raw, chance) if found else False

    return some


CUTTING: Final[dict[str, Kind]] = {
    # The file itself.
    "another format": Kind("", put("format", "other-plan")),
    "version 1": Kind("", put("version", 1)),
    "version of the future": Kind("", put("version", 99)),
    "another tick": Kind("", put("tick_nm", 50)),
    "a field nobody knows": Kind("", put("remark", "x")),
    "first number one more": Kind("", add("first", 1)),
    "first number one less": Kind("", add("first", -1)),
    "no shop": Kind("", put("shop", None)),
    "no rule": Kind("", put("rule", None)),
    # Parts.
    "part renamed": Kind("parts.*", put("id", "nobody knows")),
    "part without id": Kind("parts.*", put("id", "")),
    "part of another's id": Kind("parts.*", other("id", "parts.*")),
    "part longer": Kind("parts.*", add("length", TICK)),
    "part wider": Kind("parts.*", add("width", TICK)),
    "part without length": Kind("parts.*", put("length", 0)),
    "part of negative width": Kind("parts.*", put("width", -1000)),
    "one copy more": Kind("parts.*", add("copies", 1)),
    "one copy less": Kind("parts.*", add("copies", -1)),
    "no copies": Kind("parts.*", put("copies", 0)),
    "part of unknown material": Kind("parts.*", put("material", "nobody knows")),
    "part of another material": Kind("parts.*", other("material", "parts.*")),
    "grain along the other side": Kind(
        "parts.*",
        when(
            lambda row: row["grain_rule"] != "either",
            word("grain_rule", "along length", "along width"),
        ),
        NOT_HERE,
    ),
    "final length changed": Kind("parts.*", add("sawn_length", -TICK)),
    "final width changed": Kind("parts.*", add("sawn_width", -TICK)),
    "final length negative": Kind("parts.*", put("sawn_length", -1000)),
    "final width above the blank": Kind(
        "parts.*", lambda row, raw, chance: row.update(sawn_width=row["width"] + 1)
    ),
    "last cuts that wait": Kind("parts.*", flip("waits")),
    "show face": Kind("parts.*", flip("show"), NOT_HERE),
    "allowance changed": Kind("parts.*", add("allowance", 40_000), NOT_HERE),
    "allowance negative": Kind("parts.*", put("allowance", -40_000)),
    "oversize changed": Kind("parts.*", add("oversize", 40_000), NOT_HERE),
    "oversize negative": Kind("parts.*", put("oversize", -40_000)),
    "part left out": Kind("", drop("parts")),
    "part listed twice": Kind("", double("parts")),
    # Sheets.
    "sheet renamed": Kind("sheets.*", put("id", "777")),
    "sheet without id": Kind("sheets.*", put("id", "")),
    "sheet of another's number": Kind("sheets.*", other("id", "sheets.*")),
    "sheet of another row": Kind("sheets.*", other("stock", "sheets.*")),
    "sheet of unknown material": Kind("sheets.*", put("material", "nobody knows")),
    "sheet of another material": Kind("sheets.*", other("material", "sheets.*")),
    "sheet of negative thickness": Kind("sheets.*", put("thickness", -720_000)),
    "sheet of another thickness": Kind("sheets.*", add("thickness", 40_000), ALONE),
    "sheet without thickness": Kind("sheets.*", put("thickness", 0), ALONE),
    "sheet longer": Kind("sheets.*", add("length", TICK)),
    "sheet narrower": Kind("sheets.*", add("width", -TICK)),
    "sheet without size": Kind("sheets.*", put("length", 0)),
    "grain of the sheet turned": Kind(
        "sheets.*",
        when(lambda row: row["grain"] != "none", word("grain", "along L", "along W")),
        NOT_HERE,
    ),
    "near trim more": Kind("sheets.*.trims", add("near", TICK)),
    "start trim more": Kind("sheets.*.trims", add("start", TICK)),
    "far trim negative": Kind("sheets.*.trims", put("far", -1)),
    "end trim negative": Kind("sheets.*.trims", put("end", -1)),
    "far trim over parts": Kind(
        "sheets.*", lambda row, raw, chance: row["trims"].update(far=row["width"])
    ),
    "negative price": Kind("sheets.*", put("price", -5200)),
    "another price": Kind("sheets.*", add("price", 100)),
    "another cost": Kind("sheets.*", add("cost", 100), ALONE),
    "negative cost": Kind("sheets.*", put("cost", -1)),
    "money for area": Kind("sheets.*", flip("by_area"), NOT_HERE),
    "negative density": Kind("sheets.*", put("density", -680)),
    "another density": Kind("sheets.*", add("density", 50), ALONE),
    "bad place under a part": Kind(
        "sheets.*",
        lambda row, raw, chance: row["no_go"].append(
            {"x": 0, "y": 0, "length": row["length"], "width": row["width"], "show_only": False}
        ),
    ),
    "bad place off the sheet": Kind(
        "sheets.*",
        append("no_go", {"x": -5000, "y": 0, "length": 9, "width": 9, "show_only": False}),
    ),
    "bad place without size": Kind(
        "sheets.*", append("no_go", {"x": 0, "y": 0, "length": 0, "width": 9, "show_only": False})
    ),
    "bad place left out": Kind("sheets.*", drop("no_go"), ALONE),
    "pieces sawn off before": Kind("sheets.*", add("named", 1)),
    "pieces sawn off before, negative": Kind("sheets.*", put("named", -1)),
    "whole sheet called a piece": Kind("sheets.*", flip("piece")),
    "sheet that stays": Kind(
        "sheets.*", flip("stays"), "no limit is held against it, which claims less"
    ),
    "sheet off the rule": Kind("sheets.*", flip("off_rule")),
    "sheet left out": Kind("", drop("sheets")),
    "sheet listed twice": Kind("", double("sheets")),
    "sheet left out with all on it": Kind("", _sheet_gone),
    # Trees.
    "tree missing": Kind("sheets.*", put("tree", None)),
    "tree with a larger piece": Kind(
        "sheets.*",
        in_tree(
            lambda run, raw, chance: (
                bool(run["pieces"]) and add("size", TICK)(chance.choice(run["pieces"]), raw, chance)
            )
        ),
    ),
    "tree with a negative piece": Kind(
        "sheets.*",
        in_tree(
            lambda run, raw, chance: (
                bool(run["pieces"]) and put("size", -5)(chance.choice(run["pieces"]), raw, chance)
            )
        ),
    ),
    "tree in the other direction": Kind("sheets.*", in_tree(word("axis", "rip", "crosscut"))),
    "tree with another trim": Kind("sheets.*", in_tree(add("trim", 40_000))),
    "tree without a piece": Kind("sheets.*", in_tree(drop("pieces"))),
    "tree with a piece twice": Kind("sheets.*", in_tree(_piece_doubled)),
    "tree in another order": Kind("sheets.*", _tree_swapped),
    "tree with another copy": Kind("sheets.*", of_a_place(add("copy", 1))),
    "tree with an unknown part": Kind("sheets.*", of_a_place(put("part", "nobody knows"))),
    "tree with a part turned": Kind("sheets.*", of_a_place(flip("turned"))),
    # Placements.
    "placement of unknown part": Kind("placements.*", put("part", "nobody knows")),
    "placement of another part": Kind("placements.*", other("part", "placements.*")),
    "placement of another copy": Kind("placements.*", add("copy", 1)),
    "placement of copy 0": Kind("placements.*", put("copy", 0)),
    "placement on unknown sheet": Kind("placements.*", put("sheet", "777")),
    "placement on another sheet": Kind("placements.*", other("sheet", "placements.*")),
    "placement moved along": Kind("placements.*", add("x", TICK)),
    "placement moved across": Kind("placements.*", add("y", -TICK)),
    "placement moved far": Kind("placements.*", add("x", 400_000_000)),
    "placement longer": Kind("placements.*", add("length", TICK)),
    "placement narrower": Kind("placements.*", add("width", -TICK)),
    "placement turned": Kind("placements.*", flip("turned")),
    "placement left out": Kind("", drop("placements")),
    "placement listed twice": Kind("", double("placements")),
    "placements swapped": Kind("", swap("placements", "x", "y", "sheet")),
    "copies swapped": Kind("", swap("placements", "part", "copy")),
    # Cuts.
    "cut of another number": Kind("cuts.*", add("number", 1)),
    "cut of another sheet": Kind("cuts.*", other("sheet", "cuts.*")),
    "cut of unknown sheet": Kind("cuts.*", put("sheet", "777")),
    "cut of another kind": Kind(
        "cuts.*", word("kind", "trim", "rip", "crosscut", "last trim", "finish")
    ),
    "cut one level deeper": Kind("cuts.*", add("level", 1)),
    "cut one level higher": Kind("cuts.*", add("level", -1)),
    "cut two levels deeper": Kind("cuts.*", add("level", 2)),
    "cut of level 0": Kind("cuts.*", put("level", 0)),
    "cut by an unknown saw": Kind("cuts.*", put("tool", "some other saw")),
    "cut by the other saw": Kind(
        "cuts.*",
        lambda row, raw, chance: (
            bool(raw["shop"]["table"])
            and row.update(
                tool=raw["shop"]["table"]["tool"]
                if row["tool"] == raw["shop"]["tool"]
                else raw["shop"]["tool"]
            )
            is None
        ),
    ),
    "kerf one tick more": Kind("cuts.*", add("kerf", TICK)),
    "kerf of none": Kind("cuts.*", put("kerf", 0)),
    "negative kerf": Kind("cuts.*", put("kerf", -88_000)),
    "cut moved along": Kind("cuts.*", add("x", TICK)),
    "cut moved across": Kind("cuts.*", add("y", TICK)),
    "cut that stops short": Kind("cuts.*", add("length", -TICK)),
    "cut that runs over": Kind("cuts.*", add("width", TICK)),
    "cut of another piece": Kind("cuts.*", other("piece", "cuts.*")),
    "cut of no piece": Kind("cuts.*", put("piece", "777z")),
    "piece of a name taken": Kind("cuts.*", other("off", "cuts.*")),
    "piece without a name": Kind("cuts.*", put("off", "")),
    "piece of a free name": Kind(
        "cuts.*", lambda row, raw, chance: row.update(off=row["piece"] + "zz7")
    ),
    "cut of another set-up": Kind("cuts.*", other("setup", "cuts.*")),
    "cut of a set-up of its own": Kind(
        "cuts.*",
        lambda row, raw, chance: (
            sum(c["setup"] == row["setup"] for c in raw["cuts"]) > 1
            and row.update(setup="its own") is None
        ),
    ),
    "running position moved": Kind("cuts.*", add("running", TICK)),
    "size changed": Kind("cuts.*", add("size", -TICK)),
    "kept on the other side": Kind("cuts.*", word("keep", "near", "far")),
    "key of another cut": Kind("cuts.*", other("key", "cuts.*")),
    "key of nothing": Kind("cuts.*", put("key", "")),
    "key of an unknown part": Kind("cuts.*", put("key", "1/nobody knows:1")),
    "cut left out": Kind("", drop("cuts")),
    "cut listed twice": Kind("", double("cuts")),
    "cut before its piece is there": Kind("", _cuts_swapped),
    # Offcuts.
    "offcut of another sheet": Kind("offcuts.*", put("sheet", "777")),
    "offcut of another piece": Kind("offcuts.*", put("piece", "777z")),
    "offcut moved along": Kind("offcuts.*", add("x", TICK)),
    "offcut moved across": Kind("offcuts.*", add("y", TICK)),
    "offcut longer": Kind("offcuts.*", add("length", TICK)),
    "offcut narrower": Kind("offcuts.*", add("width", -TICK)),
    "offcut kept against the shop": Kind("offcuts.*", flip("keep")),
    "offcut left out": Kind("", drop("offcuts")),
    "offcut listed twice": Kind("", double("offcuts")),
}
