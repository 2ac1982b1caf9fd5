"""A lineup's draft carried by a page from its preview to *Save*: text in a field."""

import base64
import json
import zlib

from models.errors import Fault, InputError
from models.record.lineup_draft import LineupDraft, draft_json
from models.record.read_lineup_draft import read_draft

MOST = 8 << 20  # bytes once unfolded


def carry(draft: LineupDraft) -> str:
    """Return *draft* as a text that `carried` reads back."""
    text = json.dumps(draft_json(draft), separators=(",", ":"))
    return base64.b64encode(zlib.compress(text.encode())).decode()


def carried(text: str) -> LineupDraft:
    """Return the draft; InputError for a text that no preview wrote."""
    try:
        unfolding = zlib.decompressobj()
        plain = unfolding.decompress(base64.b64decode(text, validate=True), MOST)
        if not unfolding.eof:
            raise ValueError
        data = json.loads(plain)
    except (ValueError, zlib.error) as error:
        message = "This is not what the preview showed: choose the file again."
        raise InputError(Fault(field="draft", message=message)) from error
    return read_draft(data)
