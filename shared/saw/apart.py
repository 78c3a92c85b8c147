"""A plan sawn sheet by sheet, where what was found of a sheet is remembered.

What a cut does, and whether its card is true, hangs on its own sheet alone, but for four
things, which are looked at over all sheets: numbers count on, no piece has the name of another,
no two cuts have one key, and a set-up and a tool mean the same wherever they stand. So a plan
whose sheets are sound by themselves and of which these four hold is sound in its cuts. Where
that is not so nothing is said here: the whole is sawn then, and what is wrong is said in order.

A sheet is remembered by the values of all that the saw looks at of it. It is given nothing else.
"""

from collections.abc import Iterable
from dataclasses import fields
from functools import lru_cache
from itertools import chain
from operator import attrgetter
from typing import Any, Final, NamedTuple

from shared.plan import Cut, CutKind, Offcut, Placement, Plan, PlanPart, PlanSheet
from shared.saw.books import wrong_places
from shared.saw.cards import Setup, setup_of
from shared.saw.passes import sawn
from shared.shop import CutRule, Shop

SHEETS_KNOWN: Final = 512
_CUT: Final = tuple(one.name for one in fields(Cut) if one.name != "number")
_SHEET: Final = tuple(one.name for one in fields(PlanSheet) if one.name != "tree")
_of_cut, _of_sheet, _part = attrgetter(*_CUT), attrgetter(*_SHEET), attrgetter("part")


class _Sheet(NamedTuple):
    """All that the saw looks at when it saws one sheet; cuts without their numbers."""

    sheet: tuple[Any, ...]
    cuts: tuple[tuple[Any, ...], ...]
    placements: tuple[Placement, ...]
    offcuts: tuple[Offcut, ...]
    parts: tuple[PlanPart, ...]
    shop: Shop | None
    rule: CutRule | None
    limited: bool
    keyed: bool


class _Sound(NamedTuple):
    """What a sheet that is sound by itself may have in common with another."""

    names: frozenset[str]
    keys: frozenset[str]
    setups: frozenset[tuple[str, Setup]]
    kerfs: frozenset[tuple[str, int]]


def sound_apart(plan: Plan, *, limited: bool, keyed: bool) -> bool:
    """Say whether every copy lies where it may and no cut is wrong; no if that is not clear.

    ``limited`` and ``keyed`` as in `shared.saw.passes.sawn`.
    """
    if any(cut.number != number for number, cut in enumerate(plan.cuts, plan.first)):
        return False
    sheets = _sheets(plan, limited=limited, keyed=keyed)
    if sheets is None:
        return False
    found = []
    for sheet in sheets:
        sound = _sound(sheet)
        if sound is None:
            return False
        found.append(sound)
    return (
        _differ(one.names for one in found)
        and (not keyed or _differ(one.keys for one in found))
        and _agree(frozenset[tuple[str, Setup]]().union(*(one.setups for one in found)))
        and _mean_one(frozenset[tuple[str, int]]().union(*(one.kerfs for one in found)))
    )


def _sheets(plan: Plan, *, limited: bool, keyed: bool) -> list[_Sheet] | None:
    """Take a plan apart; ``None`` if something of it belongs to no sheet, or to two."""
    parts = {part.id: part for part in plan.parts}
    cuts: dict[str, list[tuple[Any, ...]]] = {sheet.id: [] for sheet in plan.sheets}
    if len(parts) < len(plan.parts) or len(cuts) < len(plan.sheets) or "" in cuts:
        return None
    placements: dict[str, list[Placement]] = {one: [] for one in cuts}
    offcuts: dict[str, list[Offcut]] = {one: [] for one in cuts}
    try:
        for cut in plan.cuts:
            cuts[cut.sheet].append(_of_cut(cut))
        for lies in plan.placements:
            placements[lies.sheet].append(lies)
        for fall in plan.offcuts:
            offcuts[fall.sheet].append(fall)
        return [
            _Sheet(
                sheet=_of_sheet(one),
                cuts=tuple(cuts[one.id]),
                placements=tuple(placements[one.id]),
                offcuts=tuple(offcuts[one.id]),
                parts=tuple([parts[its] for its in dict.fromkeys(map(_part, placements[one.id]))]),
                shop=plan.shop,
                rule=plan.rule,
                limited=limited,
                keyed=keyed,
            )
            for one in plan.sheets
        ]
    except KeyError:
        return None


@lru_cache(SHEETS_KNOWN)
def _sound(sheet: _Sheet) -> _Sound | None:
    """Saw a sheet by itself; ``None`` if anything is wrong."""
    cuts = [
        Cut(number=number, **dict(zip(_CUT, values, strict=True)))
        for number, values in enumerate(sheet.cuts, 1)
    ]
    alone = Plan(
        parts=sheet.parts,
        sheets=(PlanSheet(**dict(zip(_SHEET, sheet.sheet, strict=True))),),
        placements=sheet.placements,
        cuts=tuple(cuts),
        offcuts=sheet.offcuts,
        shop=sheet.shop,
        rule=sheet.rule,
    )
    if any(chain(wrong_places(alone), sawn(alone, limited=sheet.limited, keyed=sheet.keyed))):
        return None
    offs = (cut.off for cut in cuts if cut.kind is not CutKind.TRIM)
    return _Sound(
        names=frozenset((alone.sheets[0].id, *offs)),
        keys=frozenset(cut.key for cut in cuts),
        setups=frozenset((cut.setup, setup_of(cut)) for cut in cuts),
        kerfs=frozenset((cut.tool, cut.kerf) for cut in cuts),
    )


def _differ(sets: Iterable[frozenset[str]]) -> bool:
    """Whether no word is in two of the sets."""
    known = list(sets)
    return len(frozenset[str]().union(*known)) == sum(map(len, known))


def _agree(pairs: frozenset[tuple[str, Setup]]) -> bool:
    """Whether each first has one second, and each second one first."""
    return len(pairs) == len({one for one, _ in pairs}) == len({other for _, other in pairs})


def _mean_one(pairs: frozenset[tuple[str, int]]) -> bool:
    """Whether each first has one second."""
    return len(pairs) == len({one for one, _ in pairs})
