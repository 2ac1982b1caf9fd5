"""The sentences of a step, by its code."""

from collections.abc import Callable, Mapping

from models.judging.measured import Measured
from models.judging.sentences import (
    bands,
    derived,
    expected,
    gas,
    gates,
    group,
    measured_pickup,
    reading,
    timing,
    withstand,
)
from models.judging.sentences.limits import high_sentence, low_sentence
from models.judging.sentences.names import compared_name
from models.judging.sentences.numbers import compared_of
from models.judging.state import State
from models.judging.steps import Step
from models.words import say

Sentences = str | list[str]
Sayer = Callable[[State, Step], Sentences]


def sentences_of(state: State, step: Step) -> list[str]:
    """Return the sentences of one step; some have none."""
    sentences = SENTENCES[step.code](state, step)
    return [sentences] if isinstance(sentences, str) else sentences


def _plain(state: State, step: Step) -> str:
    return say(step.code)


def _limit(side: Callable[[Measured, Step, str], str]) -> Sayer:
    """Return what says a comparison with the limit that the step's code names."""

    def sentence(state: State, step: Step) -> str:
        name = say(f"limit.{step.code}")
        said = side(compared_of(state, step.part), step, name)
        of = compared_name(state, step.part)
        return say("limit.of", name=of, said=said) if of else said

    return sentence


SENTENCES: Mapping[str, Sayer] = {
    "broke_down": _plain,
    "gate": gates.gate_sentence,
    "carried": gas.carried_sentences,
    "not_carried": gas.not_carried_sentence,
    "unresolved": gas.unresolved_sentences,
    "corrected": reading.corrected_sentences,
    "not_corrected": reading.not_corrected_sentence,
    "beyond_ranges": _plain,
    "number_wanted": _plain,
    "outcome_wanted": _plain,
    "no_criterion": _plain,
    "minimum": _limit(low_sentence),
    "maximum": _limit(high_sentence),
    "earliest": _limit(low_sentence),
    "latest": _limit(high_sentence),
    "level": withstand.level_sentence,
    "duration": withstand.duration_sentence,
    "settings": timing.settings_sentences,
    "no_multiple": timing.no_multiple_sentence,
    "multiple": timing.multiple_sentence,
    "below_pickup": timing.below_pickup_sentence,
    "no_timing_point": timing.no_timing_point_sentence,
    "curve": timing.curve_sentence,
    "no_band": timing.no_band_sentence,
    "tolerance": timing.tolerance_sentences,
    "measured_pickup": measured_pickup.measured_pickup_sentence,
    "timed": measured_pickup.timed_sentences,
    "no_trip": timing.no_trip_sentence,
    "alone": group.alone_sentences,
    "all_over_range": _plain,
    "is_lowest": group.is_lowest_sentence,
    "near_lowest": group.near_lowest_sentence,
    "odd_lowest": group.odd_lowest_sentence,
    "over_lowest": group.over_lowest_sentence,
    "derived": derived.derived_sentences,
    "not_derived": derived.not_derived_sentence,
    "expected_value": expected.expected_value_sentence,
    "no_expected": expected.no_expected_sentence,
    "least": _limit(low_sentence),
    "most": _limit(high_sentence),
    "band": bands.band_sentence,
    "near_angle": bands.near_angle_sentence,
    "least_of_baseline": expected.least_of_baseline_sentence,
    "most_of_baseline": expected.most_of_baseline_sentence,
    "expected": expected.expected_sentence,
}
