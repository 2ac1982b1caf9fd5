"""Ask the program for pages, signed in, in an environment of its own."""

import os
import re
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any


@contextmanager
def patched(values: dict[str, str]) -> Iterator[None]:
    """Have *values* in the environment meanwhile."""
    before = dict(os.environ)
    os.environ.update(values)
    try:
        yield
    finally:
        os.environ.clear()
        os.environ.update(before)


def sign_in(client: Any, name: str, password: str) -> None:
    """Sign somebody in, as the form does."""
    page = client.get("/account/sign-in").get_data(as_text=True)
    token = re.search(r'name="csrf_token"[^>]*value="([^"]+)"', page)
    client.post(
        "/account/sign-in",
        data={
            "sign_in": name,
            "password": password,
            "csrf_token": token[1] if token else "",
        },
    )
