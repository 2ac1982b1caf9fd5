"""One ES module as a function: what it imports, what it exports, and its code.

Imports stand at the head of a module and exports before what they name, each at the
beginning of a line; that is how all of ours are written. Anything else is refused.
"""

import posixpath
import re
from dataclasses import dataclass, field

from webapp.field.joining.bare_code import JoinError, bare_code

FROM = r' from "(?P<source>[^"]+)"'
IMPORT = re.compile(
    r"import(?: (?:(?P<default>\w+)|\* as (?P<whole>\w+)|\{(?P<names>[\w\s,]*)\})"
    + FROM
    + r'| "(?P<bare>[^"]+)");\n'
)
EXPORT_FROM = re.compile(
    r"^export \{(?P<names>[\w\s,]*)\}" + FROM + r";\n", re.MULTILINE
)
EXPORT_LIST = re.compile(r"^export \{(?P<names>[\w\s,]*)\};\n", re.MULTILINE)
EXPORT_DEFAULT = re.compile(r"^export default (?=[{\[(\"\d])", re.MULTILINE)
EXPORT_NAMED = re.compile(
    r"^export (?=(?:(?:async )?function\*? |class |const )(?P<names>\w+)\b"
    r"|const \{ (?P<taken>[\w, ]+) \} =)",
    re.MULTILINE,
)
DYNAMIC = re.compile(r'\bimport\("(?P<source>[^"]+)"\)')
NAME = re.compile(r"(?P<name>\w+)(?: as (?P<other>\w+))?")
NOT_OURS = (
    (re.compile(r"^\s*(?:import|export)\b.*", re.MULTILINE), "not at the head"),
    (re.compile(r"\bimport\s*\(.*|\bimport\.meta.*"), "no import of a plain text"),
    (
        re.compile(r"^(?:const [^=]*= )?await\b.*", re.MULTILINE),
        "await at the top",
    ),
)


@dataclass(slots=True)
class Module:
    """A module by its address.

    *needs*: addresses of the modules that are run before it, in order; *later*: those
    it asks for with `import()`; *exports*: name -> the expression that gives it.
    """

    address: str
    code: str = ""
    needs: list[str] = field(default_factory=list)
    later: list[str] = field(default_factory=list)
    exports: dict[str, str] = field(default_factory=dict)

    def at(self, source: str) -> str:
        """Return the address that an import names."""
        return posixpath.normpath(
            posixpath.join(posixpath.dirname(self.address), source)
        )


def read_module(address: str, text: str) -> Module:
    """Return what a module's text says; JoinError."""
    module = Module(address)
    code = bare_code(address, text)
    head, rest = _imports(module, code)
    rest = EXPORT_FROM.sub(lambda found: _passed_on(module, found), rest)
    rest = EXPORT_LIST.sub(lambda found: _listed(module, found), rest)
    rest = EXPORT_DEFAULT.sub(lambda _found: _default(module), rest)
    rest = EXPORT_NAMED.sub(lambda found: _named(module, found), rest)
    rest = DYNAMIC.sub(lambda found: _later(module, found), rest)
    for pattern, fault in NOT_OURS:
        if found := pattern.search(rest):
            raise _refused(address, text, found[0].strip(), fault)
    module.code = head + rest
    return module


def _imports(module: Module, code: str) -> tuple[str, str]:
    """Return the imports as constants, and the code after them."""
    head, at = [], 0
    while found := IMPORT.match(code, at):
        at = found.end()
        source = _needed(module, found["source"] or found["bare"])
        names = _bound(found)
        head.append(f"const {names} = {source};\n" if names else f"{source};\n")
    return "".join(head), code[at:]


def _bound(found: re.Match[str]) -> str:
    if found["default"]:
        return f"{{ default: {found['default']} }}"
    if found["whole"]:
        return found["whole"]
    if found["bare"]:
        return ""
    pairs = _pairs(found["names"])
    return "{ " + ", ".join(_same_or(name, as_) for name, as_ in pairs) + " }"


def _same_or(name: str, other: str) -> str:
    return name if name == other else f"{name}: {other}"


def _needed(module: Module, source: str) -> str:
    address = module.at(source)
    module.needs.append(address)
    return f'$need("{address}")'


def _pairs(names: str) -> list[tuple[str, str]]:
    """Return (name, the name it is given) of what stands between braces."""
    found = [NAME.fullmatch(one.strip()) for one in names.split(",") if one.strip()]
    return [(one["name"], one["other"] or one["name"]) for one in found if one]


def _passed_on(module: Module, found: re.Match[str]) -> str:
    source = _needed(module, found["source"])
    for name, other in _pairs(found["names"]):
        module.exports[other] = f"{source}.{name}"
    return f"{source};\n"


def _listed(module: Module, found: re.Match[str]) -> str:
    for name, other in _pairs(found["names"]):
        module.exports[other] = name
    return ""


def _default(module: Module) -> str:
    module.exports["default"] = "$default"
    return "const $default = "


def _named(module: Module, found: re.Match[str]) -> str:
    for name, _same in _pairs(found["names"] or found["taken"]):
        module.exports[name] = name
    return ""


def _later(module: Module, found: re.Match[str]) -> str:
    address = module.at(found["source"])
    module.later.append(address)
    return f'$needLater("{address}")'


def _refused(address: str, text: str, line: str, fault: str) -> JoinError:
    lines = [one.strip() for one in text.split("\n")]
    number = lines.index(line) + 1 if line in lines else 1
    return JoinError(address, number, f"'{line}' is not joined: {fault}.")
