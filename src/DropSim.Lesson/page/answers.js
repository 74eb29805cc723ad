"use strict";
// The answers: five headline measures of this drop and of set-ups like it, a sentence on what changed and why, then all the rest.
lesson.answers = (() => {
  const { el, put, byId, time, number, unbroken } = lesson;
  const { state } = lesson;
  /** Smaller measures that belong to a headline one. */
  const ALONG = {
    rigging_point_force: [["rigging_point_times_weight", " times its weight"]],
    climber_movement: [["climber_speed", ""]],
    rope_run: [["rope_speed_at_device", " at most"]],
  };

  /** How far the draws have come. */
  lesson.drawing = () => `Set-ups like it: ${state.draws.total > 0 ? `${state.draws.done} of ${state.draws.total} computed` : "being computed"}`;

  /** "; 18 of 20: 12 to 22 kN", or that they are still being computed. */
  lesson.likeItWords = (run, m) => {
    const like = state.likeIt(run, m.id);
    return like ? `; ${like.likeIt}` : run.drawn ? "" : "; set-ups like it being computed";
  };

  /** The value of this drop. One that was not caught had not come to its worst: a number would look small. */
  lesson.thisDrop = (m) => (m.state === "at_least" ? "not caught" : m.thisDrop);

  /** How many set-ups like it are not caught, and how they end. */
  lesson.missed = (run) => (run.drawn && run.drawn.notCaught ? el("p", { class: "missed" }, unbroken(lesson.capital(run.drawn.notCaught))) : null);

  /** Let run, the hand's pull is an input: a small number there finds nothing. */
  const given = (run, id) => id === "hand_force" && state.catchKind(run) === "let-run";

  /** One scale for both: from nothing to the largest dot or value. */
  function scaleOf(runs, id) {
    const values = runs.flatMap((run) => {
      const [m, like] = [state.measure(run, id), state.likeIt(run, id)];
      return [...(like ? like.dots : []), ...(state.known(m) ? [m.value] : [])];
    }).filter(Number.isFinite);
    const from = Math.min(0, ...values);
    const to = Math.max(...values, 0);
    return { from, to: to > from ? to : from + 1 };
  }

  function headline() {
    const runs = state.shown;
    if (runs.length === 0) return;
    const rows = runs[0].measures.filter((m) => m.headline).map((lead) => {
      const scale = scaleOf(runs, lead.id);
      return el("tr", { role: "row", "data-measure": lead.id }, el("th", { scope: "row", role: "rowheader" }, lead.label), runs.map((run, i) => cell(run, i, lead.id, scale)));
    });
    put(byId("headline"), progress(), el("table", { class: runs.length > 1 ? "heads two" : "heads", role: "table" },
      el("caption", { class: "away" }, "The five headline measures: this drop, and set-ups like it"),
      el("thead", { role: "rowgroup" }, el("tr", { role: "row" }, el("td", { role: "cell", class: "corner" }, el("span", { class: "small-corner quiet" }, "this drop; 18 of 20 like it")), runs.map((run, i) => el("th", { scope: "col", role: "columnheader", class: i === 0 ? "key first" : "key second" }, lesson.pairLabel(i), ending(run), lesson.missed(run))))),
      el("tbody", { role: "rowgroup" }, rows)), explained(runs));
  }

  /** Said once: what is drawn, what it is not, and what is not in it. */
  function explained([{ drawn }]) {
    return el("p", { class: "bounded quiet small" }, "\u201cThis drop\u201d: with the inputs as they stand. ",
      drawn && drawn.drawn > 0 ? `\u201c18 of 20\u201d: ${drawn.drawn} set-ups that fit what was entered were computed. Of 20 caught ones 18 lie there, one is below and one above. It is not repetition: in one yard a set-up stays what it is. An error of the model is not in the count. ` : "",
      "Other words: ", el("a", { href: "#terms-step", onclick: () => { byId("terms-step").open = true; } }, "at the foot of the page"), ".");
  }

  /** A drop that was not caught, or not over, is told before any number of it. */
  const ending = ({ end }) => (end.unfinished ? el("p", { class: "ending" }, `${end.unfinished}: ${end.description}`) : null);

  function cell(run, index, id, scale) {
    const m = state.measure(run, id);
    if (!m) return el("td", { role: "cell" });
    const along = (ALONG[id] || []).map(([other, after]) => [state.measure(run, other), after]).filter(([x]) => state.known(x) && x.state !== "at_least").map(([x, after]) => `${x.thisDrop}${after}`);
    if (given(run, id)) along.push("an input");
    const like = state.likeIt(run, id);
    return el("td", { role: "cell" },
      el("p", {}, el("b", { "data-this-drop": index }, lesson.thisDrop(m)), " ", el("span", { class: "quiet" }, along.length > 0 ? `this drop; ${along.join(", ")}` : "this drop")),
      like ? el("p", {}, el("b", {}, like.of ? el("span", { class: "of" }, `${like.of}: `) : null, unbroken(like.range)), run.drawn.caught === run.drawn.drawn ? el("span", { class: "quiet" }, " like it") : null) : run.drawn ? null : el("p", {}, el("span", { class: "quiet alone" }, "like it: being computed")),
      like ? lesson.dots.plot(like, state.known(m) && m.state !== "at_least" ? m.value : NaN, index, scale) : null);
  }

  function progress() {
    if (state.late) return el("p", { class: "state" }, "Being computed. What is shown still belongs to the values before.");
    if (state.quality === "coarse") return el("p", { class: "state" }, "Coarse for the moment; exact when nothing moves.");
    return state.draws.state === "whole" ? null : el("p", { class: "state" }, `${lesson.drawing()}. One drop alone says too little.`);
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
   * What a newcomer came for stands over the table: first what set-ups like these say, then this drop and why. After a change that is what the
   * change did; what stands beside it is told below. A drop that was not caught is told before anything else.
   */
  function movement() {
    const host = byId("movement");
    if (awaited(host)) return;
    const { comparison, since } = state;
    const { first, second } = state.runs;
    const found = (since && since.movement.head && since) || comparison;
    const change = Boolean(found) && found === since;
    const told = change ? state.toldSince : state.told;
    const bad = [first, change ? state.starts.get(state.first) : second].some((run) => run && run.end.unfinished);
    const before = change ? el("b", {}, "Since the start: ") : null;
    const said = told && told.sentences.length > 0;
    const like = said ? el("p", { class: "like" }, before, el("b", {}, unbroken(told.sentences[0])), ` ${unbroken(told.sentences.slice(1).join(" "))}`)
      : el("p", { class: "like" }, before, state.draws.state === "whole" ? null : `${lesson.drawing()}.`);
    // Where set-ups like it have spoken, of this drop only why is left to say: its numbers stand in the table.
    const { head, rest: why } = found ? found.movement : { head: "", rest: "" };
    const one = bad && head ? el("p", {}, before && before.cloneNode(true), el("b", {}, unbroken(head)), ` ${unbroken(why)}`)
      : said ? (why ? el("p", {}, `This drop: ${unbroken(lesson.small(why))}`) : null)
      : head ? el("p", {}, `This drop: ${unbroken(head)} ${unbroken(why)}`) : null;
    put(host, bad ? [one, like] : [like, one], change && state.second.startsWith("case:") ? el("button", { type: "button", id: "start-beside", class: "small", onclick: besideStart }, "Put the start beside it") : null);
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
      since ? [el("h3", {}, "Since the start, in this drop"), el("p", { class: "lead" }, since.title), changed(since), parts(since.parts)] : null,
      comparison && comparison.title ? told(comparison, since) : null,
      warnings.length > 0 ? [el("h3", {}, "Know this"), el("ul", {}, warnings.map((w) => el("li", {}, w)))] : null);
  }

  /** The two on show; after a change that is told first, and they wait behind a fold. */
  function told(comparison, since) {
    const body = [el("p", { class: "lead" }, comparison.title), parts(comparison.parts)];
    return since ? el("details", {}, el("summary", {}, `${lesson.pairLabel(0)} against ${lesson.small(lesson.pairLabel(1))}`), body) : [el("h3", {}, "What differs in this drop, and why"), body];
  }

  /** What must be known, with the name of the run where it holds for one of two only. */
  lesson.warnings = () => {
    const runs = state.shown;
    // What set-ups like it say besides names its case itself.
    const notes = [...runs.map((r) => r.drawn && r.drawn.foot), state.told && state.told.moving].filter(Boolean);
    const all = [...new Set(runs.flatMap((r) => r.warnings))];
    return [...new Set(notes), ...all.map((w) => (runs.every((r) => r.warnings.includes(w)) ? w : `${lesson.pairLabel(runs.findIndex((r) => r.warnings.includes(w)))}: ${w}`))];
  };

  /** The parts of a comparison, a line to each ("By how much: ..."); what is not modelled stands below with the cautions. */
  function parts(found) {
    const rows = (found || []).filter((part) => part.kind !== "not_modelled");
    return el("div", { class: "parts" }, rows.map(({ heading, text }) => {
      const said = unbroken(text);
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
      el("div", { class: "scroll", tabindex: 0, role: "region", "aria-label": "All measures" }, table(runs)));
  }

  function table(runs) {
    return el("table", { class: "values measures" }, el("caption", { class: "away" }, "All measures: this drop, set-ups like it, and everything bad at once"),
      el("thead", {},
        el("tr", {}, el("th", { scope: "col" }, "measure"), runs.map((_, i) => ["this drop", "set-ups like it", "everything bad at once"].map((what) => el("th", { scope: "col" }, `${lesson.pairLabel(i)}, ${what}`))))),
      el("tbody", {}, runs[0].measures.map((lead) => el("tr", {}, el("th", { scope: "row" }, lead.label), runs.map((run) => {
        const [m, like] = [state.measure(run, lead.id), state.likeIt(run, lead.id)];
        const when = m && m.time !== null && Number.isFinite(m.time) ? ` at ${time(m.time)}` : "";
        const inputs = like && like.stressInputs ? el("details", {}, el("summary", {}, "with"), like.stressInputs) : null;
        return [el("td", {}, m ? `${m.thisDrop}${when}` : ""), el("td", {}, like ? like.likeIt : run.drawn ? "" : "being computed"), el("td", {}, like ? like.stress : "", inputs)];
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
    state.on("runs draws words units pair cover", () => {
      headline();
      hint();
      for (const [host, draw] of [["movement", movement], ["finding", finding], ["margins", rest], ["log", log]]) lesson.redraw(byId(host), draw);
    });
    state.on("late", headline);
    state.on("words", speak);
    // What was about to be told belongs to the values before.
    state.on("edited", lesson.unsay);
    state.on("draws", () => {
      if (state.draws.state !== "whole" || lesson.predict.covered) return;
      const told = state.toldSince || state.told;
      lesson.say(told ? `Set-ups like it: ${told.sentences.join(" ")}` : "Set-ups like it are computed.");
    });
    state.on("scenario", cautions);
    byId("margins-step").addEventListener("toggle", rest);
    byId("log-step").addEventListener("toggle", log);
  }

  return { setUp, cautions, parts };
})();
