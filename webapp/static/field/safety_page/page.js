// The round's safety page: which of its sheets an address asks for.

import { h } from "../dom.js";
import { cellPage } from "./cell_page.js";
import { crewPage } from "./crew_page.js";
import { isolationPage } from "./isolation_page.js";
import { overview } from "./overview.js";
import { pageFaults } from "./parts.js";
import { speakerNotice } from "./people_part.js";
import { returnPage } from "./return_page.js";
import { byScopes } from "./scopes.js";

const SHEETS = { crew: crewPage, isolation: isolationPage, cells: cellPage, point: cellPage, return: returnPage };

/** Draw `#/safety/<sheet>/<id>`; without a sheet the three of them. */
export function safetyPage(store, ui, sheet, id) {
  if (!byScopes(store)) return h("div", { class: "sheet empty" }, "This round keeps its preconditions on its cards, as they were confirmed.");
  return [speakerNotice(store, ui), pageFaults(store), returned(store), (SHEETS[sheet] ?? overview)(store, ui, id)];
}

/** What the server did not take: said whole, until it is read. */
function returned(store) {
  return store.safety.returned.map(({ key, act, messages }) =>
    h(
      "div",
      { class: "notice notice-fault notice-row", role: "alert" },
      h("p", {}, h("strong", {}, `Not taken (${[act.code, act.act.replaceAll("_", " ")].filter(Boolean)[0]}): `), messages.join(" ")),
      h("button", { type: "button", class: "button", onclick: () => store.safety.dismiss(key) }, "Read"),
    ),
  );
}
