"use strict";
// The inputs a person would move: six on the first screen, more behind one step, all behind two. Values go to the engine as they are written in a file.
lesson.inputs = (() => {
  const { el, put, byId } = lesson;
  const { state } = lesson;
  const HOSTS = { 1: "first-inputs", 2: "more-inputs", 3: "all-inputs" };
  /** Words of the first screen. */
  const QUESTIONS = {
    "piece.species": ["Species"], "piece.butt-girth": ["Girth", " at the cut"], "piece.butt-diameter": ["Diameter", " at the cut"], "piece.length": ["Length"],
    "rigging-point.kind": ["Ring or block"], "device.wraps": ["Wraps"], "catch.wraps": ["Wraps"],
  };
  const controls = new Map();
  let shape = "";
  /** Something was refused, and what was typed still stands there. */
  let refused = false;

  const current = () => state.inputs[state.first] || [];
  const find = (key) => current().find((i) => i.key === key);
  const unitOf = (input) => input.units[state.units] || input.units.si;
  /** A word in place of a number ("rigid") stays what it is. */
  const shownNumber = (input, value) => (typeof value === "number" ? String(Number((value * unitOf(input).factor).toFixed(unitOf(input).decimals))) : String(value));
  const written = (input, value) => (typeof value === "number" ? `${shownNumber(input, value)} ${unitOf(input).unit}`.trim() : String(value));
  const has = (input) => input.value !== null && input.value !== "" && input.value !== undefined && !Number.isNaN(input.value);

  /** Which controls there are; while that stays the same they are kept, and with them the focus. */
  const shapeNow = () => current().map((i) => `${i.key}|${i.level}|${i.kind}|${i.slider ? 1 : 0}|${(i.choices || []).length}${i.choicesFrom || ""}`).join(";") + state.units;

  function render() {
    if (!state.scenario) return;
    if (shapeNow() !== shape) { shape = shapeNow(); build(); }
    for (const input of current()) {
      const control = controls.get(input.key);
      if (control) control.update(input);
    }
  }

  function build() {
    controls.clear();
    refused = false;
    state.tell("refused");
    const focus = document.activeElement && document.activeElement.id;
    const catches = state.scenario.catches.length;
    for (const [level, id] of Object.entries(HOSTS)) {
      const host = byId(id);
      put(host);
      let section = "";
      for (const input of current().filter((i) => i.level === Number(level))) {
        if (input.key === "catch.kind" && Number(level) === 1 && catches > 1) continue;
        if (Number(level) > 1 && input.sectionLabel !== section) {
          section = input.sectionLabel;
          host.append(el("h3", {}, section));
        }
        const control = make(input);
        controls.set(input.key, control);
        host.append(control.node);
      }
    }
    byId("first-inputs").append(lesson.pair.catchField());
    const again = focus && byId(focus);
    if (again) again.focus();
  }

  function make(input) {
    const id = `in-${input.key.replace(/[^a-z0-9]/gi, "-")}`;
    const question = (input.level === 1 && QUESTIONS[input.key]) || [input.label];
    const label = question.join("");
    // Heard without its heading, a name must still say what it is the length of.
    const heard = input.level === 1 || input.namesSection ? label : `${input.sectionLabel}: ${lesson.small(label)}`;
    const note = el("p", { class: "note", id: `${id}-note` });
    const error = el("p", { class: "error", id: `${id}-error` });
    const kinds = { quantity, choice, flag, text, list: text };
    const made = (namesFor(input) ? choice : kinds[input.kind] || text)(input, id, label, heard, `${id}-note ${id}-error`);
    const back = el("button", { type: "button", class: "back", "aria-label": `${heard}: back to the default`, onclick: () => { made.fields.at(-1).focus(); lesson.work.edit(input.key, null, "exact"); } }, "default");
    const node = el("div", { class: `input ${input.kind}`, "data-key": input.key }, made.nodes, input.level > 1 ? el("div", { class: "under" }, note, back) : null, error);
    return {
      node,
      fields: made.fields,
      error,
      update(fresh) {
        made.update(fresh);
        back.hidden = !fresh.given || fresh.place === "default" || !has(fresh);
        note.textContent = noteOf(fresh);
      },
    };
  }

  function noteOf(input) {
    const ranged = input.kind === "quantity" && input.low !== null && input.high !== null && input.low !== input.high;
    const parts = [input.says, ranged ? `Range ${written(input, input.low)} to ${written(input, input.high)}.` : "", input.source ? `From: ${input.source}.` : "",
      input.shared === false && state.scenario.cases.length > 1 ? (input.section === "catch" ? "Changes this catch only." : "Changes this set-up only.") : ""];
    return parts.filter(Boolean).join(" ");
  }

  /** Whether something is being typed into a field: that stays, whatever is computed meanwhile. */
  function typingIn(field) {
    let typing = false;
    field.addEventListener("input", () => { typing = true; });
    for (const end of ["change", "blur"]) field.addEventListener(end, () => { typing = false; });
    return () => typing;
  }

  function quantity(input, id, label, heard, described) {
    const unit = unitOf(input).unit;
    const number = el("input", { type: "text", id, inputmode: "decimal", autocomplete: "off", spellcheck: "false", "aria-label": heard, "aria-describedby": described, class: "number" });
    const typing = typingIn(number);
    number.addEventListener("change", () => {
      const typed = number.value.trim();
      lesson.work.edit(input.key, typed === "" ? null : /^[-+]?[\d.]+$/.test(typed) ? `${typed} ${unit}`.trim() : typed, "exact");
    });
    let slider = null;
    if (input.slider) {
      slider = el("input", { type: "range", "aria-label": `${heard}, slider`, min: input.slider.from, max: input.slider.to, step: input.slider.step });
      const send = (quality) => {
        const value = Number(slider.value);
        number.value = shownNumber(input, value);
        slider.setAttribute("aria-valuetext", written(input, value));
        lesson.work.edit(input.key, written(input, value), quality);
      };
      slider.addEventListener("input", () => { held = true; send("coarse"); });
      slider.addEventListener("change", () => { held = false; send("exact"); });
    }
    let held = false;
    return {
      nodes: [el("label", { for: id, class: "name" }, named(input, label)), el("span", { class: "entry" }, number, el("span", { class: "unit" }, unit)), slider],
      fields: [number, slider].filter(Boolean),
      update(fresh) {
        if (held) return;
        if (!typing() && (document.activeElement !== number || number.getAttribute("aria-invalid") !== "true")) number.value = has(fresh) ? shownNumber(fresh, fresh.value) : "";
        number.placeholder = has(fresh) ? "" : "none";
        if (!slider) return;
        slider.hidden = !has(fresh);
        if (fresh.slider) Object.assign(slider, { min: fresh.slider.from, max: fresh.slider.to, step: fresh.slider.step });
        if (has(fresh)) {
          slider.value = fresh.value;
          slider.setAttribute("aria-valuetext", written(fresh, fresh.value));
        }
      },
    };
  }

  /** "Girth at the cut": where there is room for one word alone, the others are only heard. */
  function named(input, label) {
    const [word, rest] = (input.level === 1 && QUESTIONS[input.key]) || [label];
    return rest ? [word, el("span", { class: "long" }, rest)] : word;
  }

  /** A species brings its own density: one that was given by hand goes. */
  function companions(key) {
    const density = find("piece.density");
    return key === "piece.species" && density && density.given && density.place !== "default" ? [{ key: "piece.density", value: null }] : [];
  }

  /** The names to choose from: the format's own, or the catalogue's. */
  function namesFor(input) {
    if (input.choices) return input.choices;
    const { catalogue } = state;
    const from = catalogue && input.choicesFrom;
    return !from ? null : from === "ropes" ? [...new Set(catalogue.ropes.map((r) => r.construction))] : catalogue[from].map((s) => s.name);
  }

  function choice(input, id, label, heard, described) {
    const names = namesFor(input);
    const send = (value) => lesson.work.edit(input.key, value, "exact", companions(input.key));
    if (names.length <= 4) {
      const group = el("div", { class: "row" });
      const radios = names.map((value) => el("input", { type: "radio", name: id, value, onchange: () => send(value) }));
      put(group, radios.map((radio, i) => el("label", { class: "choice" }, radio, el("span", {}, lesson.plain(names[i])))));
      const field = el("fieldset", { class: "pick", "aria-describedby": described }, el("legend", {}, label), group);
      return { nodes: [field], fields: radios, update: (fresh) => radios.forEach((r) => { r.checked = r.value === fresh.value; }) };
    }
    const select = el("select", { id, "aria-label": heard, "aria-describedby": described, onchange: () => send(select.value) });
    return {
      nodes: [el("label", { for: id, class: "name" }, label), select],
      fields: [select],
      update(fresh) {
        const known = !fresh.value || names.includes(fresh.value);
        put(select, fresh.value ? null : el("option", { value: "", selected: true }, "not given"), known ? null : el("option", { value: fresh.value, selected: true }, fresh.value),
          names.map((value) => el("option", { value, selected: value === fresh.value }, value)));
      },
    };
  }

  function flag(input, id, label, heard, described) {
    const box = el("input", { type: "checkbox", id, "aria-label": heard, "aria-describedby": described, onchange: () => lesson.work.edit(input.key, String(box.checked), "exact") });
    return { nodes: [el("label", { class: "choice name", for: id }, box, el("span", {}, label))], fields: [box], update: (fresh) => { box.checked = String(fresh.value) === "true"; } };
  }

  function text(input, id, label, heard, described) {
    const field = el("input", { type: "text", id, "aria-label": heard, "aria-describedby": described, spellcheck: "false", onchange: () => lesson.work.edit(input.key, field.value.trim() === "" ? null : field.value, "exact") });
    const typing = typingIn(field);
    return { nodes: [el("label", { for: id, class: "name" }, label), field], fields: [field], update: (fresh) => { if (!typing()) field.value = fresh.value === null ? "" : String(fresh.value); } };
  }

  /** What the engine said against an edit, at the input itself; an empty list takes it away. */
  function refuse(edits, problems) {
    for (const control of controls.values()) {
      control.error.textContent = "";
      for (const field of control.fields) field.removeAttribute("aria-invalid");
    }
    refused = problems.length > 0;
    state.tell("refused");
    if (problems.length === 0) return;
    const said = problems.map((p) => p.message).join(" ");
    const control = controls.get(edits[edits.length - 1].key);
    if (!control) { lesson.work.problems(problems, "This change is refused:"); return; }
    control.error.textContent = `Refused; what is shown is the value before it. ${said}`;
    for (const field of control.fields) field.setAttribute("aria-invalid", "true");
    lesson.say(control.error.textContent);
  }

  function setUp() {
    state.on("scenario units", render);
  }

  return { setUp, find, written, refuse, get refused() { return refused; } };
})();
