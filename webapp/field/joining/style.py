"""Style sheets as one, in order; what they name beside them is named in full."""

import posixpath
import re
from collections.abc import Iterable

from webapp.field.joining.bare_code import JoinError
from webapp.field.joining.program import Read

BESIDE = re.compile(r"url\((?P<source>[\w./-]+)\)")
NOT_JOINED = ("@import", "@charset", "url('", 'url("')


def joined_style(addresses: Iterable[str], read: Read) -> str:
    """Return the sheets as one text; JoinError."""
    return "".join(_sheet(address, read(address)) for address in addresses)


def _sheet(address: str, text: str) -> str:
    for number, line in enumerate(text.split("\n"), start=1):
        if any(one in line for one in NOT_JOINED):
            raise JoinError(address, number, f"'{line.strip()}' is not joined.")
    folder = posixpath.dirname(address)
    named = BESIDE.sub(
        lambda found: f"url({posixpath.join(folder, found['source'])})", text
    )
    return f"/* {address} */\n{named}"
