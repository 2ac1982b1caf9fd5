"""The files of a record: a configuration with its data, one CFF, or a zip of them."""

import re
import zipfile
from collections.abc import Sequence
from dataclasses import dataclass
from io import BytesIO

from models.waveform.refusal import refused

MOST_BYTES = 60_000_000  # of a record once unfolded
MOST_MEMBERS = 12
BESIDE = ("hdr", "inf")  # text that may lie beside; nothing is read of it
WANTED = (
    "Send the configuration (.cfg) and the data (.dat) of one record, one combined "
    "file (.cff), or a zip of them."
)
SECTION = re.compile(
    rb"^---\s*file type:\s*([a-z]+)(?:[ \t]+([a-z0-9]+))?(?:[ \t]*:[ \t]*([0-9]+))?"
    rb"\s*---[ \t]*\r?\n",
    re.IGNORECASE | re.MULTILINE,
)
STILL = (1980, 1, 1, 0, 0, 0)  # the time of every file in a zip: the same bytes again


@dataclass(frozen=True, slots=True, kw_only=True)
class Sent:
    """A file as it was sent."""

    name: str
    data: bytes

    @property
    def ending(self) -> str:
        """The name's ending in small letters, without the dot."""
        return self.name.rpartition(".")[2].lower() if "." in self.name else ""

    @property
    def stem(self) -> str:
        """The name without folder and ending."""
        return re.split(r"[\\/]", self.name)[-1].rpartition(".")[0] or "record"


@dataclass(frozen=True, slots=True, kw_only=True)
class Parts:
    """The two halves of a record; *data_type* is what a CFF says of its data."""

    configuration: bytes
    data: bytes
    data_type: str = ""


def one_file(files: Sequence[Sent]) -> Sent:
    """Return *files* as the one file that is kept: a CFF as it is, else a zip.

    The same files give the same bytes, sent alone or in a zip, in whatever order.
    Raises InputError where they are not the files of one record.
    """
    held = [one for file in files for one in _unfolded(file) if one.data]
    combined = [one for one in held if one.ending == "cff"]
    if combined:
        if len(combined) > 1 or any(one.ending in ("cfg", "dat") for one in held):
            raise refused(f"This is more than one record. {WANTED}")
        return combined[0]
    configuration, data = _only(held, "cfg"), _only(held, "dat")
    if configuration.stem.lower() != data.stem.lower():
        raise refused(
            f"{configuration.name} and {data.name} have different names: they are not "
            "of one record. Choose the two that belong together."
        )
    beside = [one for one in held if one.ending in BESIDE]
    return Sent(
        name=f"{configuration.stem}.zip", data=_zip([configuration, data, *beside])
    )


def parts_of(kept: bytes) -> Parts:
    """Return the halves of a record that `one_file` made; InputError otherwise."""
    if not kept.startswith(b"PK\x03\x04"):
        return _of_combined(kept)
    held = _unfolded(Sent(name="record.zip", data=kept))
    return Parts(configuration=_only(held, "cfg").data, data=_only(held, "dat").data)


def _only(held: Sequence[Sent], ending: str) -> Sent:
    found = [one for one in held if one.ending == ending]
    if len(found) != 1:
        what = "no file" if not found else f"{len(found)} files"
        raise refused(f"There is {what} ending in .{ending}. {WANTED}")
    return found[0]


def _unfolded(file: Sent) -> list[Sent]:
    """Return the files in a zip; any other file alone."""
    if not file.data.startswith(b"PK\x03\x04"):
        return [file]
    try:
        with zipfile.ZipFile(BytesIO(file.data)) as archive:
            members = [one for one in archive.infolist() if not one.is_dir()]
            unfolded = sum(one.file_size for one in members)
            if len(members) > MOST_MEMBERS or unfolded > MOST_BYTES:
                raise refused(
                    f"The zip unfolds to more than {MOST_MEMBERS} files or "
                    f"{MOST_BYTES // 1_000_000} MB. Send the files of one record."
                )
            return [
                Sent(name=re.split(r"[\\/]", one.filename)[-1], data=archive.read(one))
                for one in members
            ]
    except (zipfile.BadZipFile, OSError, RuntimeError, ValueError, EOFError) as error:
        raise refused(f"The zip cannot be read. {WANTED}") from error


def _zip(files: Sequence[Sent]) -> bytes:
    packed = BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as archive:
        for file in sorted(files, key=lambda one: one.ending):
            name = f"{file.stem}.{file.ending}"
            archive.writestr(
                zipfile.ZipInfo(name, STILL), file.data, zipfile.ZIP_DEFLATED
            )
    return packed.getvalue()


def _of_combined(kept: bytes) -> Parts:
    """Cut a CFF at its headings; binary data are as many bytes as its heading says."""
    headings = list(SECTION.finditer(kept))
    begun = {one[1].upper(): at for at, one in reversed(list(enumerate(headings)))}
    if b"CFG" not in begun or b"DAT" not in begun:
        raise refused(
            "The combined file has no heading '--- file type: CFG ---' or none for "
            f"its data (DAT): it is no CFF, or was cut. {WANTED}"
        )
    configuration, data = headings[begun[b"CFG"]], headings[begun[b"DAT"]]
    kind, count = (data[2] or b"").decode().upper(), data[3]
    body = kept[data.end() :]
    if count is not None:
        if len(body) < int(count):
            raise refused(
                f"The combined file says that its data are {int(count)} bytes, but "
                f"{len(body)} are there: it was cut. Export the record again."
            )
        body = body[: int(count)]
    elif kind in ("", "ASCII"):
        body = _until_next(kept, data, headings)
    return Parts(
        configuration=_until_next(kept, configuration, headings),
        data=body,
        data_type=kind,
    )


def _until_next(
    kept: bytes, heading: re.Match[bytes], headings: Sequence[re.Match[bytes]]
) -> bytes:
    after = [one.start() for one in headings if one.start() > heading.start()]
    return kept[heading.end() : min(after, default=len(kept))]
