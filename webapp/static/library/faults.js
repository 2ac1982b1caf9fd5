// What is wrong, at the field in which it was typed.

import { h } from "/static/field/dom.js";

/** Take away every fault that stands at a field, and those at the head of the form. */
export function clearFaults(form) {
  for (const said of form.querySelectorAll(".fault")) said.remove();
  for (const box of form.querySelectorAll(".field-faulty")) box.classList.remove("field-faulty");
  for (const field of form.querySelectorAll("[aria-invalid]")) {
    field.removeAttribute("aria-invalid");
    describe(field, "");
  }
  document.getElementById("faults")?.remove();
}

/** Put each fault, {field, message}, at its field. */
export function showFaults(form, faults) {
  const byField = new Map();
  for (const { field, message } of faults) {
    byField.set(field, [...(byField.get(field) ?? []), message]);
  }
  for (const [name, messages] of byField) {
    const field = form.elements[name];
    if (!field) continue;
    const id = `${field.id}-fault`;
    field.closest(".field").classList.add("field-faulty");
    field.closest(".field").append(h("span", { class: "fault", id }, [...new Set(messages)].join(" ")));
    field.setAttribute("aria-invalid", "true");
    describe(field, id);
  }
}

function describe(field, fault) {
  const hint = document.getElementById(`${field.id}-hint`);
  const about = [fault, hint?.id].filter(Boolean).join(" ");
  if (about) field.setAttribute("aria-describedby", about);
  else field.removeAttribute("aria-describedby");
}
