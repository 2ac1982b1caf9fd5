"""What the joiner makes of a module's lines, and what it refuses."""

import pytest

from webapp.field.joining.bare_code import JoinError
from webapp.field.joining.module import read_module

ADDRESS = "/static/field/safety/words.js"


@pytest.mark.parametrize(
    ("text", "code", "exports"),
    [
        ("const a = 1;\n", "const a = 1;\n", {}),
        ("// said\n\n  /** said */\nact();\n", "act();\n", {}),
        ("/**\n * import x\n */\nact(); // done\n", "act(); // done\n", {}),
        (
            'import { h } from "../dom.js";\n',
            'const { h } = $need("/static/field/dom.js");\n',
            {},
        ),
        (
            'import {\n  say,\n  put as set,\n} from "/offline/reader.js";\n',
            'const { say, put: set } = $need("/offline/reader.js");\n',
            {},
        ),
        (
            'import * as all from "./a.js";\n',
            'const all = $need("/static/field/safety/a.js");\n',
            {},
        ),
        (
            'import said from "./a.js";\n',
            'const { default: said } = $need("/static/field/safety/a.js");\n',
            {},
        ),
        ('import "./a.js";\n', '$need("/static/field/safety/a.js");\n', {}),
        ("export const A = 1;\n", "const A = 1;\n", {"A": "A"}),
        ("export function a() {}\n", "function a() {}\n", {"a": "a"}),
        ("export function* a() {}\n", "function* a() {}\n", {"a": "a"}),
        ("export async function a() {}\n", "async function a() {}\n", {"a": "a"}),
        ("export class A {}\n", "class A {}\n", {"A": "A"}),
        (
            "export const { a, b } = given;\n",
            "const { a, b } = given;\n",
            {"a": "a", "b": "b"},
        ),
        (
            'export default {"a": 1};\n',
            'const $default = {"a": 1};\n',
            {"default": "$default"},
        ),
        ("export { a, b as c };\n", "", {"a": "a", "c": "b"}),
        (
            'export { a as b } from "./a.js";\n',
            '$need("/static/field/safety/a.js");\n',
            {"b": '$need("/static/field/safety/a.js").a'},
        ),
        (
            'const a = await_(import("../a.js"));\n',
            'const a = await_($needLater("/static/field/a.js"));\n',
            {},
        ),
    ],
)
def test_what_is_made_of_a_line(text: str, code: str, exports: dict[str, str]) -> None:
    module = read_module(ADDRESS, text)
    assert (module.code, module.exports) == (code, exports)


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ('act();\nimport { a } from "./a.js";\n', 2),  # after code
        ('if (b) {\n  import "./a.js";\n}\n', 2),
        ("export let a = 1;\n", 1),  # would need a live binding
        ("export const [a] = b;\n", 1),
        ('export * from "./a.js";\n', 1),
        ("export default function () {}\n", 1),
        ("import { a } from './a.js';\n", 1),
        ('import a, { b } from "./a.js";\n', 1),
        ("const a = import(named);\n", 1),
        ("const a = import.meta.url;\n", 1),
        ("const a = await b();\n", 1),
        ("act();\nawait b();\n", 2),
        ("const a = `\n// not a comment\n`;\n", 1),
        ('const a = "\\\n// not a comment";\n', 1),
        ("/* said */ act();\n", 1),
        ("/* said\n*/ act();\n", 2),
    ],
)
def test_what_is_refused_and_where(text: str, line: int) -> None:
    with pytest.raises(JoinError, match=f"^{ADDRESS}, line {line}: "):
        read_module(ADDRESS, text)
