"""Choices that the planner offered: for which project they hold, and taking one."""

from typing import NamedTuple

from layout_app.document.document import Document
from layout_app.document.edit import Consequence, Edit
from layout_app.model.choices import is_shown
from layout_app.model.locks import asked
from layout_app.model.merge_plan import adopted
from layout_app.model.project import Project
from layout_app.model.sawing import saw
from layout_app.model.words.choice_words import figures_of
from layout_app.planner.run import same_question
from solver.outcome import Choice


class Offered(NamedTuple):
    """Choices, and the project they were planned for."""

    project: Project
    choices: tuple[Choice, ...]

    def holds_for(self, now: Project) -> bool:
        """Whether they are plans of this project too: same job, same sheets and holds to leave."""
        return same_question(self.project, now) and _left(self.project) == _left(now)


NOTHING = Offered(Project(), ())


def _left(project: Project) -> tuple[object, ...]:
    """Return what planning leaves as it is."""
    around = asked(project)
    sent = tuple(one for one in project.layout.waiting if one.sent)
    return around.kept, around.holds, sent


def take_choice(doc: Document, choice: Choice) -> bool:
    """Take a choice as one undo step, once the simulated saw has sawn it again."""
    if is_shown(choice, doc.plan):
        return False
    sawn = saw(adopted(doc.project, choice.plan))
    if sawn.plan is None or sawn.problems:
        said = next(iter(sawn.problems.values()), "nothing of it can be cut")
        doc.said.emit(f"This choice cannot be taken: {said}")
        return False
    return doc.push(Edit(f"take {figures_of(choice)[0]}", sawn, Consequence.STOP))
