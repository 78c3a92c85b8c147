"""No plan is shown of which the simulated saw refuses the record of a cut."""

from dataclasses import replace

from layout_app.model.sawing import Sawn
from shared.telling.recorded import recorded


def borne_by_records(sawn: Sawn) -> Sawn:
    """Return what was sawn; without its plan, and with the reason, if a record does not lie."""
    if sawn.plan is None:
        return sawn
    project = sawn.project
    refused = recorded((*project.progress.past, sawn.plan), project.job.shop).refused
    if refused is None:
        return sawn
    return replace(sawn, plan=None, problems={**sawn.problems, "": refused.sentence})
