"""The reader of a message catalogue."""

import json
from collections.abc import Mapping
from functools import cache
from importlib.resources import files

Entry = str | Mapping[str, str]
Catalogue = Mapping[str, Entry]

LANGUAGE = "en"
ONE = "1"  # the part that takes the form for one


@cache
def catalogue(language: str = LANGUAGE) -> Catalogue:
    """Return a language's sentences by their ids."""
    text = files("models.words").joinpath(f"{language}.json").read_text("utf-8")
    sentences: Catalogue = json.loads(text)
    return sentences


_ENGLISH = catalogue()


def say(sentence: str, /, **parts: str) -> str:
    """Return the sentence of this id with its parts put in.

    Parts are texts: numbers come as `figure`, `plain` and `amount` write them. Raises
    LookupError for an id that is not in the catalogue and for a part that is not given.
    """
    return put(_ENGLISH, sentence, parts)


def put(sentences: Catalogue, sentence: str, parts: Mapping[str, str]) -> str:
    """Return a sentence of *sentences* with its parts; raises as `say` does."""
    entry = sentences.get(sentence)
    if entry is None:
        raise LookupError(f"the catalogue has no sentence '{sentence}'")
    text = entry if isinstance(entry, str) else _form(sentence, entry, parts)
    if not parts:
        parts = NO_PARTS
    try:
        return text.format_map(parts)
    except KeyError as missing:
        raise LookupError(f"'{sentence}' wants the part {missing}") from None


NO_PARTS: Mapping[str, str] = {}


def _form(sentence: str, entry: Mapping[str, str], parts: Mapping[str, str]) -> str:
    """Return the form of a sentence for one, or for another number."""
    by = entry["by"]
    if by not in parts:
        raise LookupError(f"'{sentence}' wants the part '{by}'")
    return entry["one" if parts[by] == ONE else "other"]
