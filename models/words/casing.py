"""A title inside a sentence: its first letter is small, an abbreviation stays."""


def in_sentence(title: str) -> str:
    """Return *title* as it stands inside a sentence: `breaker timing`, `CT ratio`."""
    abbreviated = title[1:2].isupper()
    return title if abbreviated else title[:1].lower() + title[1:]
