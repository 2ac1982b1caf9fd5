// The page of the wire: which instrument, its port, what is asked, and whether it answers.

import { saidUnit } from "/offline/reader.js";
import { chosenInstrument } from "../conditions.js";
import { h, replace } from "../dom.js";
import { capital } from "../words.js";
import { askValue, choosePort, connect, connected, disconnect } from "./connection.js";
import { WireError } from "./lines.js";
import { QUERIES, queryFault } from "./scpi.js";
import { BAUDS, BITS, ENDS, keepQuery, keepWire, LONGEST_WAIT_S, PARITIES, quantitiesOf, queryOf, STOPS, wireOf } from "./settings.js";

const CAUTION =
  "FETCh? takes the value that stands on the instrument. READ? and MEASure…? begin a measurement: an instrument that " +
  "puts out voltage or current may put it out then. Ask only where you would press its own key.";

/** Draws the page into *node*, and anew after each act. */
export class WirePart {
  constructor(store, node, card) {
    Object.assign(this, { store, node, card, said: null, busy: false });
    const offered = store.doc.instruments.filter((one) => !one.retired && quantitiesOf(store, one).length);
    this.offered = offered;
    const wanted = [card && chosenInstrument(store, card), connected()?.instrument];
    this.chosen = wanted.find((one) => offered.includes(one)) ?? offered[0] ?? null;
    this.draw();
  }

  draw() {
    replace(this.node, this.head(), this.chosen ? this.parts() : h("p", {}, "The register has no instrument that reads a number."));
  }

  head() {
    return h(
      "div",
      { class: "headline" },
      h("div", {}, h("h1", { tabindex: -1 }, "Instrument on a wire"), h("p", {}, "What it answers is put into the field, as if typed. Nothing is recorded by itself.")),
      h("p", { class: "actions" }, this.back()),
    );
  }

  back() {
    const { card } = this;
    const way = card ? [`#/cards/${card.id}`, `‹ Card ${card.position}`] : ["#/", "‹ Elevation"];
    return h("a", { class: "button", href: way[0], "data-focus": "wire-back" }, way[1]);
  }

  parts() {
    return [this.instrumentPart(), this.portPart(), this.queryPart()];
  }

  instrumentPart() {
    const here = connected();
    const mine = here?.instrument.id === this.chosen.id;
    const options = this.offered.map((one) => h("option", { value: one.id }, `${one.tag} · ${one.name}`));
    return h(
      "section",
      { class: "sheet", "aria-labelledby": "wire-instrument" },
      h("h2", { class: "sheet-title", id: "wire-instrument" }, "Instrument"),
      h(
        "div",
        { class: "field narrow" },
        h("label", { for: "wire-which" }, "Of the register"),
        h("select", { id: "wire-which", "data-focus": "wire-which", value: this.chosen.id, onchange: (event) => this.choose(event.target.value) }, options),
      ),
      h("div", { class: "wire-said", role: "status" }, this.said, here && !mine && h("p", {}, `${here.instrument.tag} is connected now.`), mine && this.whoPart(here)),
      h(
        "p",
        { class: "actions" },
        this.act("wire-connect", mine ? "Connect again" : "Choose the port and connect", "button-main", () => this.connect()),
        here && this.act("wire-off", "Disconnect", "", () => disconnect()),
      ),
    );
  }

  /** Who answered, beside what the register says. */
  whoPart(here) {
    const { who, same, errors, wire, instrument } = here;
    const words = {
      same: `The serial number is that of ${instrument.tag} in the register.`,
      untold: `It tells no serial number, or the register has none: compare the plate with No. ${instrument.serial || "not entered"}.`,
      other: `It says serial number ${who.serial}; the register says ${instrument.serial} for ${instrument.tag}. Nothing is read from it.`,
    };
    return h(
      "div",
      { class: `notice notice-${{ same: "done", untold: "care", other: "fault" }[same]}` },
      h("p", { class: "strong" }, `Connected: ${[who.maker, who.type, who.serial && `No. ${who.serial}`, who.firmware].filter(Boolean).join(" · ")}`),
      h("p", {}, words[same]),
      same === "other" && this.agreeing(here),
      wire.echoes && h("p", {}, "It sends back what it is asked: that is passed over."),
      wire.settings.errors && !errors && h("p", {}, "It does not answer SYST:ERR?: errors that it knows of are not told."),
    );
  }

  agreeing(here) {
    const turn = (event) => {
      here.agreed = event.target.checked;
    };
    return h("label", { class: "choice" }, h("input", { type: "checkbox", checked: here.agreed, "data-focus": "wire-agreed", onchange: turn }), h("span", {}, `I have compared the plate: it is ${here.instrument.tag}, read from it`));
  }

