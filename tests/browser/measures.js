// What is measured on a page: targets that are too small, text with too little contrast.
(() => {
  const HANDLES =
    "a[href], button, input:not([type=hidden]), select, textarea, summary, " +
    "[role=button], [role=application], [contenteditable]";

  const isSeen = (one) => one.checkVisibility({ opacityProperty: true, visibilityProperty: true });
  const named = (one) => `${one.localName} "${(one.textContent || one.getAttribute("aria-label") || one.id || one.placeholder || "").trim().slice(0, 40)}"`;

  /** A box is hit through the label around it, or the one that names it. */
  function target(one) {
    if (!one.matches("input[type=checkbox], input[type=radio], input[type=file], .out-of-sight")) return one;
    return one.closest("label") ?? one.labels?.[0] ?? one;
  }

  /** A link within a sentence is as high as its line. */
  function isInProse(one) {
    if (one.localName !== "a" || getComputedStyle(one).display !== "inline") return false;
    const around = one.parentElement;
    return around.textContent.trim().length > one.textContent.trim().length;
  }

  /** Return each target below *least* px either way. */
  function small(least) {
    const found = new Set();
    for (const one of document.querySelectorAll(HANDLES)) {
      if (!isSeen(one) || isInProse(one)) continue;
      const { width, height } = target(one).getBoundingClientRect();
      if (Math.min(width, height) < least - 0.5) found.add(`${named(one)} ${width.toFixed(0)} x ${height.toFixed(0)}`);
    }
    return [...found];
  }

  const canvas = document.createElement("canvas").getContext("2d", { willReadFrequently: true });

  /** Any colour of CSS as [red, green, blue, alpha], 0 to 255 and 0 to 1. */
  function rgba(colour) {
    canvas.clearRect(0, 0, 1, 1);
    canvas.fillStyle = colour;
    canvas.fillRect(0, 0, 1, 1);
    const [red, green, blue, alpha] = canvas.getImageData(0, 0, 1, 1).data;
    return [red, green, blue, alpha / 255];
  }

  const over = ([r, g, b, a], [r2, g2, b2]) => [r * a + r2 * (1 - a), g * a + g2 * (1 - a), b * a + b2 * (1 - a), 1];

  /** The shape of a drawing that lies under a text of it, if any. */
  function shapeUnder(text) {
    const { left, top, width, height } = text.getBoundingClientRect();
    const [x, y] = [left + width / 2, top + height / 2];
    const shapes = [...text.ownerSVGElement.querySelectorAll("rect, circle, polygon, ellipse")].filter((one) => {
      const box = one.getBoundingClientRect();
      const isBefore = one.compareDocumentPosition(text) & Node.DOCUMENT_POSITION_FOLLOWING;
      return isBefore && isSeen(one) && getComputedStyle(one).fill !== "none" && x >= box.left && x <= box.right && y >= box.top && y <= box.bottom;
    });
    return shapes.at(-1);
  }

  /** What lies behind an element, all layers put on white. */
  function ground(element) {
    const layers = [];
    if (element.ownerSVGElement) {
      const shape = shapeUnder(element);
      if (shape) layers.push(rgba(getComputedStyle(shape).fill));
    }
    for (let one = element; one; one = one.parentElement) {
      if (!one.ownerSVGElement) layers.push(rgba(getComputedStyle(one).backgroundColor));
    }
    return layers.reverse().reduce((under, layer) => over(layer, under), [255, 255, 255, 1]);
  }

  // WCAG 2.2, "relative luminance" and "contrast ratio".
  function luminance(colour) {
    const [r, g, b] = colour.slice(0, 3).map((part) => (part / 255 <= 0.04045 ? part / 255 / 12.92 : ((part / 255 + 0.055) / 1.055) ** 2.4));
    return 0.2126 * r + 0.7152 * g + 0.0722 * b;
  }

  function ratio(one, other) {
    const [light, dark] = [luminance(one), luminance(other)].sort((a, b) => b - a);
    return (light + 0.05) / (dark + 0.05);
  }

  function opacity(element) {
    let whole = 1;
    for (let one = element; one; one = one.parentElement) whole *= Number(getComputedStyle(one).opacity);
    return whole;
  }

  /** The elements whose own text is seen, with its colour. */
  function* texts() {
    const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    while (walker.nextNode()) {
      const element = walker.currentNode.parentElement;
      if (!walker.currentNode.data.trim() || !isSeen(element) || element.closest(".out-of-sight, noscript, option")) continue;
      const style = getComputedStyle(element);
      yield [element, element.ownerSVGElement ? style.fill : style.color];
    }
    for (const one of document.querySelectorAll("input:not([type=checkbox], [type=radio], [type=file], [type=hidden]), select, textarea")) {
      if (!isSeen(one)) continue;
      yield [one, one.value || !one.placeholder ? getComputedStyle(one).color : getComputedStyle(one, "::placeholder").color];
    }
  }

  /** Return each text whose contrast with what lies behind it is below *least*; what is switched off counts too. */
  function pale(least) {
    const found = new Set();
    for (const [element, colour] of texts()) {
      const behind = ground(element);
      const [r, g, b, a] = rgba(colour);
      const contrast = ratio(over([r, g, b, a * opacity(element)], behind), behind);
      if (contrast < least) found.add(`${named(element)} ${contrast.toFixed(2)}`);
    }
    return [...found];
  }

  // As the page is made: who listens for a press (see LISTENERS in test_field_pages.py).
  const FOCUSED = "a[href], button, input, select, textarea, summary, label, [tabindex='0']";

  /** Return what can be pressed and not be reached by the Tab key. */
  function unreached() {
    const heard = [...(window.pressed ?? [])].map((one) => one.deref()).filter((one) => one?.isConnected);
    const mute = heard.filter((one) => !one.matches(FOCUSED) && !one.contains(document.activeElement));
    const left = [...document.querySelectorAll(HANDLES)].filter((one) => one.tabIndex < 0 && !one.disabled);
    return [...mute, ...left].filter(isSeen).map(named);
  }

  window.measures = { small, pale, unreached };
})();
