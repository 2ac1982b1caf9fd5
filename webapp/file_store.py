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


def init_files(app: Flask, config: Config) -> None:
    """Give the application its store of files, and let such a request be larger.

    It has to be said before anybody reads the request's form.
    """
    app.extensions["files"] = store_of(config)
    app.extensions["file limits"] = limits_of(config)
    app.extensions["file parts"] = parts_of(config)

    @app.before_request
    def admit() -> None:
        if request.endpoint not in UPLOADS:
            return
        request.max_content_length = limits().bytes + BESIDE
        if (request.content_length or 0) > limits().bytes + BESIDE:
            abort(413, description=too_large(limits()))


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
