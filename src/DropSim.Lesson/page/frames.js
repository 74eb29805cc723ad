"use strict";
// One instant of a run, read from its curves.
lesson.frames = (() => {
  /** Last row at or before a time. */
  function rowAt(times, time) {
    let low = 0;
    let high = times.length - 1;
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if (times[middle] <= time) low = middle;
      else high = middle - 1;
    }
    return low;
  }

  /** Place between two rows: row, and how far toward the next. Times are held inside the run. */
  function placeAt(run, time) {
    const times = run.curves.time_s;
    const row = rowAt(times, time);
    const next = Math.min(row + 1, times.length - 1);
    const span = times[next] - times[row];
    return { row, next, part: span > 0 ? Math.min(1, Math.max(0, (time - times[row]) / span)) : 0 };
  }

  function valueAt(run, column, place) {
    const values = run.curves[column];
    if (!values) return NaN;
    const a = values[place.row];
    const b = values[place.next];
    return place.part === 0 || !Number.isFinite(b) ? a : a + (place.part * (b - a));
  }

  const value = (run, column, time) => valueAt(run, column, placeAt(run, time));

  const endOf = (run) => run.curves.time_s[run.curves.time_s.length - 1];
  const startOf = (run) => run.curves.time_s[0];

  /** Largest absolute value inside a stretch of time. */
  function extreme(run, column, from, to) {
    const times = run.curves.time_s;
    const values = run.curves[column];
    let best = { time: from, value: NaN };
    if (!values) return best;
    for (let i = rowAt(times, from); i < times.length && times[i] <= to; i++) {
      if (Number.isFinite(values[i]) && !(Math.abs(values[i]) <= Math.abs(best.value))) best = { time: times[i], value: values[i] };
    }
    return best;
  }

  /** Smallest and largest value over some runs inside a stretch of time. */
  function span(runs, columns, from, to) {
    let low = Infinity;
    let high = -Infinity;
    for (const run of runs) {
      const times = run.curves.time_s;
      for (const column of columns) {
        const values = run.curves[column];
        if (!values) continue;
        for (let i = rowAt(times, from); i < times.length && times[i] <= to; i++) {
          if (values[i] < low) low = values[i];
          if (values[i] > high) high = values[i];
        }
      }
    }
    return low <= high ? { low, high } : { low: 0, high: 1 };
  }

  /** Everything the side view needs at one time. Metres, upright is z. */
  function scene(run, time) {
    const at = placeAt(run, time);
    const get = (column) => valueAt(run, column, at);
    const { model } = run;
    const x = get("piece_x_m");
    const z = get("piece_z_m");
    const lean = get("piece_lean_rad");
    const sin = Math.sin(lean);
    const cos = Math.cos(lean);
    const point = ([eta, xi]) => [x + (xi * sin) + (eta * cos), z + (xi * cos) - (eta * sin)];
    const modes = [];
    for (let m = 0; run.curves[`mode_${m}`]; m++) modes.push(get(`mode_${m}`));
    const bend = (shapes, k) => modes.reduce((sum, q, m) => sum + (shapes[m] ? q * shapes[m][k] : 0), 0);
    return {
      time,
      over: time > endOf(run) + 1e-9,
      piece: model.pieceOutline.map(point),
      centre: [x, z],
      hitch: point(model.hitch),
      lean,
      spar: model.spar.z.map((height, k) => bend(model.spar.shapes, k)),
      climber: model.climberHeight === null ? null : modes.reduce((sum, q, m) => sum + (q * (model.climberShapes[m] || 0)), 0),
      ring: [get("rigging_point_x_m"), get("rigging_point_z_m")],
      loadLeg: get("load_leg_tension_N"),
      groundLeg: get("ground_leg_tension_N"),
      hand: get("hand_tension_N"),
      force: [get("rigging_point_force_x_N"), get("rigging_point_force_z_N")],
      slip: get("rope_slip_m"),
      run: get("rope_run_m"),
      wraps: get("wraps"),
    };
  }

  /** The clock that all runs on show share. */
  function clock(runs) {
    if (runs.length === 0) return { from: 0, to: 1 };
    return { from: Math.min(...runs.map((r) => r.window.from)), to: Math.max(...runs.map((r) => r.window.to)) };
  }

  return { rowAt, value, extreme, span, scene, clock, endOf, startOf };
})();
