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
    return el("table", {}, el("thead", {}, el("tr", {}, el("th", {}, ""), runs.map((_, i) => [el("th", {}, lesson.pairLabel(i)), el("th", {}, "worst of the range")]))),
      el("tbody", {}, runs[0].measures.filter((m) => m.headline).map((lead) => el("tr", {}, el("th", {}, lead.label), runs.map((run) => {
        const m = state.measure(run, lead.id);
        return [el("td", {}, m.central), el("td", {}, el("b", {}, run.rangeState === "whole" ? (lead.id === "room_left" && m.worst === "none" ? "none left" : m.worst) : "not computed yet"))];
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
    const warnings = [...new Set(runs.flatMap((r) => r.warnings))];
    const { words, comparison, scenario } = state;
    const panel = lesson.charts.PANELS[0];
    put(host,
      el("h1", {}, scenario.title),
      el("p", { class: "lead" }, (comparison && comparison.title) || scenario.description),
      el("div", { class: "sheet" },
        el("div", {}, picture(340, 380, (ctx, w, h) => lesson.scene.draw(ctx, w, h, at, { near: false })), el("p", {}, `At ${time(at)} from hinge break, to scale; arrow: force on the rigging point.`)),
        el("div", {}, measures(runs), el("p", { class: "why" }, comparison ? comparison.paragraph : ""),
          picture(340, 120, (ctx, w, h) => lesson.plot.draw({ ctx, width: w, height: h }, lesson.charts.spec(panel, runs), NaN)),
          el("p", {}, `${panel.heading}: ${lesson.pairLabel(0)} heavy${runs.length > 1 ? `, ${lesson.pairLabel(1)} dashed` : ""}.`))),
      el("h2", {}, "Put in"), inputs(),
      el("h2", {}, "End of each run"), el("ul", {}, runs.map((r, i) => el("li", {}, `${lesson.pairLabel(i)}: ${r.end.description}`))),
      warnings.length > 0 ? [el("h2", {}, "Know this"), el("ul", {}, warnings.map((w) => el("li", {}, w)))] : null,
      el("h2", {}, "Cautions"), el("ul", {}, words.cautions.map((c) => el("li", {}, c)), el("li", {}, words.notModelledSentence)),
      el("p", { class: "foot" }, state.footer));
  }

  function setUp() {
    window.addEventListener("beforeprint", build);
  }

  return { setUp, build };
})();
