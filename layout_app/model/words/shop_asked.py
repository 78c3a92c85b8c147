"""What is asked of a change that ticked cuts bar: whether it always was so, or is from here on."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, fields
from typing import Any, Final, TypeAlias

from layout_app.model.made_so import told_otherwise
from layout_app.model.progress_edits import other_saw, why_not
from layout_app.model.sawing import Sawn
from layout_app.model.words.wording import counted
from shared.check_shop import leader
from shared.finding import about, say, say_at_most
from shared.job import Job
from shared.lengths import Length, LengthStyle
from shared.plan import Cut, Plan
from shared.progress import changed_in
from shared.reach import ways
from shared.saw import beyond_limits
from shared.shop import ABSENT, Hand, Limit, Rail, Shop, Span, Support
from shared.weighing import format_weight

REPLAN: Final = "Replan from here"
KEEP: Final = "Leave it as it was"
Write: TypeAlias = Callable[[Length, LengthStyle], str]
Written: TypeAlias = Callable[[Any, Write, LengthStyle], str]


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """A sentence, and what its answers are called.

    ``always`` is ``""`` where made cuts bar the change, whatever they were made with.
    """

    sentence: str
    always: str = ""
    replan: str = REPLAN
    keep: str = KEEP


def about_made(shown: Sawn, ahead: Sawn) -> Question:
    """Ask about a shop that would tell made cuts another way: they were made so, or were not."""
    number, how = told_otherwise(shown, ahead) or (shown.project.progress.made[0], "")
    made = f"Cut {number} is ticked as made {how}." if how else f"Cut {number} is ticked."
    changed = _changed(shown, ahead)
    if (written := _written(shown, ahead)) is None:
        return Question(
            sentence=(
                f"{made} {counted(len(changed), 'figure')} of the shop would change. Was the shop"
                " so all along, or only from here on?"
            ),
            always="The new shop all along",
            replan=_from_here("the new shop"),
            keep="Keep the shop as it was",
        )
    was, now = written
    asks = "Was there {}" if now.startswith("no ") else _ASKED[changed[0]]
    asked = asks.format(now, leader=leader(ahead.project.job.shop))
    return Question(
        sentence=f"{made} {asked} all along, or only from here on?",
        always=f"{_begun(now)} all along",
        replan=_from_here(now),
        keep=f"Keep {was}",
    )


def about_barred(shown: Sawn, ahead: Sawn) -> Question:
    """Ask about a change that made cuts bar, whatever they were made with."""
    said, what = _barred(shown, ahead), "with the change"
    if beyond := _out_of_reach(shown, ahead):
        said, what = beyond, f"without what no {leader(ahead.project.job.shop)} reaches"
    sentence = f"{said} Replan the rest from the pieces on hand, {what}?"
    if (written := _written(shown, ahead)) is None:
        return Question(sentence=sentence)
    was, now = written
    return Question(sentence=sentence, replan=_from_here(now), keep=f"Keep {was}")


def _barred(shown: Sawn, ahead: Sawn) -> str:
    """Say which made cut bars a change, and why."""
    progress = shown.project.progress
    if other_saw(shown.project, ahead.project):
        runs_on = shown.project.job.shop.runs_on
        return f"Cut {progress.made[-1]} is ticked as made with the saw along a {runs_on}."
    cut = changed_in(progress, ahead.plan)
    if cut is not None and _changed(shown, ahead) == ("kerf",):
        kerf = say(shown.project.job.shop.kerf, shown.project.job.style)
        return f"Cut {cut.number} is ticked as made with a kerf of {kerf}."
    if cut is None:
        return "Ticked cuts stay as they were made."
    made = f"Cut {cut.number} on sheet {cut.sheet} is ticked"
    problem = ahead.problems.get(cut.sheet, "")
    if not problem:
        return f"{made}, and this would change it."
    return f"{made}, and the rest could not be cut: {why_not(cut.sheet, problem)}."


def _out_of_reach(shown: Sawn, ahead: Sawn) -> str:
    """Say what no rail of a changed shop would reach of the rest; ``""`` if that bars nothing.

    Cuts ahead, or where it would reach those, any sheet like the one that is begun.
    """
    job = ahead.project.job
    cut = changed_in(shown.project.progress, ahead.plan)
    if shown.plan is None or cut is None or cut.sheet not in ahead.problems:
        return ""
    made = set(shown.project.progress.made)
    beyond = [
        one
        for one in beyond_limits(shown.plan, job.shop)
        if one.limit is Limit.REACH and one.cut.number not in made
    ]
    if not beyond:
        return _no_sheet(cut, shown.plan, job)
    longest = max(beyond, key=lambda one: one.found)
    long = say(longest.found, job.style)
    if len(beyond) == 1:
        what = f"cut {longest.cut.number}, {long} long"
    else:
        what = f"{len(beyond)} of the cuts ahead, the longest {long} (cut {longest.cut.number})"
    reach = say_at_most(longest.allowed, job.style)
    return (
        f"Cut {cut.number} is ticked, and no {leader(job.shop)} would reach {what}: the reach"
        f" would be {reach}."
    )


def _no_sheet(cut: Cut, plan: Plan, job: Job) -> str:
    """Say that no rail reaches over a sheet like that of a cut; ``""`` if one does."""
    stocks = {sheet.id: sheet.stock for sheet in plan.sheets}
    row = next((row for row in job.stock if row.id == stocks.get(cut.sheet)), None)
    if row is None or (found := ways(job, row)).axes:
        return ""
    why, *_ = found.sentence.split(";")
    return (
        f"Cut {cut.number} is ticked, and no whole sheet of {row.material} could be cut:"
        f" {why[:1].lower()}{why[1:]}."
    )


# --- what changed --------------------------------------------------------------------------


def _changed(shown: Sawn, ahead: Sawn) -> tuple[str, ...]:
    """Return which fields of the shop differ."""
    before, after = shown.project.job.shop, ahead.project.job.shop
    names = (one.name for one in fields(Shop) if one.name != "aside")
    return tuple(one for one in names if getattr(before, one) != getattr(after, one))


def _written(shown: Sawn, ahead: Sawn) -> tuple[str, str] | None:
    """Write what the only field of the shop that differs is set to, and what it would be.

    ``None`` where several differ, or one that is asked about in general words.
    """
    changed = _changed(shown, ahead)
    if len(changed) != 1 or changed[0] not in _WRITTEN:
        return None
    write, jobs = _WRITTEN[changed[0]], (shown.project.job, ahead.project.job)
    was, now = (write(getattr(job.shop, changed[0]), about, job.style) for job in jobs)
    if was == now:  # rounded, they are alike
        was, now = (write(getattr(job.shop, changed[0]), say, job.style) for job in jobs)
    return was, now


def _from_here(now: str) -> str:
    return f"{_begun(now)} from here on: replan the rest"


def _begun(words: str) -> str:
    return words[:1].upper() + words[1:]


def _length(ticks: Length, write: Write, style: LengthStyle) -> str:
    return write(ticks, style)


def _square(ticks: Length, write: Write, style: LengthStyle) -> str:
    return write(ticks, style) if ticks else "no square"


def _weight(grams: int, write: Write, style: LengthStyle) -> str:
    del write
    return format_weight(grams, style.unit) if grams else "any weight"


def _rails(rails: tuple[Rail, ...], write: Write, style: LengthStyle) -> str:
    """Write rails by their lengths, with how many there are and can be joined."""
    if not rails:
        return "of any length"
    *others, last = (_rail(one, write, style) for one in rails)
    return f"{', '.join(others)} and {last}" if others else last


def _rail(rail: Rail, write: Write, style: LengthStyle) -> str:
    several = f"{rail.count} \N{MULTIPLICATION SIGN} " if rail.count > 1 else ""
    joined = f" ({rail.joined} joined)" if rail.joined > 1 else ""
    return f"{several}{write(rail.length, style)}{joined}"


def _range(what: str) -> Written:
    def written(span: Span | None, write: Write, style: LengthStyle) -> str:
        if span is None:
            return f"a {what} of any size"
        if span == ABSENT:
            return f"no {what}"
        return f"a {what} from {write(span.least, style)} to {write(span.most, style)}"

    return written


def _there(what: str) -> Written:
    def written(there: object, write: Write, style: LengthStyle) -> str:
        del write, style
        return f"{'a' if there else 'no'} {what}"

    return written


def _side(side: Hand, write: Write, style: LengthStyle) -> str:
    del write, style
    return f"{side} of the blade"


def _support(support: Support, write: Write, style: LengthStyle) -> str:
    del write, style
    return support if support is Support.HORSES else f"a {support}"


_WRITTEN: Final[Mapping[str, Written]] = {
    "kerf": _length,
    "rails": _rails,
    "rail_width": _length,
    "rail_side": _side,
    "splinter_guard": _there("splinter guard"),
    "overhang": _length,
    "guide": _range("guide"),
    "stop": _range("stop"),
    "square": _square,
    "support": _support,
    "carry": _length,
    "hold": _length,
    "table": _there("table saw"),
    "lift_g": _weight,
    "turn_g": _weight,
}
"""How fields of the shop are written on answers, with their units."""
_ASKED: Final[Mapping[str, str]] = {
    "rails": "Were the rails {}",
    "rail_width": "Was the {leader} {} wide",
    "rail_side": "Did the {leader} lie {}",
    "splinter_guard": "Was there {}",
    "overhang": "Did the rail need {} beyond the cut",
    "guide": "Was there {}",
    "stop": "Was there {}",
    "square": "Was the longest square {}",
    "support": "Did it lie on {}",
    "carry": "Was the narrowest piece the {leader} may lie on {}",
    "hold": "Was the smallest piece that can be held {}",
    "table": "Was there {}",
    "lift_g": "Did you lift {} alone",
    "turn_g": "Did you turn {} alone",
}
"""How it is asked whether they were so all along."""