  portPart() {
    const id = this.chosen.id;
    const kept = wireOf(id);
    const number = (name) => (text) => keepWire(id, { [name]: Number(text) });
    const word = (name) => (text) => keepWire(id, { [name]: text });
    return h(
      "section",
      { class: "sheet", "aria-labelledby": "wire-port" },
      h("h2", { class: "sheet-title", id: "wire-port" }, "Port, as the instrument's manual says; counts from the next connection"),
      h(
        "div",
        { class: "conditions wire-port" },
        this.select("baud", "Speed, baud", BAUDS.map((one) => [one, one]), kept.baud, number("baud")),
        this.select("bits", "Data bits", BITS.map((one) => [one, one]), kept.bits, number("bits")),
        this.select("parity", "Parity", PARITIES.map((one) => [one, one]), kept.parity, word("parity")),
        this.select("stop", "Stop bits", STOPS.map((one) => [one, one]), kept.stop, number("stop")),
        this.select("end", "Line end sent", Object.entries(ENDS), kept.end, word("end")),
        this.waitField(kept),
      ),
      h(
        "label",
        { class: "choice" },
        h("input", { type: "checkbox", checked: kept.errors, "data-focus": "wire-errors", onchange: (event) => keepWire(id, { errors: event.target.checked }) }),
        h("span", {}, "Ask after each reading whether it reports an error (SYST:ERR?)"),
      ),
    );
  }

  waitField({ wait }) {
    const fault = h("span", { class: "fault", id: "wire-wait-fault", role: "alert" });
    const keep = ({ target }) => {
      const seconds = Number(target.value);
      const right = seconds >= 1 && seconds <= LONGEST_WAIT_S;
      fault.textContent = right ? "" : `1 to ${LONGEST_WAIT_S} s.`;
      if (right) keepWire(this.chosen.id, { wait: seconds });
    };
    return h(
      "div",
      { class: "condition" },
      h("label", { for: "wire-wait" }, "Wait for an answer, s"),
      h("input", { id: "wire-wait", "data-focus": "wire-wait", type: "text", inputmode: "decimal", autocomplete: "off", "aria-describedby": "wire-wait-fault", value: wait, oninput: keep }),
      fault,
    );
  }

  select(name, label, choices, value, keep) {
    const id = `wire-${name}`;
    const options = choices.map(([one, words]) => h("option", { value: one }, words));
    return h(
      "div",
      { class: "condition" },
      h("label", { for: id }, label),
      h("select", { id, "data-focus": id, value, onwheel: (event) => event.preventDefault(), onchange: (event) => keep(event.target.value) }, options),
    );
  }

  queryPart() {
    const list = h("datalist", { id: "wire-queries" }, QUERIES.map((one) => h("option", { value: one })));
    return h(
      "section",
      { class: "sheet", "aria-labelledby": "wire-query" },
      h("h2", { class: "sheet-title", id: "wire-query" }, "What it is asked for a value"),
      h("p", { class: "notice notice-care" }, h("span", { class: "strong" }, "Caution. "), CAUTION),
      list,
      quantitiesOf(this.store, this.chosen).map((quantity) => this.queryFields(quantity)),
    );
  }

  queryFields({ name, units }) {
    const { text, unit } = queryOf(this.chosen.id, name);
    const id = `wire-query-${name}`;
    const fault = h("span", { class: "fault", id: `${id}-fault`, role: "alert" }, queryFault(text) ?? "");
    const keep = ({ target }) => {
      const typed = target.value.trim();
      fault.textContent = queryFault(typed) ?? "";
      keepQuery(this.chosen.id, name, { text: typed });
    };
    const choices = [["", "as the answer says"], ...units.map((one) => [one, saidUnit(one)])];
    return h(
      "div",
      { class: "conditions wire-query" },
      h(
        "div",
        { class: "condition" },
        h("label", { for: id }, `Query for a ${name}`),
        h("input", { id, "data-focus": id, type: "text", list: "wire-queries", autocomplete: "off", autocapitalize: "off", spellcheck: "false", "aria-describedby": `${id}-fault`, value: text, oninput: keep }),
        fault,
      ),
      this.select(`unit-${name}`, `${capital(name)} answered in`, choices, unit, (value) => keepQuery(this.chosen.id, name, { unit: value })),
      h("div", { class: "condition wire-try" }, this.act(`wire-try-${name}`, "Try it", "", () => this.tryIt(name))),
    );
  }

  act(focus, words, kind, run) {
    return h("button", { type: "button", class: `button ${kind}`, "data-focus": focus, "aria-disabled": String(this.busy), onclick: () => this.busy || this.run(run) }, words);
  }

  async run(act) {
    this.busy = true;
    this.tell("", "Asking …");
    let told = null;
    try {
      told = ["done", await act()];
    } catch (error) {
      if (!(error instanceof WireError)) throw error;
      told = ["fault", error.message];
    } finally {
      this.busy = false;
    }
    this.tell(...told);
  }

  tell(kind, words) {
    this.said = words ? h("div", { class: `notice ${kind && `notice-${kind}`}` }, h("p", {}, words)) : null;
    this.draw();
  }

  choose(id) {
    this.chosen = this.offered.find((one) => one.id === id);
    this.tell("", "");
  }

  async connect() {
    await connect(await choosePort(), this.chosen);
  }

  async tryIt(quantity) {
    const { answer, text, unit } = await askValue(this.chosen, quantity);
    return `It answered “${answer}”: ${text} ${saidUnit(unit)}. Nothing was entered.`;
  }
}
