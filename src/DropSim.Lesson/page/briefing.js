"use strict";
// The print view: one sheet to talk over before the cut.
lesson.briefing = (() => {
  const { el, put, byId, time, unbroken } = lesson;
  const { state } = lesson;

  /** What fits on A4 and on US letter alike, both with the margins of print.css: the width of the first, the height of the second, mm. */
  const SHEET = { width: 210 - 24, height: 279.4 - 24 };
  const PIXELS = 96 / 25.4;
  /** Part of the sheet's height left free: a printer's fonts may run a little wider. */
  const SPARE = 0.02;
  /** Largest letters first, pt; height of the side view as a part of its width; with a chart of forces where there is room. */
  const FITS = [[9.5, 1, true], [9, 1, true], [8.5, 1, true], [8, 1, true], [8, 0.8, true], [8, 1, false], [8, 0.8, false], [7.5, 0.8, false], [7, 0.7, false]];

  function picture(name, width, height, draw) {
    const canvas = el("canvas", { width: String(width * 2), height: String(height * 2), role: "img", "aria-label": name });
    const ctx = canvas.getContext("2d");
    ctx.scale(2, 2);
    lesson.palette.onPaper(() => draw(ctx, width, height));
    return canvas;
  }

  function measures(runs) {
    return el("table", { class: "figures" }, el("thead", {}, el("tr", {}, el("th", {}, "this drop, and set-ups like it"), runs.map((run, i) => el("th", { scope: "col" }, lesson.pairLabel(i), lesson.missed(run))))),
      el("tbody", {}, runs[0].measures.filter((m) => m.headline).map((lead) => el("tr", {}, el("th", { scope: "row" }, lead.label), runs.map((run) => el("td", {},
        unbroken(lesson.thisDrop(state.measure(run, lead.id))), el("br", {}), el("b", {}, lesson.cases.likeIt(run, lead.id))))))));
  }

  /** What was put in, first screen and what was given; the rest is in the file. */
  function inputs() {
    const list = (state.inputs[state.first] || []).filter((i) => i.level < 3 && i.value !== null && i.value !== "" && (i.level === 1 || i.given));
    return el("p", { class: "given" }, list.map((i) => `${i.label}: ${i.kind === "quantity" ? i.shown[state.units] : lesson.plain(String(i.value))}${i.given ? "" : " (default)"}`).join("; "), ".");
  }

  /** Why a print made now would not be the whole briefing; empty where it would. */
  function unfinished() {
    if (state.stage === "fault") return "The computation stopped; see the page.";
    if (state.runs.first === null) return "The drop is still being computed.";
    if (state.late || state.stage === "asked" || state.quality === "coarse") return "The latest change is still being computed, and what is printed may belong to the values before it.";
    if (state.stage !== "whole") return `${lesson.drawing()}. One drop alone says too little.`;
    const { done, total } = lesson.cases.progress;
    return lesson.cases.whole ? "" : `The other set-ups and catches are still being computed: ${done} of ${total}.`;
  }

  function chart(panel, runs, wide, height) {
    return [picture(lesson.charts.sentence(panel, runs), wide, height, (ctx, width) => lesson.plot.draw({ ctx, width, height }, lesson.charts.spec(panel, runs), NaN)),
      el("p", {}, `${panel.heading}: ${lesson.pairLabel(0)} heavy${runs.length > 1 ? `, ${lesson.pairLabel(1)} dashed` : ""}; at the right edge a dot for each of 20 set-ups like it that is caught.`)];
  }

  function cautions() {
    const { words } = state;
    return words ? el("ul", {}, words.cautions.map((c) => el("li", {}, c)), el("li", {}, words.notModelledSentence)) : null;
  }

  function sheet(runs, shape, charts, why) {
    const peak = state.measure(runs[0], "rigging_point_force");
    const at = peak && Number.isFinite(peak.time) ? peak.time : lesson.player.now;
    const { comparison, scenario } = state;
    const warnings = lesson.warnings();
    const all = scenario.cases.length;
    // Two of the cases stand in the table of all; a pinned set-up or the start does not.
    const listed = all > 2 && (runs.length < 2 || state.second.startsWith("case:"));
    const drawn = charts.map((panel) => chart(panel, runs, listed ? 560 : 400, 130));
    return [
      el("h1", {}, scenario.title),
      why ? el("p", { class: "unfinished" }, el("b", {}, "Printed before it was finished. "), `${why} Print again when the page says that set-ups like it are computed.`) : null,
      el("p", { class: "lead" }, unbroken((comparison && comparison.title) || scenario.description)),
      state.told ? el("p", { class: "which" }, el("b", {}, unbroken(state.told.sentences.join(" ")))) : null,
      comparison && comparison.movement.head ? el("p", { class: "which" }, `This drop: ${unbroken(comparison.movement.text)}`) : null,
      all > 2 ? el("p", { class: "which" }, `Drawn here: ${runs.map((_, i) => lesson.pairLabel(i)).join(", and beside it ")}. The scenario has ${all} set-ups and catches; all of them stand in the table below.`) : null,
      el("div", { class: "sheet" },
        el("div", {}, picture(lesson.scene.words(at), 400, 400 * shape, (ctx, w, h) => lesson.scene.draw(ctx, w, h, at, { near: false })), el("p", {}, `At ${time(at)} from hinge break, to scale; arrow: force on the rigging point.`),
          listed ? null : drawn),
        el("div", {}, listed ? null : measures(runs), comparison ? lesson.answers.parts(comparison.parts) : null, listed ? drawn : null)),
      all > 2 ? [el("h2", {}, `All ${all} set-ups and catches`), el("p", {}, lesson.cases.READING), lesson.cases.table(null)] : null,
      el("h2", {}, all > 1 ? `Put in, for ${lesson.pairLabel(0)}` : "Put in"), inputs(),
      el("div", { class: "sheet even" },
        el("div", {}, el("h2", {}, "Know this"), el("ul", {}, runs.map((r, i) => el("li", {}, `${lesson.pairLabel(i)} ends: ${r.end.description}`)), warnings.map((w) => el("li", {}, w)))),
        el("div", {}, el("h2", {}, "Cautions"), cautions())),
      el("p", { class: "foot" }, state.footer)];
  }

  function empty(why) {
    return [el("h1", {}, state.scenario ? state.scenario.title : "The drop"), el("p", { class: "unfinished" }, el("b", {}, "There is nothing to print yet. "), why), el("h2", {}, "Cautions"), cautions()];
  }

  function build() {
    const host = byId("briefing");
    const runs = state.shown;
    if (lesson.predict.covered) { put(host, empty("The results are covered until you have predicted them.")); return; }
    const why = unfinished();
    if (runs.length === 0 || !state.words) { put(host, empty(`${why} Print again when the page says that set-ups like it are computed.`)); return; }
    const panels = lesson.charts.PANELS;
    // Measured before it is printed, as wide as the narrower sheet: the largest letters with which it fits the shorter one.
    host.classList.add("measured");
    host.style.width = `${SHEET.width}mm`;
    for (const [size, shape, forces] of FITS) {
      host.style.fontSize = `${size}pt`;
      put(host, sheet(runs, shape, forces ? [panels[0], panels[1]] : [panels[0]], why));
      if (host.offsetHeight <= (1 - SPARE) * SHEET.height * PIXELS) break;
    }
    host.classList.remove("measured");
    host.style.width = "";
  }

  /** True while somebody waits for the print. */
  let waiting = false;

  function wait(on) {
    waiting = on;
    tellWait();
  }

  function tellWait() {
    const host = byId("print-wait");
    host.hidden = !waiting;
    if (!waiting) { put(host); return; }
    if (!host.firstChild) {
      put(host, el("p", { id: "print-why" }),
        el("button", { type: "button", id: "print-now", onclick: () => { wait(false); window.print(); } }, "Print what there is now"),
        el("button", { type: "button", id: "print-not", onclick: () => { wait(false); byId("file-menu").querySelector("summary").focus(); } }, "Do not print"));
      byId("file-menu").open = false;
      byId("print-now").focus();
      lesson.say("The briefing is printed when everything on it is computed.");
    }
    byId("print-why").textContent = `The briefing is printed when everything on it is computed. ${unfinished()}`;
  }

  /** From the page's own button: at once where everything stands, otherwise as soon as it does. */
  function print() {
    if (!unfinished() || lesson.predict.covered || state.stage === "fault") { window.print(); return; }
    wait(true);
  }

  function go() {
    if (!waiting) return;
    if (unfinished()) { tellWait(); return; }
    wait(false);
    window.print();
  }

  function setUp() {
    window.addEventListener("beforeprint", build);
    state.on("runs draws cases", go);
  }

  return { setUp, build, print };
})();
