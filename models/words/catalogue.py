"""The reader of a message catalogue."""

import json
from collections.abc import Callable, Iterable, Mapping
from functools import cache, reduce
from importlib.resources import files
from operator import itemgetter
from string import Formatter
from typing import Any, NamedTuple

Entry = str | Mapping[str, str]
Catalogue = Mapping[str, Entry]
Parts = Mapping[str, str]

LANGUAGE = "en"
ONE = "1"  # the part that takes the form for one


@cache
def catalogue(language: str = LANGUAGE) -> Catalogue:
    """Return a language's sentences by their ids."""
    text = files("models.words").joinpath(f"{language}.json").read_text("utf-8")
    sentences: Catalogue = json.loads(text)
    return sentences


class _Text(NamedTuple):
    """A text that was read once: `%s` for each part, and what takes the parts."""

    pattern: str
    take: Callable[[Parts], Any]


def _read(text: str) -> _Text:
    pattern, names = "", []
    for literal, name, _, _ in Formatter().parse(text):
        pattern += literal.replace("%", "%%")
        if name is not None:
            pattern += "%s"
            names.append(name)
    return _Text(pattern, itemgetter(*names) if names else _no_parts)


def _no_parts(_parts: Parts) -> tuple[()]:
    return ()


# A judgement has a dozen sentences: each text is read once, and put in place quickly.
_TEXTS = {key: _read(text) for key, text in catalogue().items() if type(text) is str}


def say(sentence: str, /, **parts: str) -> str:
    """Return the sentence of this id with its parts put in.

    Parts are texts: numbers come as `figure`, `plain` and `amount` write them. Raises
    LookupError for an id that is not in the catalogue and for a part that is not given.
    """
    text = _TEXTS.get(sentence)
    if text is None:
        return put(catalogue(), sentence, parts)
    try:
        sentence_text: str = text.pattern % text.take(parts)
    except KeyError as missing:
        raise LookupError(f"'{sentence}' wants the part {missing}") from None
    return sentence_text


def join(sentence: str, texts: Iterable[str]) -> str:
    """Return several texts as one: `list.or`, `list.and`, `list.comma` between them."""
    return reduce(
        lambda first, second: say(sentence, first=first, second=second), texts
    )


def put(sentences: Catalogue, sentence: str, parts: Parts) -> str:
    """Return a sentence of *sentences* with its parts; raises as `say` does."""
    entry = sentences.get(sentence)
    if entry is None:
        raise LookupError(f"the catalogue has no sentence '{sentence}'")
    try:
        return _form(entry, parts).format_map(parts)
    except KeyError as missing:
        raise LookupError(f"'{sentence}' wants the part {missing}") from None


def _form(entry: Entry, parts: Parts) -> str:
    """Return the form of a sentence for one, or for another number."""
    if isinstance(entry, str):
        return entry
    return entry["one" if parts[entry["by"]] == ONE else "other"]
