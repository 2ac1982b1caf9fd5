"""The sentences of the judging, once, for every reader: a file a language.

`en.json` is plain JSON: an id, and a text with `{name}` for each part that is put in;
or `{"one": text, "other": text, "by": name}`, of which `one` is taken where the part
*name* is 1. webapp/offline has the same reader in JavaScript; the examples of
tests/data/words_examples.json hold both to each other.
"""

from models.words.casing import in_sentence
from models.words.catalogue import Catalogue, catalogue, join, put, say

__all__ = ["Catalogue", "catalogue", "in_sentence", "join", "put", "say"]
