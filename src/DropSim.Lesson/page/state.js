"use strict";
// What the page knows. The text of the scenario is the truth; everything computed from it is kept beside it until the next answer.
lesson.state = (() => {
  const state = {
    files: [],
    file: "",
    text: "",
    startText: "",
    /** Last good reading of the text. */
    scenario: null,
    inputs: [],
    units: "si",
    /** True once a person has picked them: then the next file does not change them. */
    unitsChosen: false,
    mode: "lesson",
    /** Case looked at, and what it is held against: "case:1", "start", "pin:0" or "none". */
    first: 0,
    second: "none",
    runs: { first: null, second: null },
    /** Their names. */
    labels: [],
    /** True where the inputs have moved on and the answer is late. */
    late: false,
    /** Finding of the two, from the engine. */
    comparison: null,
    /** What differs from the start, from the engine; null while nothing does. */
    since: null,
    starts: new Map(),
    pins: [],
    words: null,
    catalogue: null,
    quality: "none",
    /** How far the answer to the latest change has come: "asked", "coarse", "exact" (words too), "whole" (with set-ups like it), "fault". */
    stage: "none",
    /** How far the draws of set-ups like those on show have come. */
    draws: { state: "none", done: 0, total: 0 },
    /** What set-ups like the two on show say, and like the drop now and at the start, from the engine; null until they are drawn. */
    told: null,
    toldSince: null,
    get changed() { return this.text !== this.startText; },
    /** The runs on show, first one first. */
    get shown() { return [this.runs.first, this.runs.second].filter(Boolean); },
  };
  const listeners = new Map();

  const more = {
    /** Topics: "edited" (a change by hand), "refused" (a change that was, or that is no more), "scenario" (text read anew), "runs" (curves and measures), "words" (findings, and what is held against), "draws" (set-ups like those on show), "pair", "units", "cover", "pins", "cases" (one more of the cases that are not on show). */
    on(topics, listener) {
      for (const topic of topics.split(" ")) {
        listeners.set(topic, [...(listeners.get(topic) || []), listener]);
      }
    },
    tell(topic) {
      for (const listener of listeners.get(topic) || []) listener(topic);
    },
    /** Which program and which text a picture or a page belongs to. */
    get footer() {
      const { words, scenario, changed } = state;
      return words && scenario ? `DropSim ${words.version}; scenario ${scenario.name}, ${changed ? "changed from the file, hash" : "file hash"} ${scenario.hash}.` : "";
    },
    axis(quantity) {
      const axes = state.words && state.words.axes && state.words.axes[quantity];
      return axes ? axes[state.units] : { unit: "", factor: 1 };
    },
    /** Smaller than this reads as nothing, SI. */
    unseen(quantity) { return { smallLength: 5e-4, length: 5e-3, speed: 5e-3 }[quantity] || 0; },
    /** A number in the units on show with two significant digits. */
    shownNumber(value, quantity) {
      const axis = state.axis(quantity);
      const small = state.units === "si" && Math.abs(value) < 995 ? { force: "N", energy: "J", moment: "N m" }[quantity] : null;
      if (small) return `${lesson.number(Math.abs(value) < 0.05 ? 0 : value)} ${small}`;
      return `${lesson.number(Math.abs(value) < state.unseen(quantity) ? 0 : value * axis.factor)} ${axis.unit}`.trim();
    },
    caseLabel(index) {
      const found = state.scenario && state.scenario.cases[index];
      return found ? lesson.capital(found.label) : "";
    },
    /** Kind of the catch of a run or a case. */
    catchKind(one) { return (state.scenario.catches.find((c) => c.name === one.catch) || {}).kind; },
    /** Whether a measure has come to a value or a bound: room that was never reached has neither, whatever number stands in it. */
    known(m) { return Boolean(m) && Number.isFinite(m.value) && m.state !== "not_reached" && m.state !== "unknown"; },
    measure(run, id) { return run && run.measures.find((m) => m.id === id); },
    /** Set-ups like a run in one measure; null where they are not drawn, or nothing is told of the measure. */
    likeIt(run, id) { return (run && run.drawn && run.drawn.spreads.find((s) => s.id === id)) || null; },
  };
  return Object.defineProperties(state, Object.getOwnPropertyDescriptors(more));
})();
