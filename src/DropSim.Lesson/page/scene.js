"use strict";
// The drop from the side, to scale: the same metre in x and z, one scale and one clock for both set-ups.
lesson.scene = (() => {
  const { byId, time } = lesson;
  const { state } = lesson;

  const view = { near: false, overlaid: false, bend: 1 };
  /** Outlines of the piece that stay behind it, s apart. */
  const TRAIL_STEP = 0.1;
  /** Longest force arrow as part of the picture's height. */
  const LONGEST_ARROW = 0.3;
  /** The least height of the picture, px; the style sheet gives it no less. */
  const LEAST = 150;
  /** From this height on a picture has room for words under the ground, px. */
  const ROOMY = 240;
  /** Height of the names of the runs over a picture, px. */
  const HEADING = 24;

  /** What all pictures must hold, m. */
  function bounds(runs) {
    const whole = { x1: -1.6, x2: 1.6, z1: -0.5, z2: 1 };
    for (const run of runs) {
      const { model, curves } = run;
      const reach = Math.max(...model.pieceOutline.map(([eta, xi]) => Math.hypot(eta, xi)));
      const times = curves.time_s;
      const clock = lesson.frames.clock(runs);
      for (let i = 0; i < times.length; i += 8) {
        if (times[i] > clock.to) break;
        whole.x1 = Math.min(whole.x1, curves.piece_x_m[i] - reach);
        whole.x2 = Math.max(whole.x2, curves.piece_x_m[i] + reach + 0.4);
        whole.z2 = Math.max(whole.z2, curves.piece_z_m[i] + reach);
      }
      if (model.climberHeight !== null) whole.z2 = Math.max(whole.z2, model.climberHeight + lesson.sceneparts.PERSON + 0.2);
      whole.x1 = Math.min(whole.x1, model.device.x - 0.8);
      whole.x2 = Math.max(whole.x2, model.device.x + 0.8);
      const worker = lesson.sceneparts.workerX(run);
      whole.x1 = Math.min(whole.x1, worker - 0.6);
      whole.x2 = Math.max(whole.x2, worker + 0.6);
      for (const o of model.obstacles) {
        whole.x1 = Math.min(whole.x1, Math.max(o.xFrom, -6));
        whole.x2 = Math.max(whole.x2, Math.min(o.xTo, 8));
      }
    }
    return whole;
  }

  function closeUp(runs) {
    const { model } = runs[0];
    const size = Math.min(2.2, Math.max(...runs.map((r) => r.model.piece.length)));
    const top = Math.max(...runs.map((r) => r.model.spar.height)) + (size * 0.9);
    const deep = Math.max(2.2 * size, 2);
    return { x1: -Math.max(1.1, size * 0.7), x2: Math.max(1.6, size * 1.4), z1: Math.max(-0.4, model.riggingPoint.height - deep), z2: top };
  }

  /** Metres to pixels for one pane. */
  function camera(pane, box, near) {
    // Under the ground there is room for a line of words, but on a phone.
    const strip = near || pane.h < ROOMY ? 0 : lesson.sceneparts.LINE;
    const scale = Math.min(pane.w / (box.x2 - box.x1), pane.h / (box.z2 - box.z1), (pane.h - strip) / box.z2);
    const ox = pane.x + ((pane.w - (scale * (box.x2 - box.x1))) / 2) - (box.x1 * scale);
    const oz = near ? pane.y + (box.z2 * scale) : pane.y + pane.h - Math.max(strip, -box.z1 * scale);
    return { scale, x: (m) => ox + (m * scale), z: (m) => oz - (m * scale), pane };
  }

  /** N in one pixel, from the largest force of all runs on show, so that arrows may be compared. */
  function forceScale(runs, height) {
    const most = Math.max(1, ...runs.map((r) => (state.measure(r, "rigging_point_force") || {}).value || 0));
    return (LONGEST_ARROW * height) / most;
  }

  function draw(ctx, width, height, now, options = {}) {
    const look = lesson.palette.now;
    ctx.fillStyle = look.paper;
    ctx.fillRect(0, 0, width, height);
    const runs = options.runs || state.shown;
    if (runs.length === 0) return;
    const covered = lesson.predict.covered;
    const at = covered ? Math.min(now, 0) : now;
    const overlaid = (options.overlaid ?? view.overlaid) && runs.length > 1;
    const split = !overlaid && runs.length > 1;
    const near = options.near ?? view.near;
    const box = near ? closeUp(runs) : bounds(runs);
    const paneWidth = split ? width / 2 : width;
    // Where there is no room for names beside the climber they stand over the picture, which then begins lower.
    const fits = (y) => lesson.sceneparts.namesFit(ctx, camera({ x: 0, y, w: paneWidth, h: height - y }, box, near), runs);
    const over = !fits(HEADING);
    const y = over ? HEADING + (2 * lesson.sceneparts.LINE) : HEADING;
    const panes = split
      ? runs.map((run, i) => ({ x: i * paneWidth, y, w: paneWidth, h: height - y, runs: [[run, i]] }))
      : [{ x: 0, y, w: width, h: height - y, runs: runs.map((run, i) => [run, i]) }];
    const perNewton = forceScale(runs, height);
    for (const pane of panes) {
      ctx.save();
      ctx.beginPath();
      ctx.rect(pane.x, 0, pane.w, height);
      ctx.clip();
      const lens = camera(pane, box, near);
      const parts = lesson.sceneparts;
      parts.site(ctx, lens, pane.runs[0][0].model, look, height);
      const names = headings(ctx, pane, at);
      const under = HEADING + (names.some((n) => n.below) ? parts.LINE : 0);
      for (const [run, index] of [...pane.runs].reverse()) drop(ctx, lens, run, index, at, look, { perNewton, overlaid, covered, over: over ? under : null });
      heading(ctx, names, look);
      parts.scaleBar(ctx, lens, look, under);
      ctx.restore();
    }
    if (panes.length > 1) {
      ctx.fillStyle = look.grid;
      ctx.fillRect((width / 2) - 0.5, 0, 1, height);
    }
  }

  /** Names over a pane: where each stands, and what goes on a second line where one has no room for all it says. */
  function headings(ctx, pane, at) {
    ctx.font = lesson.plot.FONT.replace("13px", "600 14px");
    let x = pane.x + 8;
    return pane.runs.map(([run, index]) => {
      const left = x;
      const label = lesson.pairLabel(index);
      const fits = (text) => left + 28 + ctx.measureText(text).width < pane.x + pane.w;
      const over = at > lesson.frames.endOf(run) + 1e-9;
      const [whole, short] = over ? [`${label} (ended ${time(lesson.frames.endOf(run))})`, `${label} (ended)`] : [label, label];
      const text = fits(whole) ? whole : fits(short) ? short : label;
      x += 44 + ctx.measureText(text).width;
      return { left, index, text, below: over && text === label ? "(ended)" : "" };
    });
  }

  function heading(ctx, names, look) {
    ctx.textBaseline = "alphabetic";
    ctx.textAlign = "left";
    ctx.font = lesson.plot.FONT.replace("13px", "600 14px");
    for (const { left, index, text, below } of names) {
      ctx.strokeStyle = look.ink;
      ctx.lineWidth = index === 0 ? 3.4 : 2;
      ctx.setLineDash(index === 0 ? [] : [5, 3]);
      ctx.beginPath();
      ctx.moveTo(left, 15);
      ctx.lineTo(left + 22, 15);
      ctx.stroke();
      ctx.setLineDash([]);
      lesson.plot.halo(ctx, text, left + 28, 20, look.ink, look.paper);
      if (below) lesson.plot.halo(ctx, below, left + 28, 38, look.ink, look.paper);
    }
  }

  function drop(ctx, lens, run, index, at, look, { perNewton, overlaid, covered, over }) {
    const { frames, sceneparts: parts } = lesson;
    const scene = frames.scene(run, at);
    const ghost = overlaid && index > 0;
    const shift = (height) => (view.bend - 1) * parts.bendAt(run, scene, height);
    const ring = [scene.ring[0] + shift(run.model.riggingPoint.height), scene.ring[1]];
    parts.spar(ctx, lens, run, scene, look, view.bend, ghost);
    if (!covered) {
      for (let t = Math.ceil(frames.startOf(run) / TRAIL_STEP) * TRAIL_STEP; t < at - 0.03 && !overlaid; t += TRAIL_STEP) {
        if (t < Math.max(frames.startOf(run), -0.4) || at - t > 1.2) continue;
        parts.outline(ctx, lens, frames.scene(run, t).piece, look.piece, 0.15 + (0.5 * Math.max(0, 1 - ((at - t) / 1.2))));
      }
    }
    parts.climber(ctx, lens, run, scene, look, shift, ghost);
    parts.groundLeg(ctx, lens, run, scene, ring, look, ghost);
    parts.device(ctx, lens, run, scene, look, ghost);
    parts.piece(ctx, lens, run, scene, look, ghost);
    parts.loadLeg(ctx, lens, run, scene, ring, look, ghost);
    parts.riggingPoint(ctx, lens, run, scene, ring, look, ghost);
    parts.arrow(ctx, lens, ring, scene.force, perNewton, look, ghost);
    if (!ghost) parts.names(ctx, lens, run, scene, ring, look, view.bend, over);
  }

  /** Words for the picture as it stands; not read out while it moves. */
  function words(now) {
    const runs = state.shown;
    if (runs.length === 0) return "Side view of the drop, being computed.";
    if (lesson.predict.covered) return "Side view: the piece stands on the spar, the result is covered until you have predicted it.";
    return `Side view to scale at ${time(now)}. ${runs.map((run, i) => {
      const s = lesson.frames.scene(run, now);
      const phase = run.phases.find((p) => now >= p.from && now < p.to);
      return `${lesson.pairLabel(i)}: ${s.over ? "the run has ended" : phase ? phase.label : "at rest"}; the piece leans ${Math.round(s.lean * 180 / Math.PI)} degrees, its middle ${state.shownNumber(s.centre[1], "length")} above the ground and ${state.shownNumber(Math.abs(s.centre[0]), "length")} ${s.centre[0] < 0 ? "behind" : "from"} the spar's middle; the rigging point carries ${state.shownNumber(Math.hypot(...s.force), "force")}; ${state.shownNumber(s.run, "length")} of rope has run${s.climber === null ? "" : `; the spar has moved ${lesson.sceneparts.sway(s.climber)} at the climber's feet`}`;
    }).join(". ")}. Where the ground worker stands is not computed.`;
  }

  function paint() {
    const canvas = byId("scene");
    const height = canvas.parentElement.clientHeight;
    const { ctx, width } = lesson.plot.surface(canvas, Math.max(LEAST, height));
    draw(ctx, width, Math.max(LEAST, height), lesson.player.now);
  }

  function describe() {
    const text = words(lesson.player.now);
    byId("scene").setAttribute("aria-label", `${text} Keys: space plays and pauses, arrows step, Home and End go to the ends.`);
  }

  /** The column of the picture stops at the screen's upper edge, or, where it is taller than the screen, when its lower end is seen. */
  function stopAt() {
    const look = byId("look");
    look.style.top = `${Math.min(0, window.innerHeight - look.offsetHeight)}px`;
  }

  function setUp() {
    state.on("runs draws words units pair cover", () => { paint(); describe(); });
    lesson.palette.onChange(paint);
    new ResizeObserver(paint).observe(byId("scene-figure"));
    new ResizeObserver(stopAt).observe(byId("look"));
    window.addEventListener("resize", stopAt);
    byId("scene").addEventListener("keydown", (event) => lesson.player.key(event));
  }

  return { setUp, paint, describe, draw, words, view };
})();
