"""What is put on paper: a job with its plan, all sheets as drawings, and what stands against it."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date

from layout_app.model.words.wording import sheet_names
from layout_app.paper.caution_letters import letters_of
from layout_app.paper.day import day_of_pages, day_words
from shared.building import Build, StepKind
from shared.drawing import SheetDrawing, draw_sheet, turned_over
from shared.job import Job
from shared.lengths import LengthStyle
from shared.offcuts import Keeper, keepers
from shared.plan import ASIDE, Plan
from shared.plan_number import plan_number
from shared.shopping import Shopping, shopping
from shared.stock import Stock
from shared.telling import Instruction, instructions_of


@dataclass(frozen=True, slots=True, kw_only=True)
class Matter:
    """All that exports tell of.

    Attributes
    ----------
    plan
        Of the sheets that can be cut, accepted by the simulated saw.
    drawings
        Every sheet, those that cannot be cut too: these have a ``problem`` and no cuts. One that
        lies with its show face down at its first cut is drawn so.
    told
        The instruction of every cut.
    banner
        What must not be overlooked on any page, or ``""``.
    made
        Numbers of the cuts that are made, those before this plan too, ascending.
    ordered
        By what the cuts are in order, and how good that is, in words; ``""`` if in none.
    letters
        Those of the cautions that any cut has, by their codes.
    day
        On which the pages are made.
    past
        Plans that were sawn before this one.
    """

    job: Job
    plan: Plan
    drawings: tuple[SheetDrawing, ...]
    told: tuple[Instruction, ...]
    style: LengthStyle
    banner: str = ""
    unplaced: tuple[str, ...] = ()
    build: Build = field(default_factory=Build)
    made: tuple[int, ...] = ()
    ordered: str = ""
    letters: Mapping[str, str] = field(default_factory=dict)
    day: date = field(default_factory=day_of_pages)
    past: tuple[Plan, ...] = ()

    @property
    def number(self) -> str:
        """The plan's number; ``""`` for one without cuts."""
        return plan_number(self.plan, self.job.shop)

    @property
    def identity(self) -> str:
        """What stands on every page, label and drawing: the plan's number, and the day."""
        day = day_words(self.day)
        return f"plan {self.number} · {day}" if self.number else day

    @property
    def uncut(self) -> dict[str, str]:
        """Return the row of each sheet that cannot be cut, by its number."""
        return {drawn.sheet: drawn.stock for drawn in self.drawings if drawn.problem}

    @property
    def kept(self) -> tuple[Keeper, ...]:
        """Return the offcuts to keep, those kept before the plan was made too."""
        return tuple(keepers(self.job, self.plan, self.uncut.values()))

    @property
    def bought(self) -> Shopping:
        """Return what is taken and bought, the boards of sheets that cannot be cut too."""
        return shopping(self.job, self.plan, self.uncut)

    @property
    def taken(self) -> list[Stock]:
        """Return the rows that sheets are taken from."""
        rows = {drawn.stock for drawn in self.drawings}
        return [row for row in self.job.stock if row.id in rows]

    @property
    def first_steps(self) -> dict[str, str]:
        """Return what the first build step of each part is about, by its id."""
        found: dict[str, str] = {}
        for step in self.build.steps:
            for part in step.parts:
                found.setdefault(part, step.text if step.kind is StepKind.OTHER else step.kind)
        return found


def matter_of(
    job: Job,
    plan: Plan,
    *,
    loose: tuple[SheetDrawing, ...] = (),
    waiting: tuple[str, ...] = (),
    style: LengthStyle | None = None,
    build: Build | None = None,
    made: tuple[int, ...] = (),
    past: tuple[Plan, ...] = (),
) -> Matter:
    """Gather what exports tell of.

    Parameters
    ----------
    loose
        Sheets that cannot be cut, as `shared.drawing.draw_loose` draws them.
    waiting
        A sentence for each part that lies on no sheet.
    style
        How lengths are written; the job's own if it is not given.
    build
        The steps after sawing, and hardware.
    made
        Numbers of the cuts that are made.
    past
        Plans that were sawn before this one; what was set then keeps its name.
    """
    style = style or job.style
    told = instructions_of((*past, plan), job.shop, style)
    own = tuple(one for one in told if one.number >= plan.first)
    drawn = (*_as_they_lie(plan, own, style), *loose)
    return Matter(
        job=job,
        plan=plan,
        drawings=tuple(sorted(drawn, key=lambda one: (len(one.sheet), one.sheet))),
        told=own,
        style=style,
        banner=_banner(loose, waiting),
        unplaced=waiting,
        build=build or Build(),
        made=made,
        letters=letters_of(own),
        past=past,
    )


def _as_they_lie(
    plan: Plan, told: Iterable[Instruction], style: LengthStyle
) -> Iterator[SheetDrawing]:
    """Draw the sheets of a plan, each with that face up which is up at its first cut."""
    mirrored: dict[str, bool] = {}
    for one in told:
        mirrored.setdefault(one.sheet, one.record.mirrored)
    for sheet in plan.sheets:
        drawing = draw_sheet(plan, sheet.id, style)
        yield turned_over(drawing) if mirrored.get(sheet.id) else drawing


def _banner(loose: tuple[SheetDrawing, ...], waiting: tuple[str, ...]) -> str:
    """Say in one line that this is no whole plan, and why."""
    said = []
    if loose:
        said.append(f"{sheet_names([one.sheet for one in loose])} cannot be cut as drawn")
    if waiting:
        kept = all(sentence.endswith(f": {ASIDE}") for sentence in waiting)
        said.append("parts are set aside" if kept else "parts are not placed")
    return f"NOT A WHOLE PLAN: {' and '.join(said)}." if said else ""
