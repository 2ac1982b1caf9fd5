// What is on this tablet: rounds held, what is unsent and whose, room, version.

import { h, passwordIn, putPassword, replace } from "../dom.js";
import { passwordPart } from "../kept/password_part.js";
import { room } from "../kept/room.js";
import { heldRounds } from "../kept/rounds.js";
import { tablet } from "../kept/tablet.js";
import { waitingHere } from "../kept/waiting.js";
import { withoutWorkerWords } from "../shell/worker.js";
import { waitingSignatures } from "../signing/waiting_signatures.js";
import { asidePart } from "./aside_part.js";
import { roundsPart } from "./rounds_part.js";
import { storagePart } from "./storage_part.js";
import { unsentPart } from "./unsent_part.js";

const LOOK_AGAIN_MS = 2000;

let page = null;

/** The page; it is one element that draws itself anew when something has changed. */
export function tabletPage(person, store = null, notice = null) {
  if (page?.person?.id !== person?.id || page?.store !== store) page = new TabletPage(person, store, notice);
  page.look();
  return page.node;
}

class TabletPage {
  constructor(person, store, notice) {
    Object.assign(this, { person, store, notice, shown: "", said: "", ui: {}, node: h("div", { class: "stack" }) });
    this.password = person && passwordPart(person);
    this.watch();
  }

  /** While it is on the page it looks again; what it says is to be so. */
  watch() {
    setTimeout(() => {
      if (page !== this) return;
      if (this.node.isConnected) this.look();
      this.watch();
    }, LOOK_AGAIN_MS);
  }

  async look() {
    const [rounds, waiting, storage] = await Promise.all([
      this.person ? heldRounds(this.person) : [],
      waitingHere().catch(() => []),
      room(),
    ]);
    this.draw({ rounds, waiting, storage });
  }

  /** Say what came of an act, and look again. */
  tell(words) {
    this.said = words;
    this.look();
  }

  draw(found) {
    const aside = this.store?.outbox.aside ?? [];
    const signatures = this.store && waitingSignatures(this.store, this.ui);
    const shown = JSON.stringify([found.rounds, found.waiting, found.storage.persistent, aside, this.said, signatures?.textContent]);
    if (shown === this.shown) return;
    this.shown = shown;
    const focus = document.activeElement?.dataset?.focus;
    const password = passwordIn(this.node);
    replace(this.node, this.head(), this.notices(), signatures, roundsPart(this, found), asidePart(this.store), unsentPart(this, found.waiting), this.password, storagePart(found.storage));
    putPassword(this.node, password);
    if (focus) this.node.querySelector(`[data-focus="${CSS.escape(focus)}"]`)?.focus({ preventScroll: true });
  }

  head() {
    const version = document.documentElement.dataset.program;
    const back = this.store ? { href: "#/", words: "‹ Elevation" } : { href: "/field/", words: "All rounds" };
    return h(
      "div",
      { class: "headline" },
      h("div", {}, h("h1", { tabindex: -1 }, "On this tablet"), h("p", {}, `${tablet().label} · program ${version}`)),
      h("p", { class: "actions" }, h("a", { class: "button", href: back.href }, back.words)),
    );
  }

  notices() {
    const words = [this.notice, withoutWorkerWords(), this.said].filter(Boolean);
    return words.map((one) => h("div", { class: "notice notice-care", role: "status" }, h("p", {}, one)));
  }
}
