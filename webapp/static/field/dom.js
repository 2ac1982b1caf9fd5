// Elements from calls: no templates in strings, so nothing typed is ever markup.

const SVG = "http://www.w3.org/2000/svg";

function fill(node, attributes, children) {
  for (const [name, value] of Object.entries(attributes ?? {})) {
    if (value === null || value === undefined || value === false) continue;
    if (name.startsWith("on")) node.addEventListener(name.slice(2), value);
    else if (name === "value") node.value = value;
    else if (name === "checked" || name === "disabled") node[name] = Boolean(value);
    else node.setAttribute(name, value === true ? "" : String(value));
  }
  for (const child of children.flat(Infinity)) {
    if (child === null || child === undefined || child === false) continue;
    node.append(child);
  }
  return node;
}

/** Return an element: h("p", {class: "quiet"}, "text", child, [children]). */
export function h(tag, attributes, ...children) {
  const node = document.createElement(tag);
  // A select takes its value only once its options are there.
  const { value, ...rest } = attributes ?? {};
  fill(node, tag === "select" ? rest : attributes, children);
  if (tag === "select" && value !== undefined) node.value = value;
  return node;
}

/** Return an SVG element. */
export function s(tag, attributes, ...children) {
  return fill(document.createElementNS(SVG, tag), attributes, children);
}

/**
 * Replace what *parent* shows, and leave the hand where it was.
 *
 * Elements with the same data-focus before and after keep the focus and the caret.
 */
export function replace(parent, ...children) {
  const held = document.activeElement;
  const key = parent.contains(held) ? held.dataset?.focus : undefined;
  const caret = key && held.selectionStart !== undefined ? caretOf(held) : null;
  parent.replaceChildren(...children.flat(Infinity).filter(Boolean));
  if (!key) return;
  const again = parent.querySelector(`[data-focus="${CSS.escape(key)}"]`);
  if (!again) return;
  again.focus({ preventScroll: true });
  if (caret && again.setSelectionRange) again.setSelectionRange(...caret);
}

function caretOf(input) {
  try {
    return input.selectionStart === null
      ? null
      : [input.selectionStart, input.selectionEnd];
  } catch {
    return null;
  }
}

const PASSWORD = "input[type=password]";

/** Return a password that is being typed: it is kept nowhere else. */
export function passwordIn(parent) {
  return parent.querySelector(PASSWORD)?.value ?? "";
}

/** Put a password back into its field, where that is drawn again. */
export function putPassword(parent, text) {
  const field = parent.querySelector(PASSWORD);
  if (field && text && !field.value) field.value = text;
}

const TYPED = "input:not([type=checkbox], [type=radio], [type=file])[data-focus], textarea[data-focus]";

/** Return what stands in the fields of *parent*: [data-focus, text]. */
export function typedIn(parent) {
  return [...parent.querySelectorAll(TYPED)].map((field) => [field.dataset.focus, field.value]);
}

/** Put texts back into the fields that are there again; the caret stays where it is held. */
export function typeAgain(parent, typed) {
  for (const [key, text] of typed) {
    const field = parent.querySelector(`[data-focus="${CSS.escape(key)}"]`);
    if (!field?.matches(TYPED) || field.value === text) continue;
    const caret = field === document.activeElement ? caretOf(field) : null;
    field.value = text;
    if (caret) field.setSelectionRange(...caret);
  }
}
