"use strict";
// Set-ups like a drop as twenty dots: those caught stand at their values, those not caught apart at the edge, as crosses.
lesson.dots = (() => {
  const SVG = "http://www.w3.org/2000/svg";
  /** Part of the width that values take, %; the rest is for those not caught. */
  const ROOM = 80;
  const HEIGHT = 15;
  const RADIUS = 2.1;
  /** Dots in the same of these columns stand on each other. */
  const COLUMNS = 40;
  /** Crosses above each other. */
  const CROSSES = 3;

  function node(name, attributes, ...children) {
    const made = document.createElementNS(SVG, name);
    for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, String(value));
    made.append(...children);
    return made;
  }

  /** One measure of one run; value: that of this drop, a stroke, or not a number. Both runs on one scale. */
  function plot(like, value, index, scale) {
    const share = (v) => Math.max(0, Math.min(1, (v - scale.from) / (scale.to - scale.from)));
    const column = (v) => Math.round(COLUMNS * share(v));
    const heights = new Map();
    for (const dot of like.dots) heights.set(column(dot), (heights.get(column(dot)) || 0) + 1);
    const most = Math.max(1, ...heights.values());
    const rise = most > 1 ? Math.min(2 * RADIUS, (HEIGHT - 2 - 2 * RADIUS) / (most - 1)) : 0;
    const stacked = new Map();
    const dots = like.dots.map((dot) => {
      const at = column(dot);
      const under = stacked.get(at) || 0;
      stacked.set(at, under + 1);
      return node("circle", { cx: `${1 + ROOM * at / COLUMNS}%`, cy: HEIGHT - 1 - RADIUS - under * rise, r: RADIUS });
    });
    const crosses = Array.from({ length: like.missed }, (_, k) => node("svg", { x: `${ROOM + 5 + 2.2 * Math.floor(k / CROSSES)}%`, y: HEIGHT - 3.5 - 4.8 * (k % CROSSES), overflow: "visible" },
      node("path", { class: "missed", d: "M-1.8-1.8L1.8 1.8M-1.8 1.8L1.8-1.8" })));
    const edge = like.missed > 0 ? [node("line", { class: "edge", x1: `${ROOM + 3}%`, x2: `${ROOM + 3}%`, y1: 0, y2: HEIGHT })] : [];
    const here = Number.isFinite(value) ? [node("line", { class: "tick", x1: `${1 + ROOM * share(value)}%`, x2: `${1 + ROOM * share(value)}%`, y1: 0, y2: HEIGHT })] : [];
    return node("svg", { class: `dots ${index === 0 ? "first" : "second"}`, role: "img", "aria-label": like.says, height: HEIGHT },
      node("line", { class: "base", x1: 0, x2: `${ROOM + 2}%`, y1: HEIGHT - 0.5, y2: HEIGHT - 0.5 }), ...here, ...dots, ...edge, ...crosses);
  }

  return { plot };
})();
