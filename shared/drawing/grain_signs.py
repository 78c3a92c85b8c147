"""Whether each part's grain rule is met where it lies, as records and in words."""

from collections.abc import Iterable, Iterator, Mapping

from shared.drawing.records import Box, GrainSign, Role, RuleState
from shared.parts import GrainRule
from shared.plan import Placement
from shared.stock import SheetGrain, orientations


def grain_signs(
    boxes: Iterable[Box],
    placements: Iterable[Placement],
    rules: Mapping[str, GrainRule],
    grain: SheetGrain,
) -> tuple[GrainSign, ...]:
    """Return a sign for each box of a part.

    Parameters
    ----------
    boxes
        All boxes of a sheet; those that are no part get no sign.
    placements
        What lies on the sheet; KeyError if a part's box is not among it.
    rules
        The rule of each part by its id.
    grain
        Which way the face grain of the sheet runs.
    """
    return tuple(_signs(boxes, placements, rules, grain))


def state_of(rule: GrainRule, grain: SheetGrain, *, turned: bool) -> RuleState:
    """Say whether a rule is met by a part that lies turned or not on a sheet of that grain."""
    if rule is GrainRule.EITHER or grain is SheetGrain.NONE:
        return RuleState.ABSENT
    return RuleState.MET if turned in orientations(rule, grain) else RuleState.BROKEN


def rule_words(rule: GrainRule, grain: SheetGrain, *, turned: bool) -> str:
    """Say in words what the sign of a part means."""
    if grain is SheetGrain.NONE:
        return "no grain on this sheet"
    lengthwise = turned is (grain is SheetGrain.ALONG_W)
    runs = "grain along its length" if lengthwise else "grain along its width"
    state = state_of(rule, grain, turned=turned)
    if state is RuleState.ABSENT:
        return f"{runs}; no grain rule"
    if state is RuleState.MET:
        return f"{runs}, as its rule asks"
    return f"{runs}, but its rule is {rule}"


def _signs(
    boxes: Iterable[Box],
    placements: Iterable[Placement],
    rules: Mapping[str, GrainRule],
    grain: SheetGrain,
) -> Iterator[GrainSign]:
    lies = {one.key: one.turned for one in placements}
    for box in boxes:
        if box.role is Role.PART:
            rule, turned = rules[box.part], lies[box.copy_key]
            yield GrainSign(
                key=box.key,
                rect=box.rect,
                state=state_of(rule, grain, turned=turned),
                along_x=grain is not SheetGrain.ALONG_W,
                words=rule_words(rule, grain, turned=turned),
            )
