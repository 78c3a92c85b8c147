"""Changing what comes after sawing, as undo steps."""

from dataclasses import replace

from layout_app.document.commands import Change
from layout_app.document.document import Consequence, Document
from layout_app.model.project import Project
from shared.building import Build


class SetBuild(Change):
    """Change the build steps or the hardware."""

    def __init__(self, document: Document, text: str, build: Build) -> None:
        super().__init__(document, text)
        self._build = build

    def change(self, project: Project) -> Project:
        """Put them in place of those there were."""
        return replace(project, build=self._build)

    def consequence(self, before: Project, after: Project) -> Consequence:
        """Planning has nothing to do with them."""
        return Consequence.NOTHING


def set_build(document: Document, build: Build, what: str) -> bool:
    """Change them as one step named after ``what``; say whether anything changed."""
    if build == document.project.build:
        return False
    return document.push(SetBuild(document, f"change {what}", build))
