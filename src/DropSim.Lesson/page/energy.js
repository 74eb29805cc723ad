"use strict";
// Where the energy went: stacked areas over time that sum to a flat line, and the same as a table.
lesson.energy = (() => {
  const { el, put, byId, number } = lesson;
  const { state } = lesson;

  /** From the bottom: lost for good, then stored, then still to fall. Fill, and the ink that can be read on it. */
  const PLACES = [
    ["lost_device_J", "friction at device and hand", "#D55E00", "#000000"],
    ["lost_rigging_point_J", "friction at the rigging point", "#4d4d4d", "#ffffff"],
    ["lost_hitch_J", "tightening of the hitch", "#8fbdd9", "#000000"],
    ["lost_rope_J", "heat in the rope", "#0072B2", "#ffffff"],
    ["lost_spar_J", "damping of the spar", "#00674b", "#ffffff"],
    ["lost_contact_J", "strikes", "#7a5c99", "#ffffff"],
    ["lost_drag_J", "air", "#c9c9c9", "#000000"],
    ["lost_hinge_J", "the hinge", "#b8a98f", "#000000"],
    ["energy_contact_J", "piece pressing on the spar", "#b9a6cc", "#000000"],
    ["energy_spar_J", "sway of the spar", "#009E73", "#000000"],
    ["energy_rope_J", "stretch of the rope", "#6fafd6", "#000000"],
    ["energy_kinetic_J", "motion of the piece", "#56B4E9", "#000000"],
    ["energy_potential_J", "height still to fall", "#dcebf5", "#000000"],
  ];
  /** A place that never holds more than this share of the whole is drawn with the others. */
  const SMALLEST = 0.03;
  const HEIGHT = 260;
  /** Points over the width; more cannot be seen. */
  const POINTS = 240;

  function stack(run, window) {
    const { frames } = lesson;
    const to = Math.min(window.to, frames.endOf(run));
    const times = Array.from({ length: POINTS + 1 }, (_, i) => window.from + (i / POINTS * (to - window.from)));
    const start = frames.startOf(run);
    const total = PLACES.reduce((sum, [column]) => sum + (frames.value(run, column, start) || 0), 0);
    const layers = PLACES.map(([column, name, fill, ink]) => ({ name, fill, ink, values: times.map((t) => 100 * (frames.value(run, column, t) || 0) / total) }));
    const small = layers.filter((l) => Math.max(...l.values.map(Math.abs)) < 100 * SMALLEST);
    const large = layers.filter((l) => !small.includes(l));
    if (small.length > 0) {
      large.splice(large.length - 1, 0, { name: "other places", fill: "#a6a6a6", ink: "#000000", values: times.map((_, i) => small.reduce((s, l) => s + l.values[i], 0)) });
    }
    let lower = times.map(() => 0);
    return large.map((l) => {
      const upper = lower.map((v, i) => v + l.values[i]);
      const area = { ...l, times, lower, upper };
      lower = upper;
      return area;
    });
  }

  function spec(run) {
    const window = lesson.frames.clock(state.shown);
    const areas = stack(run, window);
    return { window, unit: "% of the energy", low: 0, high: 100, exact: true, areas, events: run.events.filter((e) => e.marked && e.short && e.time > window.from && e.time < window.to) };
  }

  function share(part, whole) {
    if (!(whole > 0)) return "unknown";
    const percent = 100 * part / whole;
    return percent > 0 && percent < 0.1 ? "under 0.1 %" : `${number(percent)} %`;
  }

  function sentence(run, index) {
    const { fallen, largestImbalance, places } = run.ledger;
    const most = [...places].sort((a, b) => b.energy - a.energy).filter((p) => p.energy > 0).slice(0, 3);
    return `${lesson.pairLabel(index)}: of the ${state.shownNumber(fallen, "energy")} that fell, at the end ${most.map((p) => `${share(p.energy, fallen)} was in ${named(p)}`).join(", ")}. The books close to ${number(100 * largestImbalance)} % of what fell.`;
  }

  function named(place) {
    const known = PLACES.find(([column]) => column === place.column);
    return known ? known[1] : place.label;
  }

  function table(runs) {
    const rows = PLACES.map(([column, name]) => ({ name, energies: runs.map((r) => r.ledger.places.find((p) => p.column === column)) })).filter((row) => row.energies.some((p) => p && Math.abs(p.energy) > 0));
    return el("table", { class: "values" },
      el("caption", {}, "Where the energy that fell was at the end of each run"),
      el("thead", {}, el("tr", {}, el("th", { scope: "col" }, "place"), runs.map((_, i) => [el("th", { scope: "col" }, lesson.pairLabel(i)), el("th", { scope: "col" }, "of what fell")]))),
      el("tbody", {}, rows.map((row) => el("tr", {}, el("th", { scope: "row" }, row.name),
        row.energies.map((p, i) => [el("td", {}, p ? state.shownNumber(p.energy, "energy") : ""), el("td", {}, p ? share(p.energy, runs[i].ledger.fallen) : "")])))));
  }

  let entries = [];

  function refresh() {
    const host = byId("energy");
    if (!byId("energy-step").open) return;
    const runs = state.shown;
    entries = [];
    put(host, runs.map((run, i) => {
      const canvas = el("canvas", { role: "img", class: "plot", "aria-label": sentence(run, i) });
      entries.push({ canvas, spec: spec(run) });
      return el("figure", {}, el("figcaption", {}, el("strong", {}, lesson.pairLabel(i))), el("div", { class: "plot-box" }, canvas), el("p", { class: "small quiet" }, sentence(run, i)));
    }), runs.length > 0 ? el("div", { class: "scroll whole", tabindex: 0, role: "region", "aria-label": "Energy as a table" }, table(runs)) : null);
    paint();
  }

  function paint() {
    if (!byId("energy-step").open) return;
    for (const { canvas, spec: drawn } of entries) lesson.plot.draw(lesson.plot.surface(canvas, HEIGHT), drawn, lesson.player.now);
  }

  function setUp() {
    state.on("runs words units pair", () => lesson.redraw(byId("energy"), refresh));
    byId("energy-step").addEventListener("toggle", refresh);
    lesson.palette.onChange(refresh);
    new ResizeObserver(paint).observe(byId("energy"));
  }

  return { setUp, repaint: paint, spec, sentence, HEIGHT };
})();
