"""JSON Schemas of the shapes, worked out from their types.

`python -m models.record.shapes.json_schema docs/schemas` writes them.
"""

import json
import sys
from pathlib import Path
from types import NoneType, UnionType
from typing import (
    Any,
    Literal,
    NotRequired,
    Union,
    get_args,
    get_origin,
    get_type_hints,
    is_typeddict,
)

from models.record.shapes.entries import Entries
from models.record.shapes.package_document import PackageDocument, RoundRecord
from models.record.shapes.round_document import RoundDocument
from models.record.shapes.safety_report import AttachedSafety

DIALECT = "https://json-schema.org/draft/2020-12/schema"
SHAPES: dict[str, Any] = {
    "round_document": RoundDocument,
    "package_document": PackageDocument,
    "entries": Entries,
    "round_record": RoundRecord,
    "attached_safety": AttachedSafety,
}
PLAIN: dict[Any, dict[str, Any]] = {
    str: {"type": "string"},
    bool: {"type": "boolean"},
    int: {"type": "integer"},
    float: {"type": "number"},
    NoneType: {"type": "null"},
    Any: {},
}

Schema = dict[str, Any]


def json_schema(name: str) -> Schema:
    """Return the schema of one of SHAPES; each shape in it stands once, by name."""
    shapes: dict[str, Schema] = {}
    root = _schema(SHAPES[name], shapes)
    return {"$schema": DIALECT, "title": name, **root, "$defs": shapes}


def _schema(kind: Any, shapes: dict[str, Schema]) -> Schema:
    """Return the schema of a type. TypeError for one that no shape uses."""
    if kind in PLAIN:
        return PLAIN[kind]
    if is_typeddict(kind):
        return _named(kind, shapes)
    origin, args = get_origin(kind), get_args(kind)
    if origin is Literal:
        return {"enum": list(args)}
    if origin is list:
        return {"type": "array", "items": _schema(args[0], shapes)}
    if origin is dict:
        return {"type": "object", "additionalProperties": _schema(args[1], shapes)}
    if origin in (Union, UnionType):
        return {"anyOf": [_schema(one, shapes) for one in args]}
    raise TypeError(f"no JSON Schema is made of {kind}")


def _named(kind: Any, shapes: dict[str, Schema]) -> Schema:
    name = kind.__name__
    if name not in shapes:
        shapes[name] = {}  # its place, should it hold itself
        shapes[name] = _object(kind, shapes)
    return {"$ref": f"#/$defs/{name}"}


def _object(kind: Any, shapes: dict[str, Schema]) -> Schema:
    hints = get_type_hints(kind, include_extras=True)
    properties, required = {}, []
    for name, hint in hints.items():
        optional = get_origin(hint) is NotRequired
        properties[name] = _schema(get_args(hint)[0] if optional else hint, shapes)
        if not optional:
            required.append(name)
    return {
        "type": "object",
        "properties": properties,
        "required": required,
        "additionalProperties": False,
    }


def schema_text(name: str) -> str:
    """Return the schema as it stands in its file."""
    return json.dumps(json_schema(name), indent=1, ensure_ascii=False) + "\n"


def write_schemas(folder: Path) -> None:
    """Write each schema as <name>.json."""
    for name in SHAPES:
        (folder / f"{name}.json").write_text(schema_text(name), "utf-8")


if __name__ == "__main__":
    write_schemas(Path(sys.argv[1]))
