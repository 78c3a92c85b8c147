"""What has to be minded at a cut: held against situations judged by hand, with their sources."""

import re
from dataclasses import replace

import pytest

from shared.lengths import LengthStyle, Unit
from shared.making.hazards import BY_CODE, HAZARDS, Sort, hazards_of
from shared.telling.minding import PLAIN, SAYINGS, Case, cautions_of
from tests.shared.hazard_situations import SITUATIONS, Situation

STYLES = (LengthStyle(), LengthStyle(unit=Unit.MM))


@pytest.mark.parametrize("one", SITUATIONS, ids=lambda one: one.what)
def test_what_has_to_be_minded_at_a_cut(one: Situation) -> None:
    """Just the rules that a maker names there, each in its class; source beside the situation."""
    found = {code: BY_CODE[code].sort for code in one.record.hazards}
    assert one.source
    assert found == one.expect


def test_every_rule_has_a_situation_and_there_are_forty() -> None:
    """No rule is left untried."""
    assert len(SITUATIONS) >= 40
    tried = {code for one in SITUATIONS for code in one.expect}
    assert tried == {rule.code for rule in HAZARDS}


def test_every_rule_has_words_a_reason_and_a_source() -> None:
    """And dangers stand before handling."""
    assert sorted((*SAYINGS, *PLAIN)) == sorted(rule.code for rule in HAZARDS)
    assert all(rule.reason.endswith(".") and rule.source for rule in HAZARDS)
    sorts = [rule.sort for rule in HAZARDS]
    assert sorts == sorted(sorts, key=list(Sort).index)


@pytest.mark.parametrize("style", STYLES, ids=lambda style: style.unit.name)
def test_cautions_are_said_in_at_most_fifteen_words_a_sentence(style: LengthStyle) -> None:
    """And none of the words that were given up."""
    for one in SITUATIONS:
        for caution in cautions_of(Case(record=one.record, shop=one.uses, style=style)):
            assert caution.danger == (BY_CODE[caution.code].sort is Sort.DANGER)
            text = caution.sentence
            for sentence in re.split(r"(?<=\.)\s", text):
                assert len(sentence.split()) <= 15, sentence
            assert not re.search(r"\b(off|stays?|running|mind|rail saw)\b", text, re.I), text


def test_what_goes_to_the_stack_is_lifted_and_what_is_sawn_next_is_not() -> None:
    """Both pieces of a birch sheet of 36 kg, and 15 kg that can be lifted.

    Sawn sheet by sheet the remainder is sawn next and lies there still; the strip goes away.
    """
    one = next(one for one in SITUATIONS if one.what.startswith("the next rip"))
    record, shop = one.record, replace(one.uses, lift_g=15_000)
    made, left = record.makes, record.left
    assert left is not None
    following, later = record.number + 1, record.number + 7
    for ahead, codes in (((following, following), ()), ((later, following), ("carry-away",))):
        changed = replace(
            record,
            makes=replace(made, next_cut=ahead[0]),
            left=replace(left, next_cut=ahead[1]),
        )
        assert hazards_of(changed, shop) == codes
        said = cautions_of(Case(record=replace(changed), shop=shop, style=STYLES[1]))
        assert all(made.name in caution.sentence for caution in said)
