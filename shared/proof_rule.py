"""The rule of a proof in words: for which way of cutting it holds, and around what."""

from shared.shop import CutRule, FirstCut

LIMITED = "within the shop's limits"
"""How a rule says that what is too long, too narrow or too small to saw was left out."""
KEPT = "with the other sheets as they lie"
HELD = "around what is locked"
"""How the rule of a proof ends that holds only for what was kept."""
_HELD_ONCE = "around what is held"
"""How files written before 30 November 2026 say `HELD`."""


def in_words_of_now(rule: str) -> str:
    """Return a rule in words, as read from a file, in the words that `rule_in_words` has now."""
    return rule.removesuffix(_HELD_ONCE) + HELD if rule.endswith(_HELD_ONCE) else rule


def is_conditional(rule: str) -> bool:
    """Whether a rule in words speaks of sheets or holds that were kept."""
    return in_words_of_now(rule).endswith((KEPT, HELD))


def rule_in_words(rule: CutRule, *conditions: str, kept: bool = False, held: bool = False) -> str:
    """Say for which way of cutting something was proven.

    ``conditions`` say what else was kept to, such as the shop's limits.
    """
    first = {
        FirstCut.RIP: "rip first",
        FirstCut.CROSSCUT: "crosscut first",
        FirstCut.EITHER: "rip or crosscut first",
    }[rule.first]
    depth = "three levels and a last trim" if rule.levels == 3 else "two levels and a trim"
    around = [*([KEPT] if kept else []), *([HELD] if held else [])]
    return ", ".join([first, depth, *conditions, *around])
