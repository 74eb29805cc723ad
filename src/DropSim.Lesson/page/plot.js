"use strict";
// One panel of curves on a canvas: axes, bands, events, lines, peaks, dots at the right edge, the cursor of the clock.
lesson.plot = (() => {
  const FONT = "13px system-ui, -apple-system, 'Segoe UI', Roboto, 'Noto Sans', sans-serif";
  const SMALL = FONT.replace("13px", "12px");
  const MARGIN = { left: 52, right: 66, top: 22, bottom: 26 };

  /** Round steps: 1, 2 or 5 times a power of ten. */
  function step(span, most) {
    const rough = span / Math.max(1, most);
    const power = 10 ** Math.floor(Math.log10(rough));
    return [1, 2, 5, 10].map((m) => m * power).find((s) => s >= rough * 0.999);
  }

  function range(low, high, includeZero) {
    let [from, to] = includeZero ? [Math.min(0, low), Math.max(0, high)] : [low, high];
    if (!(to > from)) to = from + 1;
    const pad = (to - from) * 0.12;
    return { from: from < 0 ? from - pad : from, to: to + pad };
  }

  /** Sets the canvas to its size on screen in real pixels; answers the drawing surface in CSS pixels. */
  function surface(canvas, height) {
    const width = Math.max(240, Math.floor(canvas.parentElement.clientWidth));
    const scale = window.devicePixelRatio || 1;
    if (canvas.width !== Math.round(width * scale) || canvas.height !== Math.round(height * scale)) {
      canvas.width = Math.round(width * scale);
      canvas.height = Math.round(height * scale);
      canvas.style.height = `${height}px`;
    }
    const ctx = canvas.getContext("2d");
    ctx.setTransform(scale, 0, 0, scale, 0, 0);
    return { ctx, width, height };
  }

  function halo(ctx, text, x, y, colour, paper) {
    ctx.lineJoin = "round";
    ctx.lineWidth = 4;
    ctx.strokeStyle = paper;
    ctx.strokeText(text, x, y);
    ctx.fillStyle = colour;
    ctx.fillText(text, x, y);
  }

  /** Where a panel's drawing area lies, so that a pointer can be read as a time. */
  function frame(width, height) {
    const left = width < 460 ? 42 : MARGIN.left;
    return { x: left, y: MARGIN.top, w: width - left - (width < 460 ? 52 : MARGIN.right), h: height - MARGIN.top - MARGIN.bottom };
  }

  /**
   * spec: window {from, to}; low, high in shown units; zero; unit; bands, events;
   * lines [{run, column, factor, colour, weight, dash}]; peaks [{time, value, text, colour}];
   * spreads [{dots, colour, open}]; areas [{times, lower, upper, fill, name, ink}]; levels [{value, text}].
   */
  function draw(surfaceOf, spec, cursor) {
    const { ctx, width, height } = surfaceOf;
    const look = lesson.palette.now;
    const box = frame(width, height);
    const { from, to } = spec.window;
    const scale = range(spec.low, spec.high, spec.zero !== false);
    if (spec.exact) { scale.from = spec.low; scale.to = spec.high; }
    const px = (t) => box.x + ((t - from) / (to - from) * box.w);
    const py = (v) => box.y + box.h - ((v - scale.from) / (scale.to - scale.from) * box.h);
    ctx.fillStyle = look.paper;
    ctx.fillRect(0, 0, width, height);
    ctx.font = SMALL;
    ctx.textBaseline = "alphabetic";
    bands(ctx, spec, box, px, look);
    grid(ctx, scale, box, px, py, from, to, look, spec);
    ctx.save();
    ctx.beginPath();
    ctx.rect(box.x, box.y, box.w, box.h);
    ctx.clip();
    for (const area of spec.areas || []) shade(ctx, area, px, py);
    for (const level of spec.levels || []) rule(ctx, level, box, py, look);
    for (const line of spec.lines || []) trace(ctx, line, px, py, from, to);
    ctx.restore();
    name(ctx, spec.areas || [], px, py);
    for (const peak of spec.peaks || []) mark(ctx, peak, box, px, py, look);
    (spec.spreads || []).forEach((r, i) => dots(ctx, r, box, py, look, i));
    if (Number.isFinite(cursor)) {
      ctx.strokeStyle = look.ink;
      ctx.lineWidth = 1.5;
      ctx.setLineDash([]);
      ctx.beginPath();
      ctx.moveTo(px(cursor), box.y - 4);
      ctx.lineTo(px(cursor), box.y + box.h + 4);
      ctx.stroke();
    }
    return box;
  }

  function bands(ctx, spec, box, px, look) {
    ctx.textAlign = "left";
    let free = box.x;
    for (const band of spec.bands || []) {
      const x1 = Math.max(box.x, px(band.from));
      const x2 = Math.min(box.x + box.w, px(band.to));
      if (x2 <= x1) continue;
      ctx.fillStyle = look.phases[band.name] || look.phases.none;
      ctx.fillRect(x1, box.y, x2 - x1, box.h);
      const wide = ctx.measureText(band.label).width;
      if (x2 - x1 > wide + 6 && x1 >= free) {
        ctx.fillStyle = look.quiet;
        ctx.fillText(band.label, x1 + 3, box.y - 6);
        free = x1 + wide + 6;
      }
    }
  }

  function grid(ctx, scale, box, px, py, from, to, look, spec) {
    ctx.lineWidth = 1;
    ctx.setLineDash([]);
    // An axis with zero alone, or with numbers on one side of it, says little of size: finer, until three lines are named.
    const most = Math.max(3, Math.floor(box.h / 30));
    const rise = [most, 2 * most, 4 * most].map((n) => step(scale.to - scale.from, n)).find((s) => Math.floor(scale.to / s) >= Math.ceil(scale.from / s) + 2) || step(scale.to - scale.from, most);
    ctx.textAlign = "right";
    for (let k = Math.ceil(scale.from / rise); k * rise <= scale.to + 1e-9; k++) {
      const y = Math.round(py(k * rise)) + 0.5;
      ctx.strokeStyle = k === 0 ? look.event : look.grid;
      ctx.beginPath();
      ctx.moveTo(box.x, y);
      ctx.lineTo(box.x + box.w, y);
      ctx.stroke();
      ctx.fillStyle = look.quiet;
      ctx.fillText(tidy(k * rise, rise), box.x - 6, y + 4);
    }
    const run = step(to - from, Math.max(2, Math.floor(box.w / 70)));
    ctx.textAlign = "center";
    for (let k = Math.ceil(from / run); k * run <= to + 1e-9; k++) {
      const x = Math.round(px(k * run)) + 0.5;
      ctx.strokeStyle = look.grid;
      ctx.beginPath();
      ctx.moveTo(x, box.y);
      ctx.lineTo(x, box.y + box.h + 4);
      ctx.stroke();
      ctx.fillStyle = look.quiet;
      ctx.fillText(tidy(k * run, run), x, box.y + box.h + 18);
    }
    ctx.textAlign = "left";
    ctx.fillText("s", box.x + box.w + 16, box.y + box.h + 18);
    ctx.fillText(spec.unit || "", 4, box.y - 8);
    for (const event of spec.events || []) {
      ctx.strokeStyle = look.event;
      ctx.setLineDash([2, 3]);
      ctx.beginPath();
      ctx.moveTo(px(event.time), box.y);
      ctx.lineTo(px(event.time), box.y + box.h);
      ctx.stroke();
    }
    ctx.setLineDash([]);
  }

  function tidy(value, rise) {
    const decimals = Math.max(0, -Math.floor(Math.log10(rise) + 1e-9));
    const text = value.toFixed(Math.min(decimals, 6));
    return Number(text) === 0 ? "0" : text;
  }

  function trace(ctx, line, px, py, from, to) {
    const times = line.run.curves.time_s;
    const values = line.run.curves[line.column];
    if (!values) return;
    ctx.strokeStyle = line.colour;
    ctx.lineWidth = line.weight;
    ctx.setLineDash(line.dash || []);
    ctx.lineJoin = "round";
    ctx.beginPath();
    let pen = false;
    const last = Math.min(times.length - 1, lesson.frames.rowAt(times, to) + 1);
    for (let i = lesson.frames.rowAt(times, from); i <= last; i++) {
      if (!Number.isFinite(values[i])) { pen = false; continue; }
      const x = px(times[i]);
      const y = py(values[i] * line.factor);
      if (pen) ctx.lineTo(x, y);
      else ctx.moveTo(x, y);
      pen = true;
    }
    ctx.stroke();
    ctx.setLineDash([]);
  }

  function shade(ctx, area, px, py) {
    ctx.fillStyle = area.fill;
    ctx.beginPath();
    area.times.forEach((t, i) => (i === 0 ? ctx.moveTo(px(t), py(area.upper[i])) : ctx.lineTo(px(t), py(area.upper[i]))));
    for (let i = area.times.length - 1; i >= 0; i--) ctx.lineTo(px(area.times[i]), py(area.lower[i]));
    ctx.closePath();
    ctx.fill();
  }

  /** Least height of an area that is named, px: a line of text. */
  const NAMED = 15;

  /** Names each area where it is thickest: inside it over the whole name, or, where it is nowhere so wide, at least clear of the other names. */
  function name(ctx, areas, px, py) {
    ctx.font = SMALL;
    const named = areas.map((area) => ({ area, half: ctx.measureText(area.name).width / 2 }));
    const placed = named.map(({ area, half }) => place(area, half, half, px, py, []));
    named.forEach(({ area, half }, k) => { placed[k] = placed[k] || place(area, half, 0, px, py, placed); });
    ctx.textAlign = "center";
    placed.forEach((at, k) => {
      if (!at) return;
      halo(ctx, areas[k].name, at.x, at.y + 4, areas[k].ink, areas[k].fill);
    });
  }

  /** The thickest place for a name of half a width, with room so far to both sides; null where there is none, or other names stand in the way. */
  function place(area, half, room, px, py, others) {
    let best = null;
    const [from, to] = [area.times[0], area.times.at(-1)];
    area.times.forEach((t, i) => {
      const x = px(t);
      if (x - half <= px(from) + 4 || x + half >= px(to) - 4) return;
      let [low, high] = [py(area.lower[i]), py(area.upper[i])];
      for (const way of [-1, 1]) {
        for (let k = i + way; area.times[k] !== undefined && Math.abs(px(area.times[k]) - x) <= room; k += way) {
          low = Math.min(low, py(area.lower[k]));
          high = Math.max(high, py(area.upper[k]));
        }
      }
      const y = (low + high) / 2;
      const free = others.every((o) => !o || Math.abs(o.x - x) >= o.half + half + 4 || Math.abs(o.y - y) >= NAMED);
      if (free && low - high >= NAMED && low - high > (best ? best.thick : 0)) best = { x, y, half, thick: low - high };
    });
    return best;
  }

  function rule(ctx, level, box, py, look) {
    ctx.strokeStyle = look.ground;
    ctx.lineWidth = 1.5;
    ctx.setLineDash([10, 4, 2, 4]);
    ctx.beginPath();
    ctx.moveTo(box.x, py(level.value));
    ctx.lineTo(box.x + box.w, py(level.value));
    ctx.stroke();
    ctx.setLineDash([]);
    ctx.textAlign = "left";
    halo(ctx, level.text, box.x + 6, py(level.value) - 5, look.ink, look.paper);
  }

  function mark(ctx, peak, box, px, py, look) {
    const x = Math.min(box.x + box.w, Math.max(box.x, px(peak.time)));
    const y = Math.min(box.y + box.h, Math.max(box.y, py(peak.value)));
    ctx.fillStyle = peak.colour;
    ctx.beginPath();
    ctx.arc(x, y, 3.5, 0, 7);
    ctx.fill();
    if (!peak.text) return;
    const wide = ctx.measureText(peak.text).width;
    const right = x + 8 + wide < box.x + box.w;
    ctx.textAlign = right ? "left" : "right";
    const above = peak.value >= 0;
    const ty = above ? Math.max(box.y + 12, y - 4) : Math.min(box.y + box.h - 4, y + 14);
    halo(ctx, peak.text, right ? x + 8 : x - 8, ty, peak.ink || peak.colour, look.paper);
  }

  /** Set-ups like a drop beside the panel: a dot each at its value, side by side where they are near each other; an arrow where some leave the picture. */
  function dots(ctx, r, box, py, look, index) {
    const left = box.x + box.w + 7 + (index * 22);
    const rows = new Map();
    ctx.setLineDash([]);
    ctx.lineWidth = 1;
    ctx.strokeStyle = r.colour;
    for (const value of r.dots || []) {
      const y = Math.min(box.y + box.h, Math.max(box.y, py(value)));
      const row = Math.round(y / 4);
      const n = rows.get(row) || 0;
      rows.set(row, n + 1);
      ctx.fillStyle = r.open ? look.paper : r.colour;
      ctx.beginPath();
      ctx.arc(left + Math.min(n, 9) * (n > 4 ? 2 : 3.6), row * 4, 1.7, 0, 2 * Math.PI);
      ctx.fill();
      ctx.stroke();
    }
    const arrow = (y, way) => { ctx.beginPath(); ctx.moveTo(left - 3, y + way * 6); ctx.lineTo(left + 1, y); ctx.lineTo(left + 5, y + way * 6); ctx.stroke(); };
    if ((r.dots || []).some((v) => py(v) < box.y - 1)) arrow(box.y - 7, 1);
    if ((r.dots || []).some((v) => py(v) > box.y + box.h + 1)) arrow(box.y + box.h + 7, -1);
  }

  return { surface, draw, frame, halo, step, FONT, SMALL };
})();
