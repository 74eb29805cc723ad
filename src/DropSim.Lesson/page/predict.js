"use strict";
// Predict, then look: the results stay covered until the learner has said what he expects. Nobody is marked right or wrong.
lesson.predict = (() => {
  const { el, put, byId } = lesson;
  const { state } = lesson;
  const QUESTIONS = [["climber_movement", "The spar at the climber's feet moves"], ["rigging_point_force", "The force on the rigging point is"], ["room_left", "The room left under the piece is"]];
  const WORDS = [["less", "less"], ["same", "about the same"], ["more", "more"]];
  /** Two values closer than this part of the larger are called about the same. */
  const SAME = 0.05;

  let on = false;
  let revealed = false;
  let answers = {};
  const hidden = ["movement", "headline", "finding", "strip-figure", "pins"];
  const steps = ["cases-step", "curves-step", "energy-step", "margins-step", "log-step"];

  const covered = () => on && !revealed;

  function cover() {
    for (const id of [...hidden, ...steps]) byId(id).hidden = covered();
    // The picture waits at the hinge; what was covered is then shown from its beginning.
    if (covered() && state.runs.first) lesson.player.seek(Math.min(0, lesson.player.now), true);
    render();
    state.tell("cover");
  }

  /** Two runs and their names: after a change what is asked is what the change does, otherwise what differs from the drop beside it. */
  function asked() {
    const start = state.changed && state.second.startsWith("case:") && state.starts.get(state.first);
    return start ? { runs: [state.runs.first, start], names: ["now", "at the start"], said: `Compared with the start, with \u201c${lesson.pairLabel(0)}\u201d as it is now:` }
      : { runs: [state.runs.first, state.runs.second], names: [0, 1].map(lesson.pairLabel), said: `Compared with \u201c${lesson.pairLabel(1)}\u201d, with \u201c${lesson.pairLabel(0)}\u201d:` };
  }

  function relation(runs, id) {
    const [a, b] = runs.map((run) => state.measure(run, id));
    if (!state.known(a) || !state.known(b)) return "cannot be told";
    if (a.state === "at_least" || b.state === "at_least") return "cannot be told in full: a run was cut short";
    if (Math.abs(a.value - b.value) <= SAME * Math.max(Math.abs(a.value), Math.abs(b.value))) return "about the same";
    return a.value < b.value ? "less" : "more";
  }

  function both(run, id) {
    const m = state.measure(run, id);
    return m ? `${lesson.thisDrop(m)}${lesson.likeItWords(run, m)}` : "unknown";
  }

  /** What set-ups like them say of the two; the engine's words. */
  function like(id) {
    const told = state.changed && state.second.startsWith("case:") ? state.toldSince : state.told;
    const verdict = told && told.measures.find((m) => m.id === id);
    return verdict ? verdict.words : lesson.drawing();
  }

  /** What the draws change when they come in is drawn anew; a button in it keeps the focus. */
  function render() {
    const held = document.activeElement && byId("predict").contains(document.activeElement);
    draw();
    const button = held && byId("predict").querySelector("button");
    if (button) button.focus();
  }

  function draw() {
    const host = byId("predict");
    if (!on) { put(host); return; }
    if (!state.runs.first) { put(host, el("p", {}, "The drop is being computed; then you are asked.")); return; }
    if (!state.runs.second) { put(host, el("p", {}, "Pick something under Beside it: a prediction needs two to compare.")); return; }
    if (covered()) {
      put(host, el("p", {}, `Write it on paper first. ${asked().said}`),
        QUESTIONS.map(([id, text]) => {
          const field = el("fieldset", { class: "pick" }, el("legend", {}, text));
          lesson.choices(field, `predict-${id}`, WORDS.map(([value, label]) => ({ value, label })), answers[id], (value) => { answers[id] = value; });
          return field;
        }),
        el("button", { type: "button", class: "main", onclick: () => { revealed = true; cover(); byId("answers").focus(); lesson.player.begin(); } }, "Look"));
      return;
    }
    const { runs, names } = asked();
    put(host, el("div", { class: "scroll", tabindex: 0, role: "region", "aria-label": "What you expected, and what was computed" }, el("table", { class: "values" }, el("caption", {}, "What you expected, and what was computed"),
      el("thead", {}, el("tr", {}, ["", "expected", "this drop", "set-ups like it", ...names].map((t) => el("th", { scope: "col" }, t)))),
      el("tbody", {}, QUESTIONS.map(([id, text]) => el("tr", {}, el("th", { scope: "row" }, text), el("td", {}, (WORDS.find(([v]) => v === answers[id]) || ["", "nothing said"])[1]), el("td", {}, relation(runs, id)), el("td", {}, like(id)),
        runs.map((run) => el("td", {}, both(run, id)))))))),
      el("p", { class: "small quiet" }, "Set-ups like it: both drops in each, counted where both are caught."),
      el("button", { type: "button", onclick: () => { revealed = false; answers = {}; cover(); byId("predict-switch").focus(); } }, "Cover again"));
  }

  function setUp() {
    put(byId("predict-toggle"), el("label", { class: "choice switch" },
      el("input", { type: "checkbox", id: "predict-switch", onchange: (e) => { on = e.target.checked; revealed = false; answers = {}; cover(); } }), el("span", {}, "Predict first, then look")));
    // Any change covers the result again.
    state.on("scenario edited", () => { if (on && revealed) { revealed = false; answers = {}; cover(); } });
    state.on("runs words draws pair units", () => { if (!covered() || !byId("predict").contains(document.activeElement)) render(); });
    render();
  }

  return { setUp, get covered() { return covered(); } };
})();
