"use strict";
// Which two are looked at, how they are drawn, and the set-ups that were pinned.
lesson.pair = (() => {
  const { el, put, byId } = lesson;
  const { state } = lesson;

  /** Name of a run on show. It belongs to the run, not to what has been picked since. */
  lesson.pairLabel = (index) => state.labels[index] || "";

  /** Names of the two that are picked; told apart where they would read alike. */
  function labels() {
    const first = state.caseLabel(state.first);
    if (state.second === "start") return [`${first} now`, `${first} at the start`];
    if (state.second.startsWith("pin:")) return [`${first} now`, (state.pins[Number(state.second.slice(4))] || { name: "Pinned" }).name];
    return [first, state.second.startsWith("case:") ? state.caseLabel(Number(state.second.slice(5))) : ""];
  }

  const first = el("select", { id: "pair-first", onchange: () => pick(Number(first.value), state.second) });
  const firstName = el("label", { for: "pair-first", class: "name" }, "Catch");
  const firstField = el("div", { class: "input choice-of-case" }, firstName, first);

  /** The catch looked at stands among the first questions; with several set-ups it picks both. */
  function catchField() {
    firstName.textContent = state.scenario.setups.length > 1 ? "Set-up and catch" : "Catch";
    return firstField;
  }

  /** The two that show best what the scenario is about: the engine names them. */
  function usual() {
    const { first: index, second } = state.scenario.opening;
    state.first = index;
    state.second = second === null || second === undefined ? "start" : `case:${second}`;
  }

  function secondOptions() {
    const list = state.scenario.cases.filter((c) => c.index !== state.first).map((c) => [`case:${c.index}`, lesson.capital(c.label)]);
    list.push(["start", "As it was at the start"]);
    state.pins.forEach((pin, i) => list.push([`pin:${i}`, pin.name]));
    list.push(["none", "Nothing"]);
    return list;
  }

  /** What stands there already: a list that is open must not be built again under the finger. */
  let drawn = "";

  function render() {
    if (!state.scenario) return;
    const options = secondOptions();
    if (!options.some(([value]) => value === state.second)) state.second = options[0][0];
    const ready = Boolean(state.runs.first) && state.quality === "exact";
    const now = JSON.stringify([options, state.second, state.first, ready, state.scenario.cases.map((c) => c.label)]);
    if (now === drawn) return;
    drawn = now;
    const held = byId("pair").contains(document.activeElement) ? document.activeElement.id : "";
    put(byId("pair"),
      el("label", { class: "field" }, "Beside it ", el("select", { id: "pair-second", onchange: (e) => pick(state.first, e.target.value) },
        options.map(([value, text]) => el("option", { value, selected: value === state.second }, text)))),
      el("button", { type: "button", id: "pin", onclick: pin, disabled: !ready }, "Pin this set-up"));
    put(first, state.scenario.cases.map((c) => el("option", { value: String(c.index), selected: c.index === state.first }, lesson.capital(c.label))));
    firstField.hidden = state.scenario.cases.length < 2;
    if (held) { const again = byId(held); if (again) again.focus(); }
  }

  async function pick(first, second) {
    const before = state.first;
    state.first = first;
    state.second = second === `case:${first}` ? `case:${before}` : second;
    state.tell("edited");
    state.tell("scenario");
    await lesson.work.again();
  }

  let pinned = 0;

  async function pin() {
    const run = state.runs.first;
    if (!run) return;
    const name = `Pinned ${++pinned}, ${state.caseLabel(state.first).toLowerCase()}`;
    state.pins.push({ name, run, text: state.text, file: state.file, first: state.first });
    await window.lessonEngine.call("keep", { runs: [run.run] });
    lesson.say(`${name}. It can now be picked under Beside it.`);
    state.second = `pin:${state.pins.length - 1}`;
    state.comparison = null;
    state.tell("pins");
    render();
    await lesson.work.again();
  }

  function pins() {
    put(byId("pins"), state.pins.length === 0 ? null : [el("h3", {}, "Pinned"), el("ul", {}, state.pins.map((p, i) => el("li", {},
      `${p.name} (rigging point ${(state.measure(p.run, "rigging_point_force") || {}).thisDrop || "unknown"}) `,
      el("button", { type: "button", onclick: () => lesson.work.open(p.text, p.file) }, "Open it again"),
      el("button", { type: "button", "aria-label": `Forget ${p.name}`, onclick: () => forget(i) }, "Forget"))))]);
  }

  function forget(index) {
    const [gone] = state.pins.splice(index, 1);
    lesson.work.letGo([gone.run]);
    if (state.second.startsWith("pin:")) pick(state.first, "start");
    state.tell("pins");
    render();
    // Its button is gone: the focus goes where another set-up would be pinned.
    byId(byId("pin").disabled ? "pair-second" : "pin").focus();
  }

  /** Buttons that stay pressed. */
  function views() {
    const { view } = lesson.scene;
    const toggle = (text, get, set) => {
      const button = el("button", { type: "button", "aria-pressed": String(get()), onclick: () => { set(!get()); button.setAttribute("aria-pressed", String(get())); lesson.scene.paint(); } }, text);
      return button;
    };
    put(byId("views"),
      toggle("Overlay", () => view.overlaid, (on) => { view.overlaid = on; }),
      toggle("Zoom in", () => view.near, (on) => { view.near = on; }));
    put(byId("bend"), toggle("Bend \u00d75", () => view.bend > 1, (on) => { view.bend = on ? 5 : 1; }));
  }

  function setUp() {
    state.on("scenario runs words pins", render);
    state.on("pins units", () => lesson.redraw(byId("pins"), pins));
    views();
  }

  return { setUp, usual, labels, catchField, pick };
})();
