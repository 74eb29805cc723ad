"use strict";
// The answers: five headline measures with their ranges, a sentence on what changed and why, then all the rest.
lesson.answers = (() => {
  const { el, put, byId, time, number, unbroken } = lesson;
  const { state } = lesson;
  /** Smaller measures that belong to a headline one. */
  const ALONG = {
    rigging_point_force: [["rigging_point_times_weight", " times its weight"]],
    climber_movement: [["climber_speed", ""]],
    rope_run: [["rope_speed_at_device", " at most"]],
  };

  /** "worst of the range 49 kN", or where the range stands. */
  lesson.worstWords = (run, m) => {
    const word = rangeWord(run, m);
    return word ? `; ${word}` : "";
  };

  function rangeWord(run, m) {
    if (m.worstKind === "no_range" && run.rangeState === "whole") return "no range";
    if (run.rangeState === "whole") return m.worse === "neither" ? `range ${m.worst}` : `worst of the range ${m.worst}`;
    if (run.rangeState === "partial" && m.worstKind !== "no_range") return `${m.worst} or worse, range still being computed`;
    return "range still being computed";
  }

  /** Let run, the hand's pull is an input: a small number there finds nothing. */
  const given = (run, id) => id === "hand_force" && state.catchKind(run) === "let-run";

  const measured = (m) => m && m.low !== null && m.high !== null && Number.isFinite(m.low) && Number.isFinite(m.high);

  /** The range as a bar from low to high with a stroke at the central value; both runs on one scale. */
  function bar(m, run, index, scale) {
    const track = el("div", { class: `bar ${index === 0 ? "first" : "second"}`, "aria-hidden": "true" });
    const at = (value) => `${Math.max(0, Math.min(100, 100 * (value - scale.from) / (scale.to - scale.from)))}%`;
    if (measured(m) && run.rangeState !== "none") {
      const span = el("span", { class: "span" });
      span.style.left = at(m.low);
      span.style.right = `calc(100% - ${at(m.high)})`;
      track.append(span);
    }
    if (state.known(m)) {
      const tick = el("span", { class: "tick" });
      tick.style.left = at(m.value);
      track.append(tick);
    }
    return track;
  }

  function scaleOf(measures) {
    const values = measures.flatMap((m) => ([...(measured(m) ? [m.low, m.high] : []), ...(state.known(m) ? [m.value] : [])])).filter(Number.isFinite);
    const from = Math.min(0, ...values);
    const to = Math.max(...values, 0);
    return { from, to: to > from ? to : from + 1 };
  }

  function headline() {
    const runs = state.shown;
    if (runs.length === 0) return;
    const rows = runs[0].measures.filter((m) => m.headline).map((lead) => {
      const scale = scaleOf(runs.map((r) => state.measure(r, lead.id)).filter(Boolean));
      return el("tr", { role: "row", "data-measure": lead.id }, el("th", { scope: "row", role: "rowheader" }, lead.label), runs.map((run, i) => cell(run, i, lead.id, scale)));
    });
    put(byId("headline"), progress(), el("table", { class: runs.length > 1 ? "heads two" : "heads", role: "table" },
      el("caption", { class: "away" }, "The five headline measures: central value, and worst of the range"),
      el("thead", { role: "rowgroup" }, el("tr", { role: "row" }, el("td", { role: "cell", class: "corner" }, el("span", { class: "small-corner quiet" }, "central value; worst of the range")), runs.map((_, i) => el("th", { scope: "col", role: "columnheader", class: i === 0 ? "key first" : "key second" }, lesson.pairLabel(i), ending(runs[i]))))),
      el("tbody", { role: "rowgroup" }, rows)), el("p", { class: "bounded quiet small" }, "\u201cCentral\u201d: with the inputs as they stand. \u201cWorst of the range\u201d: the worst that inputs nobody knows exactly may make of it; it counts.", bounded(runs) ? " \u201cAt least\u201d and \u201cat most\u201d: there the drop ended before it was over, on the ground or otherwise, and had not come to its worst." : "", " Other words: ", el("a", { href: "#terms-step", onclick: () => { byId("terms-step").open = true; } }, "at the foot of the page"), "."));
  }

  /** A drop that was not caught, or not over, is told before any number of it. */
  const ending = ({ end }) => (end.unfinished ? el("p", { class: "ending" }, `${end.unfinished}: ${end.description}`) : null);

  const bounded = (runs) => runs.some((r) => r.measures.some((m) => m.headline && m.worstKind === "bound"));

  function cell(run, index, id, scale) {
    const m = state.measure(run, id);
    if (!m) return el("td", { role: "cell" });
    const along = (ALONG[id] || []).map(([other, after]) => [state.measure(run, other), after]).filter(([x]) => state.known(x)).map(([x, after]) => `${x.central}${after}`);
    if (given(run, id)) along.push("an input");
    return el("td", { role: "cell" },
      el("p", {}, el("b", { "data-central": index }, m.central), " ", el("span", { class: "quiet" }, along.length > 0 ? `central; ${along.join(", ")}` : "central")),
      el("p", {}, rangeShown(run, m)),
      bar(m, run, index, scale));
  }

  function rangeShown(run, m) {
    const quiet = (text) => el("span", { class: "quiet" }, text);
    const alone = (text) => el("span", { class: "quiet alone" }, text);
    if (run.rangeState === "none" || (run.rangeState === "partial" && m.worstKind === "no_range")) return alone("range: still being computed");
    if (m.worstKind === "no_range") return alone("no range");
    const words = m.worse === "neither" ? " over the range" : " worst of the range";
    return [el("b", {}, m.worstKind === "nothing_left" ? "none left" : m.worst), run.rangeState === "partial" ? alone(" or worse: being computed") : quiet(words)];
  }

  function progress() {
    if (state.late) return el("p", { class: "state" }, "Being computed. What is shown still belongs to the values before.");
    if (state.quality === "coarse") return el("p", { class: "state" }, "Coarse for the moment; exact when nothing moves.");
    if (state.range.state === "whole") return null;
    const { done, total } = state.range;
    return el("p", { class: "state" }, `Ranges being computed${total > 0 ? `, ${done} of ${total} runs` : ""}. Until then the central values say too little.`);
  }

  /** Words about a change come after its curves: until they do there are none, and what stands below stays where it is. */
  function awaited(host) {
    const waiting = state.stage === "asked" || state.stage === "coarse";
    if (!waiting) host.style.minHeight = "";
    // Once, and not at every move: asking for the height makes the browser lay out the page.
    else if (host.hasChildNodes()) {
      host.style.minHeight = `${host.offsetHeight}px`;
      put(host);
    }
    return waiting;
  }

  /**
   * Less or more movement, and why: what a newcomer came for stands over the table. After a change that is what the change did; what stands
   * beside it is told below. The worst of the range stands with the central values.
   */
  function movement() {
    const host = byId("movement");
    if (awaited(host)) return;
    const { comparison, since } = state;
    const { first, second } = state.runs;
    // What the drop looked at leaves in the worst case belongs beside any praise of it.
    const room = first ? state.measure(first, "room_left") : null;
    const spent = room && room.worstKind === "nothing_left" ? ", and no room left" : "";
    const worst = (other, differ) => {
      if ([first, other].some((run) => run && run.rangeState !== "whole" && !run.end.unfinished)) return [` Worst of the range: being computed${spent}.`, ""];
      // Of a drop that was not caught neither less nor more movement says anything.
      const [a, b] = [first, other].map((run) => (run && run.rangeState === "whole" && !run.end.unfinished ? state.measure(run, "climber_movement") : null));
      if (!a || !b || a.worstKind === "no_range" || b.worstKind === "no_range") return ["", ""];
      // "At least" may be any amount more: less than that is less, more than a value is more, and beyond that nothing can be told.
      const [boundA, boundB] = [a, b].map((m) => m.worstKind === "bound");
      const order = number(a.high) === number(b.high) ? "" : a.high < b.high ? "less" : "more";
      const told = order && !(order === "less" ? boundA : boundB) ? `: ${order}` : "";
      const overlap = (boundA || b.low <= a.high) && (boundB || a.low <= b.high);
      const central = a.value < b.value ? "less" : "more";
      const certain = !told ? "; at their worst that is not certain" : order === central ? " and at their worst; but the ranges overlap" : `, ${order} at their worst`;
      return [` Worst of the range: ${unbroken(a.worst)} instead of ${unbroken(b.worst)}${told}${spent}.`, differ && overlap ? ` ${lesson.capital(central)} as the inputs stand${certain}.` : ""];
    };
    const text = (found, before, other) => {
      if (!found || !found.movement.head) return null;
      const { head, rest: more, alike } = found.movement;
      const [bold, certain] = worst(other, !alike);
      return el("p", {}, before, el("b", {}, `${unbroken(head)}${fast}${bold}`), `${certain} ${unbroken(more)}`);
    };
    const start = state.starts.get(state.first);
    const change = text(since, "Since the start: ", start);
    put(host, change || text(comparison, "", second), change && state.second.startsWith("case:") ? el("button", { type: "button", id: "start-beside", class: "small", onclick: besideStart }, "Put the start beside it") : null);
  }

  /** The picture and the curves then show what the sentence tells of. */
  function besideStart() {
    lesson.pair.pick(state.first, "start").catch(lesson.work.fault);
    byId("answers").focus({ preventScroll: true });
  }

  /** What to do next, over the inputs. */
  function hint() {
    const [now, beside] = [state.runs.first, state.runs.second].map((run) => state.measure(run, "climber_movement"));
    const already = state.known(now) && state.known(beside) && now.value < beside.value ? "still less" : "less";
    byId("ask-hint").textContent = state.changed ? "One change at a time: Reset before the next."
      : state.known(now) && state.mode === "lesson" ? `Make the spar move ${already}: change one thing.` : "Change one thing, and see what it does.";
  }

  function finding() {
    if (awaited(byId("finding"))) return;
    const warnings = lesson.warnings();
    const { comparison, since } = state;
    put(byId("finding"),
      since ? [el("h3", {}, "Since the start"), el("p", { class: "lead" }, since.title), changed(since), parts(since.parts)] : null,
      comparison && comparison.title ? told(comparison, since) : null,
      warnings.length > 0 ? [el("h3", {}, "Know this"), el("ul", {}, warnings.map((w) => el("li", {}, w)))] : null);
  }

  /** The two on show; after a change that is told first, and they wait behind a fold. */
  function told(comparison, since) {
    const body = [el("p", { class: "lead" }, comparison.title), parts(comparison.parts)];
    return since ? el("details", {}, el("summary", {}, `${lesson.pairLabel(0)} against ${lesson.small(lesson.pairLabel(1))}`), body) : [el("h3", {}, "What differs, and why"), body];
  }

  /** What must be known, with the name of the run where it holds for one of two only. */
  lesson.warnings = () => {
    const runs = state.shown;
    const all = [...new Set(runs.flatMap((r) => r.warnings))];
    return all.map((w) => (runs.every((r) => r.warnings.includes(w)) ? w : `${lesson.pairLabel(runs.findIndex((r) => r.warnings.includes(w)))}: ${w}`));
  };

  /** The parts of a comparison, a line to each ("By how much: ..."); what is not modelled stands below with the cautions. */
  function parts(found) {
    const rows = (found || []).filter((part) => part.kind !== "not_modelled");
    return el("div", { class: "parts" }, rows.map(({ kind, heading, text }) => {
      const said = unbroken(kind === "no_ranges" && state.range.state !== "whole" ? "the ranges are still being computed." : text);
      return heading ? el("p", {}, el("b", {}, `${unbroken(heading)}:`), ` ${said}`) : el("p", {}, said);
    }));
  }

  function changed(found) {
    return found.changed && found.changed.length > 0 ? el("ul", { class: "changed" }, found.changed.map((c) => el("li", {}, `${c.label}: ${c.first} instead of ${c.second}`))) : null;
  }

  function rest() {
    if (!byId("margins-step").open) return;
    const runs = state.shown;
    if (runs.length === 0) return;
    put(byId("margins"),
      el("p", {}, "Loads are shown as parts of breaking strength, new and dry. What is not known stays unknown. None of this permits anything."),
      runs.map((run, i) => el("div", {}, el("h3", {}, lesson.pairLabel(i)), el("ul", {}, run.facts.map((f) => el("li", {}, f))))),
      el("div", { class: "scroll", tabindex: 0, role: "region", "aria-label": "All measures" }, table(runs)),
      runs.map((run) => (run.rangeMethod ? el("p", { class: "small quiet" }, run.rangeMethod) : null)).slice(0, 1));
  }

  function table(runs) {
    return el("table", { class: "values measures" }, el("caption", { class: "away" }, "All measures with ranges"),
      el("thead", {},
        el("tr", {}, el("th", { scope: "col" }, "measure"), runs.map((_, i) => [el("th", { scope: "col" }, `${lesson.pairLabel(i)}, central`), el("th", { scope: "col" }, `${lesson.pairLabel(i)}, worst of the range`)]))),
      el("tbody", {}, runs[0].measures.map((lead) => el("tr", {}, el("th", { scope: "row" }, lead.label), runs.map((run) => {
        const m = state.measure(run, lead.id);
        const when = m && m.time !== null && Number.isFinite(m.time) ? ` at ${time(m.time)}` : "";
        const inputs = m && m.worstInputs ? el("details", {}, el("summary", {}, "with"), m.worstInputs) : null;
        return [el("td", {}, m ? `${m.central}${when}` : ""), el("td", {}, m ? (run.rangeState === "none" ? "still being computed" : m.worst) : "", inputs)];
      })))));
  }

  function log() {
    if (!byId("log-step").open) return;
    const about = state.scenario;
    put(byId("log"),
      about.description ? el("p", {}, about.description) : null,
      about.review ? review(about.review) : null,
      state.shown.map((run, i) => el("div", {}, el("h3", {}, lesson.pairLabel(i)),
        el("p", {}, run.subtitle || ""),
        run.warnings.length > 0 ? el("ul", {}, run.warnings.map((w) => el("li", {}, w))) : null,
        el("ol", { class: "events" }, run.events.filter((e) => e.marked || e.short).map((e) => el("li", {}, `${time(e.time)}: ${e.name}${e.detail ? `, ${e.detail}` : ""}`))),
        run.strikes.length > 0 ? strikes(run) : el("p", {}, "No strikes on the spar."))));
  }

  function strikes(run) {
    return el("div", { class: "scroll", tabindex: 0, role: "region", "aria-label": `Strikes, ${lesson.pairLabel(state.shown.indexOf(run))}` }, el("table", { class: "values" }, el("caption", {}, "Strikes on the spar"),
      el("thead", {}, el("tr", {}, ["time", "place", "height", "closing speed", "energy"].map((t) => el("th", { scope: "col" }, t)))),
      el("tbody", {}, run.strikes.map((s) => el("tr", {}, el("th", { scope: "row" }, time(s.time)), el("td", {}, s.place), el("td", {}, state.shownNumber(s.height, "length")), el("td", {}, state.shownNumber(s.closingSpeed, "speed")), el("td", {}, state.shownNumber(s.energy, "energy")))))));
  }

  function review({ seen, assumed, unknown }) {
    return [["Seen", seen], ["Assumed", assumed], ["Nobody knows", unknown]].filter(([, list]) => list && list.length > 0)
      .map(([title, list]) => el("div", {}, el("h3", {}, title), el("ul", {}, list.map((t) => el("li", {}, t)))));
  }

  function cautions() {
    const { words } = state;
    if (!words) return;
    put(byId("cautions"), el("h2", {}, "Cautions"), el("ul", {}, words.cautions.map((c) => el("li", {}, c)), el("li", {}, words.notModelledSentence)), el("p", { class: "small quiet" }, state.footer));
  }

  function speak() {
    if (lesson.predict.covered || state.quality !== "exact") return;
    const found = state.since || state.comparison;
    if (found && found.title) lesson.say(`${found.title}. ${found.movement.text}`);
  }

  function setUp() {
    state.on("runs range words units pair cover", () => {
      headline();
      hint();
      for (const [host, draw] of [["movement", movement], ["finding", finding], ["margins", rest], ["log", log]]) lesson.redraw(byId(host), draw);
    });
    state.on("late", headline);
    state.on("words", speak);
    // What was about to be told belongs to the values before.
    state.on("edited", lesson.unsay);
    state.on("range", () => { if (state.range.state === "whole" && !lesson.predict.covered) lesson.say("The ranges are computed."); });
    state.on("scenario", cautions);
    byId("margins-step").addEventListener("toggle", rest);
    byId("log-step").addEventListener("toggle", log);
  }

  return { setUp, cautions, parts };
})();
