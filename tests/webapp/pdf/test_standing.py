"""The reasons on the cover, counted from what the document holds."""

import copy

import pytest

from tests.webapp.pdf.sample_document import sample_document
from webapp.pdf.standing import reasons, stands


def reading(verdict, decision=None):
    return {
        "judgement": {"verdict": verdict},
        "disposition": {"decision": decision} if decision else None,
    }


STANDS = {
    "within": (reading("within"), True),
    "marginal alone": (reading("marginal"), False),
    "marginal, used as it is": (reading("marginal", "use_as_is"), True),
    "marginal, with limits": (reading("marginal", "accept_with_limits"), True),
    "marginal, rejected": (reading("marginal", "reject"), False),
    "outside": (reading("outside"), False),
    "outside, used as it is": (reading("outside", "use_as_is"), False),
    "unjudged": (reading("unjudged"), False),
    "unjudged, used as it is": (reading("unjudged", "use_as_is"), False),
}


@pytest.mark.parametrize(("one", "wanted"), STANDS.values(), ids=STANDS)
def test_stands(one, wanted):
    assert stands(one) is wanted


def test_each_obstacle_is_named():
    document = copy.deepcopy(sample_document())
    document["cards"][3]["state"] = "begun"
    assert reasons(document) == [
        "2 readings are outside.",
        "2 readings are unjudged: unknown is never a pass.",
        "1 open deficiency stops turnover.",
        "1 card is not signed as performed.",
    ]


def test_a_marginal_reading_counts_once_its_disposition_is_gone():
    document = copy.deepcopy(sample_document())
    for one in document["cards"][1]["readings"]:
        one["disposition"] = None
    assert (
        "1 reading is marginal, without a disposition that lets it stand."
        in reasons(document)
    )


def test_a_superseded_reading_does_not_count():
    document = copy.deepcopy(sample_document())
    superseded = [r for r in document["cards"][0]["readings"] if r["superseded_by"]]
    assert [r["judgement"]["verdict"] for r in superseded] == ["outside"]
    assert reasons(document)[0] == "2 readings are outside."


def test_what_speaks_for_it():
    document = sample_document()
    summary = {**document["summary"], "cards_withdrawn": 1}
    said = reasons({**document, "conforms": True, "summary": summary})
    assert said == [
        "Within: 7 of 12 readings.",
        "1 reading is marginal, with a disposition that lets it stand.",
        "No reading is outside or unjudged.",
        "No open deficiency stops turnover.",
        "Every card is signed as performed or withdrawn with a reason.",
    ]
