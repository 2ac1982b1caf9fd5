"""Make this checkout importable in the environment whose Python runs this file.

Writes what an editable install would: a path file, the project's metadata and the
console script. No build back-end has to be downloaded for it.
"""

import sys
import sysconfig
import tomllib
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
SCRIPT = """#!{python}
import sys
from {module} import {function}
sys.exit({function}())
"""


def main() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    library = Path(sysconfig.get_path("purelib"))
    info = library / f"{project['name']}-{project['version']}.dist-info"
    for old in library.glob(f"{project['name']}-*.dist-info"):
        for file in old.iterdir():
            file.unlink()
        old.rmdir()
    info.mkdir()
    written = [library / f"{project['name']}.pth"]
    written[0].write_text(f"{ROOT}\n", "utf-8")
    for name, text in metadata(project).items():
        (info / name).write_text(text, "utf-8")
        written.append(info / name)
    written += [write_script(name, entry) for name, entry in project["scripts"].items()]
    record = info / "RECORD"
    record.write_text("".join(f"{file},,\n" for file in [*written, record]), "utf-8")


def metadata(project: dict[str, object]) -> dict[str, str]:
    scripts = project["scripts"]
    assert isinstance(scripts, dict)
    entries = "".join(f"{name} = {entry}\n" for name, entry in scripts.items())
    return {
        "METADATA": f"Metadata-Version: 2.1\nName: {project['name']}\n"
        f"Version: {project['version']}\nSummary: {project['description']}\n",
        "INSTALLER": "make\n",
        "entry_points.txt": f"[console_scripts]\n{entries}",
    }


def write_script(name: str, entry: str) -> Path:
    module, function = entry.split(":")
    path = Path(sysconfig.get_path("scripts")) / name
    path.write_text(
        SCRIPT.format(python=sys.executable, module=module, function=function), "utf-8"
    )
    path.chmod(0o755)
    return path


main()
