"use strict";
// All set-ups and catches of a scenario with more than two: headline measures of each, and a way to look at it. Two are drawn at a time;
// the others are computed when those stand, and give way to every change.
lesson.cases = (() => {
  const { el, put, byId, unbroken } = lesson;
  const { state } = lesson;
  /** Computed here at most: the engine remembers some forty runs, and those on show must stay among them. */
  const MOST = 24;
  /** Curves of the others are not drawn: rows this far apart, s. */
  const INTERVAL = 0.05;

  const READING = "First this drop; under it, in bold, set-ups like it.";

  /** What is known of a case, by its index, of the text and the units on show. */
  let known = new Map();
  let belongs = "";
  let turn = 0;
  let drawn = "";

  const several = () => Boolean(state.scenario) && state.scenario.cases.length > 2;
  const wanted = () => (several() ? state.scenario.cases.slice(0, MOST) : []);
  const done = (run) => Boolean(run && run.drawn);

  /** The runs on show are known without asking; what belongs to another text or to other units is forgotten. */
  function note() {
    const now = JSON.stringify([state.file, state.text, state.units]);
    if (now !== belongs) { belongs = now; known = new Map(); }
    if (state.quality !== "exact") return;
    if (state.runs.first) known.set(state.first, state.runs.first);
    if (state.runs.second && state.second.startsWith("case:")) known.set(Number(state.second.slice(5)), state.runs.second);
  }

  /** One after the other, drop first and set-ups like it after it; any change ends it. */
  async function others() {
    const mine = ++turn;
    const gone = (answer) => mine !== turn || answer.superseded;
    const { call } = window.lessonEngine;
    for (const { index } of wanted()) {
      if (done(known.get(index))) continue;
      const { text, file, units } = state;
      const answer = await call("simulate", { text, file, cases: [index], quality: "exact", units, interval: INTERVAL });
      if (gone(answer)) return;
      const [run] = answer.runs;
      if (!run) continue;
      delete run.curves;
      known.set(index, run);
      const drawn = await call("draws", { runs: [run.run], units });
      if (gone(drawn)) return;
      known.set(index, { ...run, drawn: drawn.runs[0].drawn });
      render();
      state.tell("cases");
    }
  }

  /** Measures of a case that is not computed yet are null. */
  const rows = () => (several() ? state.scenario.cases.map((c) => ({ index: c.index, label: lesson.capital(c.label), run: known.get(c.index) || null })) : []);

  /** What set-ups like it say of a measure, or why there is nothing to tell. */
  function likeIt(run, id) {
    if (!done(run)) return "set-ups like it not computed yet";
    const like = state.likeIt(run, id);
    return like ? unbroken(like.likeIt) : "nothing drawn";
  }

  function cell(run, id) {
    const m = state.measure(run, id);
    return m ? [unbroken(lesson.thisDrop(m)), el("br", {}), el("b", {}, likeIt(run, id))] : null;
  }

  /** How set-ups like it end that are not caught, under its name. */
  const missed = (run) => (done(run) && run.drawn.notCaught ? [el("br", {}), unbroken(lesson.capital(run.drawn.notCaught))] : null);

  /** The table, with a last column of its own for each row where one is asked for. */
  function table(last) {
    const heads = state.runs.first.measures.filter((m) => m.headline);
    return el("table", { class: "values all-cases" },
      el("caption", { class: "away" }, "Headline measures of all set-ups and catches: this drop, and set-ups like it"),
      el("thead", {}, el("tr", {}, el("th", { scope: "col" }, "set-up and catch"), heads.map((m) => el("th", { scope: "col" }, m.label)), last ? el("th", { scope: "col" }, "show") : null)),
      el("tbody", {}, rows().map((row) => el("tr", {}, el("th", { scope: "row" }, row.label, shownAs(row.index) ? el("span", { class: "quiet" }, ` (${shownAs(row.index)})`) : null, missed(row.run)),
        heads.map((m) => el("td", {}, cell(row.run, m.id) || (row.index < MOST ? "not computed yet" : "computed when looked at"))), last ? el("td", {}, last(row)) : null))));
  }

  const shownAs = (index) => (index === state.first ? "shown first" : state.second === `case:${index}` ? "shown beside it" : "");

  function buttons(row) {
    const name = row.label;
    return [
      el("button", { type: "button", id: `look-at-${row.index}`, class: "small", disabled: row.index === state.first, "aria-label": `Look at ${name}`, onclick: () => lesson.pair.pick(row.index, state.second) }, "Look at it"),
      el("button", { type: "button", id: `beside-${row.index}`, class: "small", disabled: row.index === state.first || state.second === `case:${row.index}`, "aria-label": `Put ${name} beside it`, onclick: () => lesson.pair.pick(state.first, `case:${row.index}`) }, "Beside it")];
  }

  function render() {
    const step = byId("cases-step");
    step.hidden = !several() || lesson.predict.covered;
    if (step.hidden || !state.runs.first) return;
    byId("cases-title").textContent = `All ${state.scenario.cases.length} set-ups and catches`;
    if (!step.open) return;
    const now = JSON.stringify([belongs, state.first, state.second, rows().map((r) => [r.label, r.run && r.run.run, done(r.run)])]);
    if (now === drawn) return;
    drawn = now;
    const held = byId("cases").contains(document.activeElement);
    const host = byId("cases");
    lesson.redraw(host, () => put(host, el("p", { class: "quiet small" }, `Two are drawn at a time. ${READING}`),
      el("div", { class: "scroll", tabindex: 0, role: "region", "aria-label": "All set-ups and catches" }, table(buttons))));
    // A button that cannot be pressed any more does not take the focus.
    if (held && !host.contains(document.activeElement)) host.querySelector(".scroll").focus({ preventScroll: true });
  }

  function setUp() {
    state.on("edited", () => { turn++; });
    state.on("scenario runs words units pair cover", () => { note(); render(); });
    state.on("draws", () => {
      note();
      render();
      if (state.draws.state === "whole") others().catch(lesson.work.fault);
    });
    byId("cases-step").addEventListener("toggle", render);
  }

  return {
    setUp, table, rows, likeIt, READING,
    /** Whether every case that is computed here has its draws. */
    get whole() { return wanted().every((c) => done(known.get(c.index))); },
    get progress() { return { done: wanted().filter((c) => done(known.get(c.index))).length, total: wanted().length }; },
  };
})();
