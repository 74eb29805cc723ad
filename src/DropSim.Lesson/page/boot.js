"use strict";
// Starts the page: parts first, then the engine, then the first scenario.
(() => {
  const { byId, choices } = lesson;
  const { state } = lesson;

  function units() {
    choices(byId("units-pick"), "units", [{ value: "si", label: "m, kN" }, { value: "us", label: "ft, lbf" }], state.units, (value) => {
      state.units = value;
      state.unitsChosen = true;
      lesson.work.retell().catch(lesson.work.fault);
      state.tell("units");
      lesson.work.again();
    });
  }

  /** What was refused is taken back too, though the text never had it. */
  function resettable() {
    byId("reset").disabled = !state.changed && !lesson.inputs.refused;
  }

  function naming() {
    byId("title").textContent = state.scenario.title;
    document.title = `${state.scenario.title} (DropSim)`;
    byId("subtitle").textContent = state.changed ? "Changed from the file." : state.scenario.description;
    resettable();
    const chosen = byId("units-pick").querySelector("input:checked");
    if (!chosen || chosen.value !== state.units) units();
  }

  async function start() {
    for (const part of ["narrow", "player", "charts", "energy", "scene", "inputs", "pair", "predict", "answers", "cases", "files", "briefing"]) lesson[part].setUp();
    state.on("scenario", naming);
    state.on("refused", resettable);
    const data = JSON.parse(byId("lesson-data").textContent || "{}");
    state.files = data.files || [];
    state.mode = data.mode || "lesson";
    document.body.dataset.mode = state.mode;
    performance.mark("page");
    await window.lessonEngine.ready;
    performance.mark("engine");
    state.words = await window.lessonEngine.call("words", {});
    state.catalogue = await window.lessonEngine.call("catalogue", {});
    lesson.answers.cautions();
    lesson.files.list();
    const first = state.files[data.open || 0];
    if (!first) {
      byId("subtitle").textContent = "Open a scenario file to begin.";
      return;
    }
    if (data.units) Object.assign(state, { units: data.units, unitsChosen: true });
    // Somebody may have opened a file of his own already: then that one stays.
    if (!await lesson.work.begun) await lesson.work.open(first.text, first.name, `${first.name} is refused.`);
    lesson.files.list();
    document.body.dataset.ready = "yes";
    lesson.player.begin();
    requestAnimationFrame(() => setTimeout(() => {
      performance.mark("first-drop");
      window.lessonEngine.startSecond().then(lesson.work.rehearse).catch(() => {});   // what is wrong with it shows when it is used
    }));
  }

  start().catch((error) => {
    byId("subtitle").textContent = "The engine did not start.";
    lesson.work.fault(error);
  });
})();
