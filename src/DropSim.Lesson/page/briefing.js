"use strict";
// The printed page: one sheet to talk over before the cut.
lesson.briefing = (() => {
  const { el, put, byId, time } = lesson;
  const { state } = lesson;

  function picture(width, height, draw) {
    const canvas = el("canvas", { width: String(width * 2), height: String(height * 2) });
    const ctx = canvas.getContext("2d");
    ctx.scale(2, 2);
    lesson.palette.onPaper(() => draw(ctx, width, height));
    return canvas;
  }

  function measures(runs) {
    const worst = (run, m) => (run.rangeState !== "whole" ? "range not computed yet" : m.worst === "no range" ? "no range" : `${m.worse === "neither" ? "range" : "at worst"} ${m.id === "room_left" && m.worst === "none" ? "none left" : m.worst}`);
    return el("table", {}, el("thead", {}, el("tr", {}, el("th", {}, ""), runs.map((_, i) => el("th", {}, lesson.pairLabel(i))))),
      el("tbody", {}, runs[0].measures.filter((m) => m.headline).map((lead) => el("tr", {}, el("th", {}, lead.label), runs.map((run) => {
        const m = state.measure(run, lead.id);
        return el("td", {}, `${m.central} central; `, el("b", {}, worst(run, m)));
      })))));
  }

  /** What was put in, first screen and what was given; the rest is in the file. */
  function inputs() {
    const list = (state.inputs[state.first] || []).filter((i) => i.level < 3 && i.value !== null && i.value !== "" && (i.level === 1 || i.given));
    return el("p", { class: "given" }, list.map((i) => `${i.label} ${i.kind === "quantity" ? i.shown[state.units] : lesson.plain(String(i.value))}${i.given ? "" : " (default)"}`).join("; "), ".");
  }

  function build() {
    const host = byId("briefing");
    const runs = state.shown;
    if (runs.length === 0 || lesson.predict.covered) { put(host, el("p", {}, "Nothing to print: the results are covered or not computed.")); return; }
    const peak = state.measure(runs[0], "rigging_point_force");
    const at = peak && Number.isFinite(peak.time) ? peak.time : lesson.player.now;
    const warnings = lesson.warnings();
    const { words, comparison, scenario } = state;
    const panel = lesson.charts.PANELS[0];
    put(host,
      el("h1", {}, scenario.title),
      el("p", { class: "lead" }, (comparison && comparison.title) || scenario.description),
      el("div", { class: "sheet" },
        el("div", {}, picture(400, 400, (ctx, w, h) => lesson.scene.draw(ctx, w, h, at, { near: false })), el("p", {}, `At ${time(at)} from hinge break, to scale; arrow: force on the rigging point.`),
          picture(400, 130, (ctx, w, h) => lesson.plot.draw({ ctx, width: w, height: h }, lesson.charts.spec(panel, runs), NaN)),
          el("p", {}, `${panel.heading}: ${lesson.pairLabel(0)} heavy${runs.length > 1 ? `, ${lesson.pairLabel(1)} dashed` : ""}; at the right edge the range of the largest.`)),
        el("div", {}, measures(runs), comparison ? lesson.answers.parts(comparison.paragraph) : null)),
      el("h2", {}, "Put in"), inputs(),
      el("div", { class: "sheet even" },
        el("div", {}, el("h2", {}, "Know this"), el("ul", {}, runs.map((r, i) => el("li", {}, `${lesson.pairLabel(i)} ends: ${r.end.description}`)), warnings.map((w) => el("li", {}, w)))),
        el("div", {}, el("h2", {}, "Cautions"), el("ul", {}, words.cautions.map((c) => el("li", {}, c)), el("li", {}, words.notModelledSentence)))),
      el("p", { class: "foot" }, state.footer));
  }

  function setUp() {
    window.addEventListener("beforeprint", build);
  }

  return { setUp, build };
})();
