"""Where a form leads back to: a page of this program, never elsewhere."""

from urllib.parse import urlsplit


def way_back(wanted: str) -> str:
    """Return *wanted* if it is a path of this program, else nothing.

    A browser reads a backslash as a slash and drops control characters, so
    both would turn a path into an address elsewhere.
    """
    if not wanted.startswith("/") or wanted.startswith("//"):
        return ""
    if "\\" in wanted or any(ord(character) < 33 for character in wanted):
        return ""
    parts = urlsplit(wanted)
    return "" if parts.scheme or parts.netloc else wanted
