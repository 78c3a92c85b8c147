"""What the command line says about a reader's variant."""

import argparse

from layout_app.cli.limits import UsageError, length_of
from layout_app.model.variant import Variant
from shared.job import Job
from shared.lengths import Length, Unit
from shared.quoting import quoted


def add_variant(parser: argparse.ArgumentParser) -> None:
    """Add what a reader has."""
    group = parser.add_argument_group("what the reader has; what is not named is as in the plan")
    group.add_argument("--sheet-length", metavar="L", help="x as it lies, such as '2440 mm'")
    group.add_argument("--sheet-width", metavar="W")
    group.add_argument("--thickness", metavar="T", help="measured, such as '17.6 mm'")
    group.add_argument("--kerf", metavar="K")
    group.add_argument("--material", default="", metavar="NAME", help="whose sheets; else of all")


def variant_of(arguments: argparse.Namespace, job: Job) -> Variant:
    """Return what a reader has; `UsageError` where that cannot be read."""
    unit = arguments.unit or job.style.unit
    if arguments.material and arguments.material not in job.materials:
        known = ", ".join(job.materials)
        raise UsageError(f"there is no material {quoted(arguments.material)} here, only {known}.")
    variant = Variant(
        material=arguments.material,
        length=_length(arguments.sheet_length, unit),
        width=_length(arguments.sheet_width, unit),
        thickness=_length(arguments.thickness, unit),
        kerf=_length(arguments.kerf, unit),
        unit=arguments.unit,
    )
    if not (variant.length or variant.width or variant.thickness or variant.kerf):
        raise UsageError("name what the reader has: sheet, thickness or kerf.")
    return variant


def _length(text: str | None, unit: Unit) -> Length:
    if text is None:
        return 0
    length = length_of(text, unit)
    if length <= 0:
        raise UsageError(f"{quoted(text)} is not more than 0.")
    return length
