"use strict";
// A quantity keeps its colour in every picture. The hues are the set of M. Okabe and K. Ito, "Color Universal Design" (2008).
// Nothing hangs on colour alone: the first of two is heavy and whole, the second lighter and dashed.
lesson.palette = (() => {
  const hues = {
    loadLeg: "#0072B2", groundLeg: "#D55E00", hand: "#E69F00", spar: "#009E73", climber: "#CC79A7", piece: "#56B4E9",
  };
  const light = {
    ...hues, riggingPoint: "#000000", paper: "#ffffff", ink: "#1a1a1a", quiet: "#505050", grid: "#e2e2e2", event: "#8a8a8a",
    ground: "#7c6c58", groundFill: "#efeae2", obstacle: "#ddd6cb", wood: "#f4f1ec", woodEdge: "#595959", metal: "#dcdcdc", pieceFill: "#d9edf9",
    loadLegText: "#0072B2", groundLegText: "#a94a00", handText: "#8f6200", climberText: "#9c4478", pieceText: "#1f6e9c", sparText: "#00674b",
    phases: { hinged: "#efebe0", free: "#ffffff", taut: "#e3eef6", running: "#fbefe2", none: "#f2f2f2" },
  };
  const dark = {
    ...hues, loadLeg: "#3596d6", riggingPoint: "#ffffff", paper: "#14171a", ink: "#f2f2f2", quiet: "#b9bec3", grid: "#30363b", event: "#7d858c",
    ground: "#a8977f", groundFill: "#2a2620", obstacle: "#3d372f", wood: "#26292b", woodEdge: "#a5a9ac", metal: "#4a4f53", pieceFill: "#1e3644",
    loadLegText: "#5db4ea", groundLegText: "#ff9a55", handText: "#f0b43c", climberText: "#e3a3c6", pieceText: "#7cc6f0", sparText: "#37c89c",
    phases: { hinged: "#23211b", free: "#14171a", taut: "#18242d", running: "#2b2117", none: "#1d2022" },
  };
  const wish = window.matchMedia("(prefers-color-scheme: dark)");
  let forced = null;
  return {
    get now() { return forced || (wish.matches ? dark : light); },
    light,
    /** Draws with the light colours, as on paper. */
    onPaper(work) {
      forced = light;
      try { return work(); } finally { forced = null; }
    },
    onChange: (listener) => wish.addEventListener("change", listener),
  };
})();
