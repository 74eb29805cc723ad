"use strict";
// The traces: what is drawn, what it says in words and as a table, and the cursor that is tied to the side view.
lesson.charts = (() => {
  const { el, put, byId, time, number } = lesson;
  const { state } = lesson;

  /** One finding a panel: spar movement first, strikes second, then what pulls. */
  const PANELS = [
    { id: "movement", heading: "Movement of the spar at the climber's feet", column: "climber_deflection_m", quantity: "smallLength", hue: "climber", measure: "climber_movement" },
    { id: "rigging", heading: "Force on the rigging point", column: "rigging_point_force_N", quantity: "force", hue: "riggingPoint", measure: "rigging_point_force" },
    { id: "load", heading: "Pull in the load leg", column: "load_leg_tension_N", quantity: "force", hue: "loadLeg", measure: "load_leg_tension" },
    { id: "ground", heading: "Pull in the ground leg", column: "ground_leg_tension_N", quantity: "force", hue: "groundLeg", measure: "ground_leg_tension" },
    { id: "hand", heading: "What the hand holds (locked off: what a hand would have had to hold)", column: "hand_tension_N", quantity: "force", hue: "hand", measure: "hand_force" },
    { id: "run", heading: "Rope run through the device", column: "rope_run_m", quantity: "length", hue: "groundLeg", measure: "rope_run" },
    { id: "height", heading: "Height of the piece's lowest point above the ground", column: "lowest_point_m", quantity: "length", hue: "piece", measure: "room_left", lowest: true },
    { id: "tip", heading: "Movement of the top of the spar", column: "tip_deflection_m", quantity: "smallLength", hue: "spar", measure: "tip_deflection" },
    { id: "acceleration", heading: "Acceleration at the climber's feet, raw (indicative in strikes)", column: "climber_acceleration_m_s2", quantity: "acceleration", hue: "climber", measure: "climber_acceleration" },
    { id: "moment", heading: "Bending moment at the spar's foot", column: "spar_base_moment_N_m", quantity: "moment", hue: "spar", measure: "spar_base_moment" },
  ];
  const FIRST = { weight: 3.4, dash: [] };
  const SECOND = { weight: 2, dash: [7, 4] };
  const shown = new Map();

  const style = (index) => (index === 0 ? FIRST : SECOND);
  const labelOf = (index) => lesson.pairLabel(index);

  /** A sketch does not tell of everything: its curve would be wrong, and waits until nothing moves. */
  const LATER = "follows when nothing moves";
  const waits = (run, panel) => state.quality === "coarse" && (state.measure(run, panel.measure) || {}).state === "unknown";

  /** Hand pull is small beside rope pull: its own unit, newtons, in SI. */
  function axisOf(panel, runs, clock) {
    const axis = state.axis(panel.quantity);
    if (panel.id !== "hand" || state.units !== "si") return axis;
    const { high } = lesson.frames.span(runs, [panel.column], clock.from, clock.to);
    return high < 995 ? { unit: "N", factor: 1 } : axis;
  }

  function spec(panel, runs) {
    const look = lesson.palette.now;
    const clock = lesson.frames.clock(runs);
    const axis = axisOf(panel, runs, clock);
    const { low, high } = lesson.frames.span(runs, [panel.column], clock.from, clock.to);
    const colour = look[panel.hue];
    const ink = look[`${panel.hue}Text`] || look.ink;
    const first = runs[0];
    return {
      window: clock,
      unit: axis.unit,
      low: low * axis.factor,
      high: high * axis.factor,
      bands: first ? first.phases : [],
      events: first ? first.events.filter((e) => e.marked && e.short && e.time > clock.from && e.time < clock.to) : [],
      levels: panel.id === "height" && first ? first.model.obstacles.map((o) => ({ value: o.zTo * axis.factor, text: `top of ${o.name}` })) : [],
      lines: runs.map((run, i) => ({ run, column: panel.column, factor: axis.factor, colour, ...style(i) })).filter((line) => !waits(line.run, panel)).reverse(),
      peaks: runs.filter((run) => !waits(run, panel)).map((run) => {
        const best = panel.lowest ? lowest(run, panel, clock) : lesson.frames.extreme(run, panel.column, clock.from, clock.to);
        return { time: best.time, value: best.value * axis.factor, colour, ink, text: "" };
      }).filter((p) => Number.isFinite(p.value)),
      spreads: runs.map((run, i) => {
        const like = state.likeIt(run, panel.measure);
        if (!like) return {};
        const from = lesson.frames.span([run], [panel.column], clock.from, clock.to);
        const sign = !panel.lowest && -from.low > from.high ? -1 : 1;
        return { dots: like.dots.map((d) => d * axis.factor * sign), colour, open: i > 0 };
      }),
    };
  }

  function lowest(run, panel, clock) {
    const times = run.curves.time_s;
    const values = run.curves[panel.column];
    let best = { time: clock.from, value: Infinity };
    for (let i = 0; i < times.length && times[i] <= clock.to; i++) if (values[i] < best.value) best = { time: times[i], value: values[i] };
    return best;
  }

  function sentence(panel, runs) {
    const parts = runs.map((run, i) => {
      const m = state.measure(run, panel.measure);
      if (!m) return "";
      if (waits(run, panel)) return `${labelOf(i)}: ${LATER}`;
      const at = m.time !== null && Number.isFinite(m.time) ? ` at ${time(m.time)}` : "";
      return `${labelOf(i)}: ${lesson.thisDrop(m)}${at}${lesson.likeItWords(run, m)}`;
    }).filter(Boolean);
    return `${panel.heading}${panel.lowest ? "; least room" : "; largest"}. ${parts.join(". ")}. Dots at the right edge: set-ups like it, of 20, those caught; an arrow where some lie outside the picture.${runs.length > 1 ? ` Tinted bands: ${labelOf(0)}.` : ""}`;
  }

  /** Values at the moments that carry the story, for people who do not see the curves. */
  function table(panel, runs) {
    const clock = lesson.frames.clock(runs);
    const axis = axisOf(panel, runs, clock);
    let moments = [];
    runs.forEach((run, i) => run.events.filter((e) => e.marked && e.short && e.time >= clock.from && e.time <= clock.to).forEach((e) => moments.push({ time: e.time, what: `${labelOf(i)}: ${e.short}` })));
    const rise = lesson.plot.step(clock.to - clock.from, 6);
    for (let k = Math.ceil(clock.from / rise); k * rise <= clock.to; k++) moments.push({ time: k * rise, what: "" });
    moments.sort((a, b) => a.time - b.time);
    moments = moments.filter((m, i) => i === 0 || m.time !== moments[i - 1].time || m.what !== moments[i - 1].what);
    return el("table", { class: "values" },
      el("caption", { class: "away" }, `${panel.heading}, ${axis.unit}`),
      el("thead", {}, el("tr", {}, el("th", { scope: "col" }, "time"), runs.map((_, i) => el("th", { scope: "col" }, `${labelOf(i)}, ${axis.unit}`)), el("th", { scope: "col" }, "moment"))),
      el("tbody", {}, moments.slice(0, 40).map((m) => el("tr", {}, el("th", { scope: "row" }, time(m.time)),
        runs.map((run) => el("td", {}, m.time > lesson.frames.endOf(run) + 1e-9 ? "run ended" : waits(run, panel) ? "follows" : number(lesson.frames.value(run, panel.column, m.time) * axis.factor))),
        el("td", {}, m.what)))));
  }

  function build(panel, host, height) {
    const canvas = el("canvas", { role: "img", class: "plot", "aria-label": `${panel.heading}, not drawn yet` });
    const legend = el("p", { class: "legend" });
    const words = el("p", { class: "small quiet", "aria-hidden": "true" });   // the picture is called that already
    const values = el("details", { class: "as-table", ontoggle: () => { if (values.open) fillTable(); } }, el("summary", {}, "As a table"));
    const body = el("div", {});
    values.append(body);
    const fillTable = () => lesson.redraw(body, () => put(body, el("div", { class: "scroll", tabindex: 0, role: "region", "aria-label": `Values: ${panel.heading}` }, table(panel, state.shown))));
    put(host, el("figcaption", {}, el("strong", {}, panel.heading), legend), el("div", { class: "plot-box" }, canvas), words, values);
    const entry = { panel, canvas, legend, words, values, fillTable, height, host };
    shown.set(host, entry);
    canvas.addEventListener("pointerdown", (event) => {
      canvas.setPointerCapture(event.pointerId);
      scrub(entry, event);
    });
    canvas.addEventListener("pointermove", (event) => { if (event.buttons & 1) scrub(entry, event); });
    return entry;
  }

  function scrub(entry, event) {
    const box = lesson.plot.frame(entry.canvas.clientWidth, entry.height);
    const { from, to } = lesson.frames.clock(state.shown);
    const part = (event.offsetX - box.x) / box.w;
    lesson.player.seek(from + (Math.min(1, Math.max(0, part)) * (to - from)), true);
  }

  function refresh(entry) {
    const runs = state.shown;
    entry.spec = null;
    if (runs.length === 0 || closed(entry)) return;
    entry.spec = spec(entry.panel, runs);
    const said = sentence(entry.panel, runs);
    entry.words.textContent = said;
    entry.canvas.setAttribute("aria-label", said);
    if (entry.values.open) entry.fillTable();
    paint(entry);
  }

  const closed = (entry) => Boolean(entry.host.closest("details:not([open])") || entry.host.closest("[hidden]"));

  function paint(entry) {
    if (closed(entry)) return;
    if (!entry.spec) { if (state.shown.length > 0) refresh(entry); return; }
    const now = lesson.player.now;
    lesson.plot.draw(lesson.plot.surface(entry.canvas, entry.height), entry.spec, now);
    const { panel } = entry;
    const runs = state.shown;
    const axis = axisOf(panel, runs, entry.spec.window);
    entry.legend.replaceChildren(...runs.map((run, i) => el("span", { class: i === 0 ? "key first" : "key second" }, `${labelOf(i)} `,
      el("b", {}, `${now > lesson.frames.endOf(run) + 1e-9 ? "ended" : waits(run, panel) ? LATER : `${number(lesson.frames.value(run, panel.column, now) * axis.factor)} ${axis.unit}`}`))));
  }

  const all = (work) => { for (const entry of shown.values()) work(entry); };

  function setUp() {
    build(PANELS[0], byId("strip-figure"), 132);
    const host = byId("curves");
    for (const panel of PANELS.slice(1)) {
      const figure = el("figure", {});
      host.append(figure);
      build(panel, figure, 190);
    }
    state.on("runs draws words units pair cover", () => all(refresh));
    byId("curves-step").addEventListener("toggle", () => all(paint));
    lesson.palette.onChange(() => all(refresh));
    new ResizeObserver(() => all(paint)).observe(byId("main"));
    new ResizeObserver(() => all(paint)).observe(byId("curves"));
  }

  return { setUp, PANELS, spec, sentence, style, repaint: () => all(paint) };
})();
