"""What was heard about saving a sheet: of suggestions about one thing, the last."""

from solver.outcome import Advice, AdviceEnded, Forcing, Suggestion

Subject = tuple[str, ...]
"""Material, and what a change is about."""


class Heard:
    """Keeps what is said, in order of first mention."""

    def __init__(self) -> None:
        self.forcing: list[Forcing] = []
        self.looked: AdviceEnded | None = None
        self._standing: dict[Subject, Suggestion] = {}

    @property
    def suggestions(self) -> list[Suggestion]:
        """What stands."""
        return list(self._standing.values())

    @property
    def by_subject(self) -> dict[Subject, Suggestion]:
        """What stands, by material and what it is about."""
        return dict(self._standing)

    def __call__(self, event: Advice) -> None:
        """Hear one thing."""
        if isinstance(event, Forcing):
            self.forcing.append(event)
        elif isinstance(event, Suggestion):
            self._standing[event.material, *event.change.subject] = event
        else:
            self.looked = event
