"""What somebody looks for in a list: words, a state, the number of a page."""

from typing import Any

from flask import request, url_for

LONGEST = 200  # characters of what is looked for
LARGEST = 100_000  # page


def words() -> str:
    """Return the words that are looked for; none: all rows."""
    return request.args.get("words", "").replace("\0", "").strip()[:LONGEST]


def page_number() -> int:
    """Return the number of the page; the first where it is no number."""
    said = request.args.get("page", "1")
    return min(int(said), LARGEST) if said.isascii() and said.isdigit() else 1


def wanted() -> dict[str, Any]:
    """Return words, state and page as the services take them."""
    state = request.args.get("state", "")
    return {"words": words(), "state": state, "page": page_number()}


def page_address(number: int) -> str:
    """Return the address of another page of the list that is shown."""
    asked = {**(request.view_args or {}), **request.args.to_dict()}
    return url_for(request.endpoint or "", **{**asked, "page": number})
