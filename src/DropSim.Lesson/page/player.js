"use strict";
// The clock of the page: play, pause, step, scrub, slow motion. Zero is the moment the hinge breaks.
lesson.player = (() => {
  const { el, put, byId, time, calm } = lesson;
  const { state } = lesson;
  const SPEEDS = [["1", "as it happens"], ["0.5", "half speed"], ["0.25", "quarter speed"], ["0.1", "a tenth"], ["0.04", "a twenty-fifth"]];
  /** One step of the step buttons, s. */
  const STEP = 0.02;
  /** While an answer is awaited the drop is drawn no more often than this, ms: drawing takes the processor from the engine. */
  const SELDOM = 100;

  let now = 0;
  let playing = false;
  let speed = 0.25;
  let last = 0;
  let drawn = 0;
  /** It played to its end, and stands there still. */
  let over = false;
  let controls = null;

  const clock = () => lesson.frames.clock(state.shown);

  function seek(value, stop) {
    const { from, to } = clock();
    now = Math.min(to, Math.max(from, value));
    over = false;
    if (stop) pause();
    show();
  }

  function dial() {
    const { from, to } = clock();
    Object.assign(controls.scrub, { min: from, max: to });
    controls.scrub.value = now;
    controls.scrub.setAttribute("aria-valuetext", time(now));
    controls.read.textContent = time(now);
  }

  function show() {
    if (!controls) return;
    dial();
    lesson.scene.paint();
    lesson.charts.repaint();
    lesson.energy.repaint();
    if (!playing) lesson.scene.describe();
  }

  function tick(stamp) {
    if (!playing) return;
    const passed = Math.min(0.1, (stamp - last) / 1000);
    last = stamp;
    const { to } = clock();
    now += passed * speed;
    if (now >= to) { now = to; pause(); over = true; }
    if (!playing || state.stage !== "asked" || stamp - drawn >= SELDOM) {
      drawn = stamp;
      show();
    }
    if (playing) requestAnimationFrame(tick);
  }

  function play() {
    const { from, to } = clock();
    if (state.shown.length === 0) return;
    if (now >= to - 1e-6) now = from;
    playing = true;
    over = false;
    last = performance.now();
    requestAnimationFrame(tick);
    label();
  }

  function pause() {
    playing = false;
    label();
    lesson.scene.describe();
  }

  function label() {
    if (controls) put(controls.play, playing ? "Pause" : "Play");
  }

  /** Keys while the picture has the focus. */
  function key(event) {
    const acts = {
      " ": () => (playing ? pause() : play()), ArrowRight: () => seek(now + STEP, true), ArrowLeft: () => seek(now - STEP, true),
      Home: () => seek(-Infinity, true), End: () => seek(Infinity, true), PageUp: () => seek(now + (10 * STEP), true), PageDown: () => seek(now - (10 * STEP), true),
    };
    if (!acts[event.key] || event.ctrlKey || event.altKey || event.metaKey) return;
    event.preventDefault();
    acts[event.key]();
  }

  /** Buttons that lead to the moments of the first run. */
  function moments() {
    if (!controls) return;
    const run = state.runs.first;
    if (!run || lesson.predict.covered) { put(controls.moments); return; }
    const { from, to } = clock();
    const peak = state.measure(run, "rigging_point_force");
    const list = run.events.filter((e) => e.marked && e.short && e.time >= from && e.time <= to).map((e) => ({ time: e.time, text: e.short, kind: e.kind }));
    if (peak && peak.time !== null && Number.isFinite(peak.time)) list.push({ time: peak.time, text: "largest force", kind: "peak" });
    list.sort((a, b) => a.time - b.time);
    const told = list.filter((m, i) => m.kind !== "strike" && list.findIndex((n) => n.text === m.text) === i);
    const whose = state.shown.length > 1 && told.length > 0 ? el("span", { class: "whose" }, lesson.pairLabel(0)) : null;
    put(controls.moments, whose, told.slice(0, 6).map((m) => el("button", { type: "button", class: "moment", onclick: () => seek(m.time, true) }, `${m.text} ${time(m.time)}`)));
  }

  function setUp() {
    controls = {
      play: el("button", { type: "button", class: "main", onclick: () => (playing ? pause() : play()) }, "Play"),
      back: el("button", { type: "button", "aria-label": "One step back", onclick: () => seek(now - STEP, true) }, "\u2212 step"),
      on: el("button", { type: "button", "aria-label": "One step on", onclick: () => seek(now + STEP, true) }, "+ step"),
      scrub: el("input", { type: "range", step: "any", "aria-label": "Time from hinge break", oninput: () => seek(Number(controls.scrub.value), true) }),
      // Read out when asked for: an output speaks at every change otherwise, and the clock changes with every frame.
      read: el("output", { class: "read", "aria-live": "off" }, time(0)),
      speed: el("select", { onchange: () => { speed = Number(controls.speed.value); } }, SPEEDS.map(([value, text]) => el("option", { value, selected: value === "0.25" }, text))),
      moments: byId("moments"),
    };
    // An arrow key on a range without steps moves by a hundredth of it; here by one step.
    controls.scrub.addEventListener("keydown", key);
    put(byId("player"), controls.play, controls.scrub, controls.read, el("span", { id: "bend" }));
    put(byId("player-more"), controls.back, controls.on, el("label", { class: "field" }, el("span", { class: "away" }, "Speed "), controls.speed));
    // The others draw themselves when runs change; here only the clock's ends may move.
    state.on("runs words pair cover units", () => {
      const { from, to } = clock();
      now = over ? to : Math.min(to, Math.max(from, now));
      lesson.redraw(controls.moments, moments);
      dial();
    });
  }

  /** After a change the drop is shown again, where it had been shown to its end. */
  function again() {
    if (over && !calm.matches && !lesson.predict.covered) play();
  }

  return {
    setUp, seek, again, play, pause, key, show,
    get now() { return now; },
    get playing() { return playing; },
    /** When the page opens, and when a covered drop is uncovered: it is shown from its beginning, unless movement is not wanted. */
    begin() {
      const { from } = clock();
      now = from;
      if (calm.matches) { const peak = state.measure(state.runs.first, "rigging_point_force"); seek(peak && Number.isFinite(peak.time) ? peak.time : 0, true); return; }
      play();
    },
  };
})();
