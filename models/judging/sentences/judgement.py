"""A judgement with its words: the reason, the working step by step, the sources."""

from models.judging.notes.speak import said_notes
from models.judging.sentences.of_step import sentences_of
from models.judging.sentences.reading import read_sentences
from models.judging.sentences.sources import cited_by
from models.judging.state import State
from models.judging.verdicts import Judgement


def judgement_in_words(state: State, *, notes: bool = True) -> Judgement:
    """Return the judgement of a decided state, with what its notes say or without.

    The reason is made of the sentences of the steps that have its verdict. What a last
    gate says stands at the end, after the sources.
    """
    working: list[str] = read_sentences(state)
    reasons: list[str] = []
    places: list[int | None] = []
    worst = state.verdict
    last: list[str] = []
    for step in state.steps:
        sentences = sentences_of(state, step)
        if step.part is not None and "last" in step.part:
            last += sentences
        else:
            working += sentences
        places += cited_by(state, step)
        if step.verdict is worst:
            reasons += sentences
    for note, sentences in said_notes(state) if notes else ():
        working += sentences
        places += note.get("cite", ())
    cited = list(dict.fromkeys(place for place in places if place is not None))
    # Several columns of one row are said once.
    sources = dict.fromkeys(state.rule.cite_lines[place] for place in cited)
    return state.judgement(
        " ".join(dict.fromkeys(reasons)),
        [dict(state.rule.cite[place]) for place in cited],
        [*working, *sources, *last],
    )
