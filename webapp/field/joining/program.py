"""All modules that some entries need, in one classic script.

Each module is a function that is run at its first need, as a browser runs a module:
once, after those that it imports. Exports are getters, so that modules which import
each other see what the other has by then.
"""

from collections.abc import Callable, Iterable

from webapp.field.joining.module import Module, read_module

Read = Callable[[str], str]  # the text under an address

HEAD = """"use strict";
(() => {
const made = new Map();
const $need = (address) => {
  if (!made.has(address)) modules[address]((exports) => made.set(address, exports));
  return made.get(address);
};
const $needLater = async (address) => $need(address);
const modules = {
"""
# The page names the module that it begins with.
FOOT = """};
$need(document.currentScript.dataset.entry);
})();
"""


def needed_modules(entries: Iterable[str], read: Read) -> list[Module]:
    """Return the modules of the entries and all that they need; JoinError."""
    found: dict[str, Module] = {}
    waiting = [*entries]
    while waiting:
        address = waiting.pop()
        if address not in found:
            found[address] = read_module(address, read(address))
            waiting += found[address].needs + found[address].later
    return [found[address] for address in sorted(found)]


def joined(modules: Iterable[Module]) -> str:
    """Return the script that does what the module does which its element names."""
    return HEAD + "".join(_functions(modules)) + FOOT


def _functions(modules: Iterable[Module]) -> Iterable[str]:
    for module in modules:
        getters = ", ".join(
            f"get {name}() {{ return {given}; }}"
            for name, given in module.exports.items()
        )
        yield f'// {module.address}\n"{module.address}"($give) {{\n'
        yield f"$give({{ {getters} }});\n{module.code}}},\n"
