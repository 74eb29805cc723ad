"use strict";
// What stands in the side view. Every part is drawn from the run's own numbers, in metres through the lens.
lesson.sceneparts = (() => {
  const { state } = lesson;
  const DASH = [6, 4];
  /** Marks on the rope, m apart: they show it moving. */
  const ROPE_MARK = 0.5;
  /** Height of a standing person in the picture, m. */
  const PERSON = 1.7;

  function path(ctx, lens, points, close) {
    ctx.beginPath();
    points.forEach(([x, z], i) => (i === 0 ? ctx.moveTo(lens.x(x), lens.z(z)) : ctx.lineTo(lens.x(x), lens.z(z))));
    if (close) ctx.closePath();
  }

  function site(ctx, lens, model, look, height) {
    const { pane } = lens;
    const y = lens.z(0);
    if (y < height) {
      ctx.fillStyle = look.groundFill;
      ctx.fillRect(pane.x, y, pane.w, height - y);
      ctx.strokeStyle = look.ground;
      ctx.lineWidth = 2;
      ctx.setLineDash([]);
      ctx.beginPath();
      ctx.moveTo(pane.x, y);
      ctx.lineTo(pane.x + pane.w, y);
      ctx.stroke();
      ctx.lineWidth = 1;
      ctx.beginPath();
      for (let x = pane.x; x < pane.x + pane.w + 10; x += 12) { ctx.moveTo(x, y); ctx.lineTo(x - 9, y + 9); }
      ctx.stroke();
    }
    for (const o of model.obstacles) {
      const x1 = lens.x(o.xFrom);
      const y1 = lens.z(o.zTo);
      const w = lens.x(o.xTo) - x1;
      ctx.fillStyle = look.obstacle;
      ctx.fillRect(x1, y1, w, lens.z(o.zFrom) - y1);
      ctx.strokeStyle = look.ground;
      ctx.lineWidth = 1.5;
      ctx.strokeRect(x1, y1, w, lens.z(o.zFrom) - y1);
      ctx.font = lesson.plot.SMALL;
      ctx.textAlign = "center";
      lesson.plot.halo(ctx, o.name, Math.min(x1 + (w / 2), pane.x + pane.w - (ctx.measureText(o.name).width / 2) - 6), y1 + 16, look.ink, look.obstacle);
    }
  }

  /** Deflection of the spar's axis at a height, from the nearest stations, m. */
  function bendAt(run, scene, height) {
    const { z } = run.model.spar;
    let k = z.findIndex((s) => s >= height);
    if (k < 0) k = z.length - 1;
    if (k === 0) return scene.spar[0];
    const part = (height - z[k - 1]) / ((z[k] - z[k - 1]) || 1);
    return scene.spar[k - 1] + (Math.min(1, part) * (scene.spar[k] - scene.spar[k - 1]));
  }

  function radiusAt(run, height) {
    const { z, radius } = run.model.spar;
    let k = z.findIndex((s) => s >= height);
    if (k < 0) k = z.length - 1;
    return radius[k];
  }

  function spar(ctx, lens, run, scene, look, bend, ghost) {
    const { z, radius } = run.model.spar;
    const sides = (w) => [...z.map((h, k) => [w(k) - radius[k], h]), ...z.map((h, k) => [w(k) + radius[k], h]).reverse()];
    if (!ghost) {
      path(ctx, lens, sides(() => 0), true);
      ctx.strokeStyle = look.woodEdge;
      ctx.lineWidth = 1;
      ctx.setLineDash([]);
      ctx.stroke();
    }
    path(ctx, lens, sides((k) => bend * scene.spar[k]), true);
    if (!ghost) { ctx.fillStyle = look.wood; ctx.fill(); }
    ctx.strokeStyle = look.spar;
    ctx.lineWidth = ghost ? 1.6 : 2.6;
    ctx.setLineDash(ghost ? DASH : []);
    ctx.stroke();
    ctx.setLineDash([]);
  }

  function outline(ctx, lens, points, colour, strength) {
    ctx.globalAlpha = strength;
    path(ctx, lens, points, true);
    ctx.strokeStyle = colour;
    ctx.lineWidth = 1.4;
    ctx.stroke();
    ctx.globalAlpha = 1;
  }

  function piece(ctx, lens, run, scene, look, ghost) {
    path(ctx, lens, scene.piece, true);
    if (!ghost) { ctx.fillStyle = look.pieceFill; ctx.fill(); }
    ctx.strokeStyle = ghost ? look.pieceText : look.piece;
    ctx.lineWidth = ghost ? 2 : 3;
    ctx.setLineDash(ghost ? DASH : []);
    ctx.stroke();
    ctx.setLineDash([]);
    ctx.fillStyle = look.pieceText;
    ctx.beginPath();
    ctx.arc(lens.x(scene.centre[0]), lens.z(scene.centre[1]), 2.5, 0, 7);
    ctx.fill();
  }

  /** Natural length of the load leg from the last moment it came taut: how much a slack rope hangs through. */
  function sag(run, scene, ring, reach) {
    if (scene.loadLeg > 1) return 0;
    const taut = run.events.find((e) => e.kind === "load_leg_taut");
    if (!taut) return 0.15;
    const then = lesson.frames.scene(run, taut.time);
    const length = Math.hypot(then.hitch[0] - then.ring[0], then.hitch[1] - then.ring[1]) + (scene.slip - then.slip);
    const spare = length - reach;
    return spare > 0 ? Math.min(Math.sqrt(0.375 * reach * spare) + (spare / 3), 1.2) : 0;
  }

  function loadLeg(ctx, lens, run, scene, ring, look, ghost) {
    const [x1, z1] = ring;
    const [x2, z2] = scene.hitch;
    const hang = sag(run, scene, ring, Math.hypot(x2 - x1, z2 - z1));
    ctx.strokeStyle = look.loadLeg;
    ctx.lineWidth = ghost ? 1.8 : 3;
    ctx.setLineDash(ghost ? DASH : []);
    ctx.beginPath();
    ctx.moveTo(lens.x(x1), lens.z(z1));
    ctx.quadraticCurveTo(lens.x((x1 + x2) / 2), lens.z(((z1 + z2) / 2) - (2 * hang)), lens.x(x2), lens.z(z2));
    ctx.stroke();
    ctx.setLineDash([]);
    ctx.fillStyle = look.loadLeg;
    ctx.fillRect(lens.x(x2) - 3.5, lens.z(z2) - 3.5, 7, 7);
  }

  function groundLeg(ctx, lens, run, scene, ring, look, ghost) {
    const { device } = run.model;
    const far = Math.hypot(ring[0] - device.x, ring[1] - device.z);
    ctx.strokeStyle = look.groundLeg;
    ctx.lineWidth = ghost ? 1.6 : 2.4;
    ctx.setLineDash(ghost ? [3, 4] : [9, 4]);
    path(ctx, lens, [[device.x, device.z], ring], false);
    ctx.stroke();
    ctx.setLineDash([]);
    if (ghost) return;
    const along = ((scene.run % ROPE_MARK) + ROPE_MARK) % ROPE_MARK;
    ctx.fillStyle = look.groundLeg;
    for (let d = along; d < far; d += ROPE_MARK) {
      const part = d / far;
      ctx.beginPath();
      ctx.arc(lens.x(device.x + (part * (ring[0] - device.x))), lens.z(device.z + (part * (ring[1] - device.z))), 3, 0, 7);
      ctx.fill();
    }
  }

  /** A ring, a block whose sheave turns with the rope, or a fork. Never drawn smaller than can be seen. */
  function riggingPoint(ctx, lens, run, scene, ring, look, ghost) {
    const { kind, bendDiameter, height } = run.model.riggingPoint;
    const radius = Math.max(6, (bendDiameter || 0.09) / 2 * lens.scale);
    const [x, y] = [lens.x(ring[0]), lens.z(ring[1])];
    const bark = lens.x((ring[0] > 0 ? 1 : -1) * radiusAt(run, height) + bendAt(run, scene, height));
    ctx.strokeStyle = look.riggingPoint;
    ctx.lineWidth = ghost ? 1.2 : 2;
    ctx.beginPath();
    ctx.moveTo(bark, y - (radius * 0.8));
    ctx.lineTo(x, y - (radius * 0.6));
    ctx.stroke();
    ctx.fillStyle = look.paper;
    if (kind === "natural-union") {
      ctx.lineWidth = ghost ? 3 : 6;
      ctx.strokeStyle = look.woodEdge;
      ctx.beginPath();
      ctx.moveTo(bark, y + radius);
      ctx.lineTo(x, y + 2);
      ctx.lineTo(x + (radius * 1.6), y - (radius * 2.4));
      ctx.stroke();
      return;
    }
    ctx.beginPath();
    ctx.arc(x, y, radius, 0, 7);
    ctx.fill();
    ctx.lineWidth = ghost ? 1.6 : (kind === "ring" ? 3.4 : 2.2);
    ctx.stroke();
    if (kind !== "block") return;
    const turn = scene.slip * lens.scale / radius;
    ctx.lineWidth = 1.5;
    ctx.beginPath();
    for (let spoke = 0; spoke < 3; spoke++) {
      const angle = turn + (spoke * Math.PI / 3);
      ctx.moveTo(x - (radius * Math.cos(angle)), y - (radius * Math.sin(angle)));
      ctx.lineTo(x + (radius * Math.cos(angle)), y + (radius * Math.sin(angle)));
    }
    ctx.stroke();
  }

  /** The bollard with its turns of rope; the marks on them creep with the rope. */
  function device(ctx, lens, run, scene, look, ghost) {
    if (ghost) return;
    const { x, z } = run.model.device;
    const wide = Math.max(14, 0.16 * lens.scale);
    const tall = Math.max(26, 0.34 * lens.scale);
    const [cx, cy] = [lens.x(x), lens.z(z)];
    ctx.fillStyle = look.metal;
    ctx.strokeStyle = look.ink;
    ctx.lineWidth = 1.5;
    ctx.fillRect(cx - (wide / 2), cy - (tall / 2), wide, tall);
    ctx.strokeRect(cx - (wide / 2), cy - (tall / 2), wide, tall);
    const turns = Number.isFinite(scene.wraps) ? scene.wraps : run.model.device.wraps;
    const pitch = Math.min(6, (tall - 6) / Math.max(1, turns + 0.5));
    ctx.strokeStyle = look.groundLeg;
    ctx.lineWidth = 3;
    for (let k = 0; k < turns - 1e-6; k++) {
      const part = Math.min(1, turns - k);
      const y = cy - (tall / 2) + 5 + (k * pitch);
      ctx.beginPath();
      ctx.moveTo(cx - (wide / 2) - 1, y);
      ctx.lineTo(cx - (wide / 2) - 1 + ((wide + 2) * part), y + (pitch * 0.4 * part));
      ctx.stroke();
    }
    const step = ((scene.run * 40) % 8) / 8;
    ctx.fillStyle = look.paper;
    for (let k = 0; k + 0.5 < turns; k++) ctx.fillRect(cx - (wide / 2) + (step * wide), cy - (tall / 2) + 4 + (k * pitch), 3, 3);
    ctx.strokeStyle = look.hand;
    ctx.lineWidth = 2.4;
    const worker = workerX(run);
    const side = worker > x ? 1 : -1;
    ctx.beginPath();
    ctx.moveTo(cx + (side * wide / 2), cy + (tall / 2) - 5);
    ctx.quadraticCurveTo(cx + (side * wide), Math.min(lens.z(0), cy + (0.6 * lens.scale)), lens.x(worker - (side * 0.2)), lens.z(0.95));
    ctx.stroke();
    person(ctx, lens, worker, 0, look.hand, look, -0.2 * side);
  }

  /** Room between a person on the ground and the piece, the spar or an obstacle, m. */
  const CLEAR = 0.6;
  /** A worker farther off on the side away from the fall would leave the drop small in its picture, m. */
  const FARTHEST = 6;
  /** A step past what stands in the way, m: no rounding leaves him in it. */
  const PAST = 0.01;

  /** How far the piece reaches to both sides, m from the spar's axis, in all that is computed of a run. */
  function reachOf(run) {
    const times = run.curves.time_s;
    const reach = { low: 0, high: 0 };
    for (let i = 0; i < times.length; i += 4) {
      for (const [x] of lesson.frames.scene(run, times[i]).piece) {
        reach.low = Math.min(reach.low, x);
        reach.high = Math.max(reach.high, x);
      }
    }
    return reach;
  }

  const workers = new WeakMap();

  /**
   * Where the ground worker is drawn. Nothing computes where he stands: out of the piece's way, on the side away from the fall, and clear of what
   * stands there; beyond the piece's reach where that side is full.
   */
  function workerX(run) {
    if (!workers.has(run.curves)) workers.set(run.curves, placeOf(run));
    return workers.get(run.curves);
  }

  function placeOf(run) {
    const reach = reachOf(run);
    const things = run.model.obstacles.filter((o) => o.zFrom < PERSON && o.zTo > 0);
    const beside = (from, way) => {
      let x = from;
      for (let blocked = true; blocked;) {
        const thing = things.find((o) => o.xFrom < x + CLEAR && o.xTo > x - CLEAR);
        blocked = Boolean(thing);
        if (blocked) x = way < 0 ? thing.xFrom - CLEAR - PAST : thing.xTo + CLEAR + PAST;
      }
      return x;
    };
    const away = beside(Math.min(-radiusAt(run, 1) - 1.1, reach.low - CLEAR), -1);
    const beyond = beside(Math.max(run.model.device.x + 1.15, reach.high + CLEAR), 1);
    return -away <= FARTHEST || -away <= beyond ? away : beyond;
  }

  /** A person by head, back, arms and legs; feet at a point. */
  function person(ctx, lens, x, z, colour, look, reach) {
    const at = (dx, dz) => [lens.x(x + dx), lens.z(z + dz)];
    ctx.strokeStyle = colour;
    ctx.fillStyle = colour;
    ctx.lineWidth = Math.max(2.4, 0.09 * lens.scale);
    ctx.lineCap = "round";
    ctx.beginPath();
    for (const [a, b] of [[[-0.12, 0], [0, 0.85]], [[0.14, 0], [0, 0.85]], [[0, 0.85], [0.02, 1.35]], [[0.02, 1.28], [reach, 0.98]]]) {
      ctx.moveTo(...at(...a));
      ctx.lineTo(...at(...b));
    }
    ctx.stroke();
    ctx.lineCap = "butt";
    ctx.beginPath();
    ctx.arc(...at(0.02, PERSON - 0.14), Math.max(3, 0.13 * lens.scale), 0, 7);
    ctx.fill();
  }

  /** The climber stands on the side away from the fall and moves with the spar. */
  function climber(ctx, lens, run, scene, look, shift, ghost) {
    const { climberHeight } = run.model;
    if (climberHeight === null || ghost) return;
    const x = bendAt(run, scene, climberHeight) + shift(climberHeight) - radiusAt(run, climberHeight) - 0.22;
    person(ctx, lens, x, climberHeight, look.climber, look, 0.24);
    ctx.strokeStyle = look.climber;
    ctx.lineWidth = 1.4;
    ctx.beginPath();
    ctx.moveTo(lens.x(x), lens.z(climberHeight + 0.85));
    ctx.lineTo(lens.x(x + 0.22), lens.z(climberHeight + 0.95));
    ctx.stroke();
  }

  function arrow(ctx, lens, ring, [fx, fz], perNewton, look, ghost) {
    const size = Math.hypot(fx, fz) * perNewton;
    if (!(size > 4)) return;
    const [x, y] = [lens.x(ring[0]), lens.z(ring[1])];
    const [tx, ty] = [x + (fx * perNewton), y - (fz * perNewton)];
    const angle = Math.atan2(ty - y, tx - x);
    const head = Math.min(11, size * 0.6);
    ctx.strokeStyle = look.riggingPoint;
    ctx.fillStyle = look.riggingPoint;
    ctx.lineWidth = ghost ? 1.6 : 3;
    ctx.setLineDash(ghost ? DASH : []);
    ctx.beginPath();
    ctx.moveTo(x, y);
    ctx.lineTo(tx - (head * 0.7 * Math.cos(angle)), ty - (head * 0.7 * Math.sin(angle)));
    ctx.stroke();
    ctx.setLineDash([]);
    ctx.beginPath();
    ctx.moveTo(tx, ty);
    ctx.lineTo(tx - (head * Math.cos(angle - 0.4)), ty - (head * Math.sin(angle - 0.4)));
    ctx.lineTo(tx - (head * Math.cos(angle + 0.4)), ty - (head * Math.sin(angle + 0.4)));
    ctx.closePath();
    ctx.fill();
  }

  /** Right edge of what may stand beside the climber, and under his feet, px. */
  function roomForNames(lens, run) {
    const { riggingPoint, climberHeight } = run.model;
    const side = (height) => lens.x(-radiusAt(run, height));
    if (climberHeight === null) return { ring: side(riggingPoint.height) - 8, feet: null };
    const beside = riggingPoint.height > climberHeight - 0.2 && riggingPoint.height < climberHeight + PERSON + 0.3;
    const stature = lens.x(-radiusAt(run, climberHeight) - 0.22 - 0.14) - Math.max(2.4, 0.09 * lens.scale) - 6;
    return { ring: beside ? stature : side(riggingPoint.height) - 8, feet: side(climberHeight) - 6 };
  }

  /** Whether the longest names have room there. */
  function namesFit(ctx, lens, runs) {
    ctx.font = lesson.plot.SMALL;
    const widest = (text) => ctx.measureText(text).width + 4 + SWAY;
    return runs.every((run) => {
      const { ring, feet } = roomForNames(lens, run);
      const left = lens.pane.x + 3;
      return ring - left > widest(`${lesson.plain(run.model.riggingPoint.kind)} ${state.shownNumber(-88.8e3, "force")}`)
        && (feet === null || feet - left > widest(`spar ${sway(0.888)}`));
    });
  }

  /** How far the spar stands from where it stood, and on which side: forward is toward the fall. */
  function sway(moved) {
    const words = state.shownNumber(Math.abs(moved), "smallLength");
    return Math.abs(moved) < state.unseen("smallLength") ? words : `${words} ${moved < 0 ? "back" : "forward"}`;
  }

  /** Names follow the spar's sway by this much at most before they would touch it, px. */
  const SWAY = 6;
  /** Said at the worker: where a person stands decides more than any number here. */
  const NOT_COMPUTED = "place not computed";
  /** Height of a line of names, px. */
  const LINE = 16;

  /** Names and numbers at what they belong to; rigging point and spar over the picture, from a height on, where there is no room beside the climber. */
  function names(ctx, lens, run, scene, ring, look, bend, over) {
    ctx.font = lesson.plot.SMALL;
    const put = (text, x, y, colour, align) => {
      const wide = ctx.measureText(text).width;
      const left = align === "right" ? x - wide : align === "center" ? x - (wide / 2) : x;
      ctx.textAlign = "left";
      lesson.plot.halo(ctx, text, Math.max(lens.pane.x + 3, Math.min(left, lens.pane.x + lens.pane.w - wide - 3)), y, colour, look.paper);
    };
    const { model } = run;
    const force = Math.hypot(...scene.force);
    const { climberHeight } = model;
    const room = roomForNames(lens, run);
    const atRing = `${lesson.plain(model.riggingPoint.kind)}${force > 50 ? ` ${state.shownNumber(force, "force")}` : ""}`;
    const atFeet = scene.climber !== null && climberHeight !== null ? `spar ${sway(scene.climber)}` : "";
    if (over === null) {
      put(atRing, room.ring, lens.z(ring[1]) - 6, look.ink, "right");
      if (atFeet) put(atFeet, room.feet, lens.z(climberHeight) + 14, look.climberText, "right");
    } else {
      put(atRing, lens.pane.x + 8, over + LINE - 2, look.ink, "left");
      if (atFeet) put(atFeet, lens.pane.x + 8, over + (2 * LINE) - 2, look.climberText, "left");
    }
    const turns = Number.isFinite(scene.wraps) ? scene.wraps : model.device.wraps;
    const low = lens.z(model.device.z) + 4;
    if (low < lens.pane.y + lens.pane.h) {
      const behind = workerX(run) > model.device.x;
      put(`${Number(turns.toFixed(2))} ${turns === 1 ? "wrap" : "wraps"}`, behind ? lens.x(Math.min(model.device.x, -radiusAt(run, model.device.z))) - 8 : lens.x(model.device.x) + 14, low, look.groundLegText, behind ? "right" : "left");
    }
    const foot = lens.pane.y + lens.pane.h - 3;
    let under = lens.z(0) + LINE - 4;
    if (low < lens.pane.y + lens.pane.h && Number.isFinite(scene.hand)) {
      const hand = `hand ${state.shownNumber(scene.hand, "force")}`;
      // Over the worker, and clear of the rope where he stands close to it; under his feet where the climber's are close above him.
      const crowded = climberHeight !== null && under <= foot && lens.z(climberHeight) + (over === null ? LINE : 4) > lens.z(PERSON) - 8 - LINE;
      const both = `${hand}, ${NOT_COMPUTED}`;
      const text = crowded && ctx.measureText(both).width < lens.pane.w - 6 ? both : hand;
      const middle = lens.x(workerX(run));
      const half = ctx.measureText(text).width / 2;
      const clear = workerX(run) > model.device.x ? Math.max(middle, lens.x(model.device.x) + 9 + half) : Math.min(middle, lens.x(-radiusAt(run, 1)) - 9 - half);
      put(text, clear, crowded ? under : lens.z(PERSON) - 8, look.handText, "center");
      if (crowded) under = Infinity;
    }
    if (under <= foot) put(NOT_COMPUTED, lens.x(workerX(run)), under, look.handText, "center");
    if (bend > 1) {
      const beside = lens.x(radiusAt(run, model.spar.height / 2)) + 10;
      const long = `bend drawn ${bend} times`;
      put(beside + ctx.measureText(long).width < lens.pane.x + lens.pane.w ? long : `bend \u00d7${bend}`, beside, lens.z(model.spar.height * 0.45), look.sparText, "left");
    }
  }

  /** Under the names, from a height on. */
  function scaleBar(ctx, lens, look, over) {
    const us = state.units === "us";
    const metres = us ? (lens.scale > 90 ? 0.3048 : 0.9144) : (lens.scale > 160 ? 0.5 : 1);
    const text = us ? (metres < 0.5 ? "1 ft" : "3 ft") : `${metres} m`;
    const x2 = lens.pane.x + lens.pane.w - 10;
    const x1 = x2 - (metres * lens.scale);
    const y = over + 14;
    ctx.strokeStyle = look.ink;
    ctx.lineWidth = 1.5;
    ctx.beginPath();
    ctx.moveTo(x1, y - 4); ctx.lineTo(x1, y + 4); ctx.moveTo(x1, y); ctx.lineTo(x2, y); ctx.moveTo(x2, y - 4); ctx.lineTo(x2, y + 4);
    ctx.stroke();
    ctx.font = lesson.plot.SMALL;
    ctx.textAlign = "right";
    lesson.plot.halo(ctx, text, x1 - 5, y + 4, look.ink, look.paper);
  }

  return { site, spar, bendAt, outline, piece, loadLeg, groundLeg, riggingPoint, device, climber, arrow, names, namesFit, scaleBar, sway, workerX, PERSON, LINE };
})();
