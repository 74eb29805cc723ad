"use strict";
// Between the page and the engine: one change at a time, the newest wins; coarse while a slider moves, exact when it rests, set-ups like it after that.
lesson.work = (() => {
  const { byId, put, el } = lesson;
  const { state } = lesson;
  const engine = () => window.lessonEngine;

  /** Edits that wait, by key. */
  let pending = new Map();
  let wanted = null;
  let busy = false;
  /** A value rests when nobody has moved it for this long, ms: keys come in quick succession. */
  const SETTLE = 140;
  let resting = 0;
  /** Nothing has been changed by hand yet. */
  let untouched = true;
  /** Drops that the second engine computes for practice. */
  const REHEARSALS = 25;
  /** Counts questions, so that a late answer to an old one is dropped. */
  let question = 0;
  /** Counts the texts that were opened: what was asked of one before is no answer to this one. */
  let opened = 0;
  /** Counts the texts that were to be opened: the latest wins. */
  let asked = 0;
  /** The text whose inputs are on show. */
  let taken = "";
  /** The latest of them, at work or done; null before the first. */
  let begun = null;

  /** How far the picture of the latest exact drops reaches, s from hinge break; null before the first. Coarse drops are computed no further. */
  let horizon = null;
  /** Where the stories of the two end, s from hinge break: what comes after is waited for until nothing moves, unless the picture is there already. */
  let stories = [];
  /** How far the picture may play on before the next answer, s. */
  const SOON = 0.5;
  /** A drop that was changed may break its hinge this much later than the one before, s, and still fills the picture. */
  const LATER_HINGE = 0.2;
  /** How far the first look at a scenario is computed, s from its start: a hinge takes one or two, a catch less. */
  const FIRST_LOOK = 4;

  /** An answer that does not come at once: until it does, what is shown is said to be old. */
  const LATE = 300;
  let lateness = 0;

  function onTime() {
    clearTimeout(lateness);
    lateness = 0;
    state.late = false;
  }

  /** How far the answer to the latest change has come; after "asked" nothing that was asked before may say otherwise. */
  function stage(name) {
    if (name === "asked") question++;
    state.stage = name;
    byId("answers").setAttribute("aria-busy", String(name === "asked"));
  }

  function problems(list, heading) {
    put(byId("problems"), list.length === 0 ? null : [el("p", {}, el("strong", {}, heading)), el("ul", {}, list.map((p) => el("li", {}, p.message)))]);
  }

  function fault(error) {
    stage("fault");
    problems([{ message: error && error.message ? error.message : String(error) }], "The computation stopped. Nothing shown belongs to this input.");
  }

  /** A change by hand. quality: "coarse" while it moves, "exact" when it rests. */
  function edit(key, value, quality, more) {
    untouched = false;
    pending.set(key, { case: state.first, key, value });
    for (const other of more || []) pending.set(other.key, { case: state.first, ...other });
    stage("asked");
    state.tell("edited");
    clearTimeout(resting);
    if (quality === "exact") resting = setTimeout(() => ask("exact"), SETTLE);
    else ask("coarse");
  }

  async function ask(quality) {
    wanted = wanted === "exact" || quality === "exact" ? "exact" : "coarse";
    stage("asked");
    if (!lateness) lateness = setTimeout(() => { state.late = true; state.tell("late"); }, LATE);
    if (busy) return;
    busy = true;
    try {
      while (wanted) {
        const now = wanted;
        wanted = null;
        await simulate(now);
      }
    } catch (error) {
      onTime();
      fault(error);
    } finally {
      busy = false;
    }
  }

  function take(answer, text) {
    state.text = text;
    taken = text;
    document.body.dataset.drop = "yes";
    state.scenario = answer.scenario;
    state.inputs = answer.inputs || answer.scenario.inputs;
    state.first = Math.min(state.first, state.scenario.cases.length - 1);
    problems([], "");
    state.tell("scenario");
  }

  const secondCase = () => (state.second.startsWith("case:") ? Number(state.second.slice(5)) : -1);

  /** While a slider moves: no finer than a screen shows, no further than the picture reaches, and both drops at once where there are two engines. */
  async function drops(question) {
    if (question.quality !== "coarse") return engine().call("simulate", { ...question, interval: 0.005 });
    // A run's times count from hinge break; the computation begins before it.
    const needed = (run, i) => Math.min(horizon, Math.max(stories[i], lesson.player.now + SOON)) + LATER_HINGE - lesson.frames.startOf(run);
    const until = (...runs) => (horizon === null || runs.length === 0 || runs.some((r) => !r) ? FIRST_LOOK : Math.max(...runs.map((r) => needed(r, r === state.runs.first ? 0 : 1))));
    const coarse = { ...question, interval: 0.01, until: until(...state.shown) };
    const [first, other] = question.cases;
    const { second } = engine();
    if (other === undefined || !second) return engine().call("simulate", coarse);
    const [one, two] = await Promise.all([
      engine().call("simulate", { ...coarse, cases: [first], until: until(state.runs.first) }),
      second({ ...coarse, cases: [other], until: until(state.runs.second) })]);
    return one.superseded || one.problems.length > 0 ? one : two.problems.length > 0 ? two : { ...one, runs: [...one.runs, ...two.runs] };
  }

  /**
   * In a browser code becomes fast by being run. The second engine would compute its first drop, ten times as slowly as its later ones, when
   * the first slider moves: until somebody touches one it practises, and nothing it answers is looked at.
   */
  async function rehearse() {
    const { second } = engine();
    for (let i = 0; i < REHEARSALS && second && untouched && secondCase() >= 0; i++) {
      const input = lesson.inputs.find("piece.length");
      const edits = input && input.value !== null ? [{ case: state.first, key: input.key, value: lesson.inputs.written(input, input.value) }] : [];
      await second({ text: state.text, file: state.file, edits, cases: [secondCase()], quality: "coarse", units: state.units, interval: 0.01, until: FIRST_LOOK });
    }
  }

  /** What the engine found about the two on show, if it held the first against the second; the other way round its words would belong to the wrong one. */
  const oriented = (found) => (found || []).find((c) => c.first === 0 && c.second === 1) || null;

  /** While a slider moves the edits stay apart from the text; when it rests they are written into it. */
  async function simulate(quality) {
    const mine = ++question;
    const text = opened;
    const other = secondCase();
    const cases = other >= 0 && other !== state.first ? [state.first, other] : [state.first];
    const edits = [...pending.values()];
    // What the answer will be called, and what it is held against, belongs to the question.
    const labels = lesson.pair.labels();
    const held = fixedSecond();
    if (quality === "exact") pending = new Map();
    const answer = await drops({ text: state.text, file: state.file, edits, cases, quality, units: state.units });
    if (answer.superseded || text !== opened) return;
    if (answer.problems.length > 0) {
      onTime();
      state.tell("late");
      if (edits.length === 0) { problems(answer.problems, "This cannot be computed:"); stage("fault"); return; }
      pending = new Map();
      lesson.inputs.refuse(edits, answer.problems);
      // What stood before is computed again: a slider may have left coarse curves of a value that is not in the text, and its draws were given up.
      if (quality === "exact") wanted = "exact";
      return;
    }
    if (edits.length > 0) lesson.inputs.refuse(edits, []);
    const [first, second] = answer.runs;
    state.runs = { first, second: second || held };
    state.labels = labels;
    onTime();
    state.quality = quality;
    Object.assign(state, { draws: { state: "none", done: 0, total: 0 }, told: null, toldSince: null });
    state.comparison = oriented(answer.comparisons);
    if (quality === "coarse") { stage("coarse"); state.tell("runs"); return; }
    if (edits.length > 0) state.text = answer.text;
    horizon = lesson.frames.clock(state.shown).to;
    stories = [first, second || held].map((run) => (run ? run.window.to : horizon));
    state.tell("runs");
    if (edits.length > 0) lesson.player.again();
    follow(mine, first, Boolean(second)).catch(fault);
  }

  /** What an exact result brings after it: inputs as they stand now, what it is held against, words, set-ups like it. A newer question ends it. */
  async function follow(mine, first, paired) {
    const stale = () => mine !== question;
    // Of a change that a newer question overtook the inputs were not read.
    if (state.text !== taken) {
      const read = await engine().call("open", { text: state.text, file: state.file });
      if (stale()) return;
      if (read.problems.length === 0) take(read, state.text);
    }
    if (state.text === state.startText && !state.starts.has(state.first)) await remember(first);
    if (!paired && !state.runs.second) state.runs.second = await fixed();
    if (stale()) return;
    await compare(mine);
    if (stale()) return;
    stage("exact");
    state.tell("words");
    await draws(mine);
  }

  /** Keeps the run of the scenario as it was opened, to be held against later. */
  async function remember(run) {
    state.starts.set(state.first, run);
    await engine().call("keep", { runs: [run.run] });
  }

  /** Set-ups that were pinned, and the start: runs that the engine was asked to keep. */
  const kept = () => [...state.pins.map((pin) => pin.run), ...state.starts.values()];

  /** The engine may forget runs; those that are still kept for another reason stay. */
  function letGo(runs) {
    const held = new Set(kept().map((r) => r.run));
    const free = runs.map((r) => r.run).filter((run) => !held.has(run));
    if (free.length > 0) engine().call("release", { runs: free }).catch(fault);
  }

  /** What is kept, in the units that were picked since. What is computed anew comes in them anyway. */
  async function retell() {
    const runs = kept();
    const { units } = state;
    if (runs.length === 0) return;
    const answer = await engine().call("retell", { runs: runs.map((r) => r.run), units });
    if (units !== state.units) return;
    answer.runs.forEach(({ columns: _, ...words }, i) => Object.assign(runs[i], words));
    state.tell("pins");
  }

  const fixedSecond = () => (state.second === "start" ? state.starts.get(state.first) : state.second.startsWith("pin:") ? (state.pins[Number(state.second.slice(4))] || {}).run : null) || null;

  async function startRun() {
    if (!state.starts.has(state.first)) {
      const answer = await engine().call("simulate", { text: state.startText, file: state.file, cases: [state.first], quality: "exact", units: state.units, interval: 0.005 });
      if (answer.runs && answer.runs[0]) await remember(answer.runs[0]);
    }
    return state.starts.get(state.first) || null;
  }

  async function fixed() {
    if (state.second === "start") return startRun();
    return fixedSecond();
  }

  /** Words for what is held against something that the engine did not compute in the same breath. */
  async function compare(mine) {
    const { first, second } = state.runs;
    if (second && !state.comparison && first.run !== second.run) {
      state.comparison = await engine().call("compare", { first: first.run, second: second.run, names: [0, 1].map((i) => lesson.small(lesson.pairLabel(i))), units: state.units });
    }
    state.since = null;
    if (!state.changed || state.second === "start" || mine !== question) return;
    const start = await startRun();
    if (start) state.since = await engine().call("compare", { first: first.run, second: start.run, names: ["now", "at the start"], phrases: ["the drop now", "the drop at the start"], units: state.units });
  }

  /** Set-ups like those on show, and like the start where a change is judged: all on the same draws. */
  async function draws(mine) {
    const { first, second } = state.runs;
    const start = state.since ? state.starts.get(state.first) : null;
    const runs = [first, second, start].filter(Boolean);
    const pair = second && second.run !== first.run;
    // Two cases of the scenario have names of their own; the start and what was pinned have those that stand on the page.
    const tell = [{ first: first.run, second: pair ? second.run : null, names: !pair || secondCase() >= 0 ? null : [0, 1].map((i) => lesson.small(lesson.pairLabel(i))) }];
    if (start && start.run !== first.run) tell.push({ first: first.run, second: start.run, names: ["the drop now", "the drop at the start"] });
    state.draws = { state: "partial", done: 0, total: 0 };
    const old = (answer) => answer.superseded || mine !== question;
    const answer = await engine().call("draws", { runs: [...new Set(runs.map((r) => r.run))], tell, units: state.units }, (progress) => {
      if (old(progress)) return;
      state.draws = { state: "partial", done: progress.done, total: progress.total };
      state.tell("draws");
    });
    if (old(answer)) return;
    for (const part of answer.runs) for (const run of runs.filter((r) => r.run === part.run)) run.drawn = part.drawn;
    [state.told, state.toldSince] = [answer.told[0] || null, answer.told[1] || null];
    state.draws = { state: "whole", done: answer.done, total: answer.total };
    stage("whole");
    state.tell("draws");
  }

  /** Back to the text as it was opened; the two on show stay. */
  const reset = () => open(state.startText, state.file, undefined, true);

  /** Reads a text anew. Answers true where it can be computed; otherwise the last good one stays. */
  function open(text, file, heading, keepPair) {
    begun = reading(text, file, heading, keepPair);
    return begun;
  }

  async function reading(text, file, heading, keepPair) {
    const mine = ++asked;
    const answer = await engine().call("open", { text, file });
    if (mine !== asked) return false;
    if (answer.problems.length > 0) {
      problems(answer.problems, heading || `${file} is refused. What is shown is still the scenario before it.`);
      return false;
    }
    opened++;
    horizon = null;
    pending = new Map();
    clearTimeout(resting);
    const old = [...state.starts.values()];
    Object.assign(state, { file, startText: text, starts: new Map(), comparison: null, since: null });
    // Back at the start the drop on show stays until the next one stands, as after any change.
    if (!keepPair) state.runs = { first: null, second: null };
    letGo(old);
    if (!state.unitsChosen) state.units = answer.scenario.units;
    state.scenario = answer.scenario;
    if (!keepPair) lesson.pair.usual();
    lesson.inputs.refuse([], []);
    take(answer, text);
    if (!keepPair) await ask("coarse");   // something to look at, in less than half the time
    const exact = ask("exact");
    if (keepPair) await exact;
    return true;
  }

  /** After another pair or other units were picked: same text, new question. */
  const again = () => ask("exact");

  return { edit, open, reset, again, retell, letGo, rehearse, problems, fault, get begun() { return begun; } };
})();
