"use strict";
// What every other part of the page uses: elements without markup strings, numbers as people read them, one place for messages.
window.lesson = (() => {
  const byId = (id) => document.getElementById(id);

  /** An element. Text and attributes only: nothing that comes from a file is ever read as markup. */
  function el(name, attributes, ...children) {
    const node = document.createElement(name);
    for (const [key, value] of Object.entries(attributes || {})) {
      if (value === null || value === undefined || value === false) continue;
      if (key.startsWith("on")) node.addEventListener(key.slice(2), value);
      else if (key === "class") node.className = value;
      else if (key in { value: 1, checked: 1, disabled: 1, open: 1, selected: 1, hidden: 1 }) node[key] = value;
      else node.setAttribute(key, value === true ? "" : String(value));
    }
    fill(node, children);
    return node;
  }

  function fill(node, children) {
    for (const child of children.flat(Infinity)) {
      if (child === null || child === undefined || child === false) continue;
      node.append(child instanceof Node ? child : document.createTextNode(String(child)));
    }
    return node;
  }

  /** Replaces what is inside. */
  function put(node, ...children) {
    node.replaceChildren();
    return fill(node, children);
  }

  /** Draws a part anew; what was unfolded in it stays so, and what had the focus has it again. */
  function redraw(host, draw) {
    const stops = () => [...host.querySelectorAll("button, input, select, summary, [tabindex]")];
    const folds = () => [...host.querySelectorAll("details")];
    const held = stops().indexOf(document.activeElement);
    const unfolded = folds().map((d) => d.open);
    draw();
    folds().forEach((d, i) => { if (unfolded[i]) d.open = true; });
    const again = held >= 0 && stops()[held];
    if (again) again.focus({ preventScroll: true });
  }

  /** Two significant digits: 15.63 is "16", 0.0996 is "0.10", 1234 is "1200". More would claim a knowledge nobody in a yard has. */
  function number(value) {
    if (!Number.isFinite(value)) return "unknown";
    if (value === 0) return "0";
    const [digits, power] = value.toExponential(1).split("e");
    const exponent = Number(power);
    if (exponent < -6) return "0";
    return Number(`${digits}e${exponent}`).toFixed(Math.max(0, 1 - exponent));
  }

  /** A time, never finer than a hundredth of a second. */
  const time = (seconds) => Number.isFinite(seconds) ? `${seconds.toFixed(2).replace(/^-(0\.00)$/, "$1")} s` : "unknown";

  /** Numbers stay on one line with their units. */
  const unbroken = (text) => text.replace(/(\d) (?=[A-Za-z%\u00b0])/g, "$1\u00a0");

  const capital = (text) => text ? text[0].toUpperCase() + text.slice(1) : text;

  const small = (text) => text ? text[0].toLowerCase() + text.slice(1) : text;

  const plain = (name) => name.replace(/[-_]/g, " ");

  /** Tells people who cannot see the change; the last text wins when several follow at once. */
  let waiting = 0;
  function say(text) {
    clearTimeout(waiting);
    waiting = setTimeout(() => { byId("live").textContent = text; }, 400);
  }

  /** Takes back what has not been told yet. */
  const unsay = () => clearTimeout(waiting);

  /** A choice of few: radio buttons that look like one row. */
  function choices(field, name, options, chosen, onPick) {
    const legend = field.querySelector("legend");
    put(field, legend, options.map((option) => el("label", { class: "choice" },
      el("input", { type: "radio", name, value: option.value, checked: option.value === chosen, onchange: () => onPick(option.value) }),
      el("span", {}, option.label))));
  }

  function download(name, blob) {
    const address = URL.createObjectURL(blob);
    const link = el("a", { href: address, download: name });
    document.body.append(link);
    link.click();
    link.remove();
    setTimeout(() => URL.revokeObjectURL(address), 10000);
  }

  const calm = window.matchMedia("(prefers-reduced-motion: reduce)");

  return { byId, el, put, redraw, number, time, unbroken, capital, small, plain, say, unsay, choices, download, calm };
})();
