"""The installation's store of files and its limits, and requests that carry a file."""

from pathlib import Path

from flask import Flask, abort, current_app, request

from models.files.folder_store import FolderStore
from models.files.parts import PartsFolder
from models.files.receive import Limits, too_large
from models.files.s3_store import BucketStore
from models.files.store import FileStore
from webapp.config import Config, instance_dir

BESIDE = 1_000_000  # bytes of a request that are no file
UPLOADS = ("files.add", "waveforms.add", "readings_file.add")
CARRIED = "turnover.look_at_unsent_file"
LARGEST_CARRIED = 40_000_000  # bytes: the tablet makes several files of more
CARRIED_TOO_LARGE = (
    f"The file is larger than {LARGEST_CARRIED // 1_000_000} MB: no tablet makes one "
    "so large. Choose the file as the tablet saved it."
)


def init_files(app: Flask, config: Config) -> None:
    """Give the application its store of files, and let such a request be larger.

    It has to be said before anybody reads the request's form.
    """
    app.extensions["files"] = store_of(config)
    app.extensions["file limits"] = limits_of(config)
    app.extensions["file parts"] = parts_of(config)
    app.extensions["carried files"] = PartsFolder(parts_of(config).folder / "carried")

    @app.before_request
    def admit() -> None:
        if request.endpoint in UPLOADS:
            _let_in(limits().bytes + BESIDE, too_large(limits()))
        elif request.endpoint == CARRIED:
            _let_in(LARGEST_CARRIED, CARRIED_TOO_LARGE)


def _let_in(most: int, words: str) -> None:
    """Let the request have so many bytes; say in *words* that it has more."""
    request.max_content_length = most
    if (request.content_length or 0) > most:
        abort(413, description=words)


def store_of(config: Config) -> FileStore:
    """Return the store that *config* names; StoreError where it cannot be one."""
    if config.files.startswith("s3:"):
        return BucketStore(config.files)
    return FolderStore(Path(config.files))


def parts_of(config: Config) -> PartsFolder:
    """Return where files stay that have not arrived whole: always on this machine."""
    if config.files.startswith("s3:"):
        return PartsFolder(instance_dir() / "parts")
    return PartsFolder(Path(config.files) / "parts")


def limits_of(config: Config) -> Limits:
    """Return what the installation takes."""
    return Limits(bytes=config.file_mb * 1_000_000, each=config.files_each)


def store() -> FileStore:
    """Return the application's store of files."""
    found: FileStore = current_app.extensions["files"]
    return found


def limits() -> Limits:
    """Return what the application takes."""
    found: Limits = current_app.extensions["file limits"]
    return found


def parts() -> PartsFolder:
    """Return where the application keeps files that have not arrived whole."""
    found: PartsFolder = current_app.extensions["file parts"]
    return found


def carried() -> PartsFolder:
    """Return where a tablet's file stays between being looked at and taken in."""
    found: PartsFolder = current_app.extensions["carried files"]
    return found
