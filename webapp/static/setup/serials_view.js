// Every serial number in one list: what is read off the plates in one walk along the floor.

import { h } from "../field/dom.js";
import { setPlate } from "./apparatus.js";
import { plateField } from "./plate_view.js";

/** Return the pane of serial numbers, from the left. */
export function serialsView(editor) {
  const field = editor.vocabulary.fields.serial;
  const rows = editor.draft.cells.flatMap((cell) =>
    cell.apparatus
      .filter((one) => one.kind !== "bus")
      .map((one) =>
        plateField({ ...field, label: `Cell ${cell.number} · ${one.label}` }, plateOf(one), {
          faults: editor.faults,
          hz: () => null,
          change: (name, read) =>
            editor.act(setPlate(editor.draft, one.key, name, read), `the serial number of ${one.label}`, {
              typing: `${one.key}.plate.${name}`,
              plate: `${one.key}.plate.${name}`,
            }),
        }),
      ),
  );
  return [
    h("h2", { id: "pane-title", tabindex: -1 }, "Serial numbers"),
    h("p", { class: "quiet" }, "From the left, as one walks along the floor."),
    rows.length ? h("div", { class: "serials" }, rows) : h("p", { class: "quiet" }, "There is nothing with a plate yet."),
  ];
}

function plateOf(one) {
  return { kind: one.kind, values: one.plate, typed: one.typed, place: `${one.key}.plate`, id: `s-${one.key}` };
}
