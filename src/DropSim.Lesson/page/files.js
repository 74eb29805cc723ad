"use strict";
// Files in and out. Everything stays on this device.
lesson.files = (() => {
  const { el, put, byId, download } = lesson;
  const { state } = lesson;
  /** As the command line: larger files are refused there too. */
  const LARGEST = 256 * 1024;
  const PICTURE = { width: 1600, height: 1100 };

  const stem = () => state.file.replace(/\.toml$/i, "") || "scenario";

  async function open(file) {
    if (file.size > LARGEST) {
      lesson.work.problems([{ message: `${file.name}: larger than 256 kB.` }], "This file is refused.");
      return;
    }
    if (await lesson.work.open(await file.text(), file.name)) {
      const given = { name: file.name, text: state.startText };
      const place = state.files.findIndex((f) => f.name === file.name);
      if (place < 0) state.files.push(given); else state.files[place] = given;
      list();
      lesson.say(`Opened ${file.name}.`);
    }
  }

  function list() {
    const pick = byId("scenario-pick");
    put(pick, state.files.map((f, i) => el("option", { value: String(i), selected: f.name === state.file }, f.title || lesson.capital(lesson.plain(f.name.replace(/\.toml$/i, ""))))));
    pick.disabled = state.files.length < 2;
  }

  const save = () => download(state.file || "scenario.toml", new Blob([state.text], { type: "text/plain;charset=utf-8" }));

  async function csv() {
    for (const run of state.shown) {
      const answer = await window.lessonEngine.call("csv", { run: run.run, units: state.units, interval: 0.001 });
      download(answer.name, new Blob([answer.text], { type: "text/csv;charset=utf-8" }));
    }
  }

  /** Wraps words to a width and writes them; answers the next line's place. */
  function write(ctx, words, x, y, width, line) {
    let row = "";
    for (const word of words.split(/\s+/)) {
      const longer = row ? `${row} ${word}` : word;
      if (ctx.measureText(longer).width > width && row) {
        ctx.fillText(row, x, y);
        y += line;
        row = word;
      } else row = longer;
    }
    if (row) { ctx.fillText(row, x, y); y += line; }
    return y;
  }

  /** A sheet with title, room for a drawing, and the cautions at its foot, in the light colours of paper. */
  function sheet(title, draw, size = PICTURE) {
    const canvas = el("canvas", { width: String(size.width * 2), height: String(size.height * 2) });
    const ctx = canvas.getContext("2d");
    ctx.scale(2, 2);
    lesson.palette.onPaper(() => {
      const look = lesson.palette.now;
      ctx.fillStyle = look.paper;
      ctx.fillRect(0, 0, size.width, size.height);
      const family = lesson.plot.FONT.replace("13px", "");
      ctx.fillStyle = look.ink;
      ctx.font = `600 24px ${family}`;
      const y = write(ctx, title, 24, 40, size.width - 48, 30);
      ctx.font = `15px ${family}`;
      ctx.fillStyle = look.quiet;
      const top = write(ctx, state.shown.map((r, i) => `${lesson.pairLabel(i)}: ${r.subtitle || ""}`).join(" "), 24, y, size.width - 48, 20);
      const footer = [...state.words.cautions, state.words.notModelledSentence, state.footer].join(" ");
      const foot = 78;
      ctx.save();
      draw(ctx, { x: 24, y: top + 4, width: size.width - 48, height: size.height - top - foot - 12 });
      ctx.restore();
      ctx.fillStyle = look.quiet;
      ctx.textAlign = "left";
      ctx.font = `13px ${family}`;
      write(ctx, footer, 24, size.height - foot + 12, size.width - 48, 17);
    });
    return canvas;
  }

  const title = () => (state.comparison && state.comparison.title) || state.scenario.title;

  function sceneSheet(near) {
    return sheet(title(), (ctx, box) => {
      ctx.translate(box.x, box.y);
      lesson.scene.draw(ctx, box.width, box.height, lesson.player.now, near === undefined ? {} : { near });
    });
  }

  function chartSheet() {
    const panels = lesson.charts.PANELS.slice(0, 7);
    return sheet(title(), (ctx, box) => {
      const each = Math.floor(box.height / panels.length);
      panels.forEach((panel, i) => {
        ctx.save();
        ctx.translate(box.x, box.y + (i * each));
        ctx.fillStyle = lesson.palette.now.ink;
        ctx.font = lesson.plot.FONT;
        ctx.textAlign = "left";
        ctx.fillText(`${panel.heading}: ${state.shown.map((_, k) => `${lesson.pairLabel(k)} (${k === 0 ? "heavy line" : "dashed line"})`).join(", ")}`, 0, 14);
        ctx.translate(0, 20);
        lesson.plot.draw({ ctx, width: box.width, height: each - 24 }, lesson.charts.spec(panel, state.shown), NaN);
        ctx.restore();
      });
    }, { width: 1200, height: 1600 });
  }

  const png = (canvas, name) => canvas.toBlob((blob) => download(`${stem()}-${name}.png`, blob), "image/png");

  function setUp() {
    byId("file-open").addEventListener("click", () => byId("file-input").click());
    byId("file-input").addEventListener("change", async (event) => {
      const [file] = event.target.files;
      event.target.value = "";
      if (file) await open(file).catch(lesson.work.fault);
    });
    byId("file-save").addEventListener("click", save);
    byId("file-csv").addEventListener("click", () => csv().catch(lesson.work.fault));
    const shown = (work) => () => {
      if (state.runs.first && !lesson.predict.covered) work();
      else lesson.work.problems([{ message: "The results are still covered or not computed yet." }], "Nothing to save:");
    };
    byId("file-png").addEventListener("click", shown(() => png(sceneSheet(), "side-view")));
    byId("file-charts").addEventListener("click", shown(() => png(chartSheet(), "charts")));
    byId("file-print").addEventListener("click", () => lesson.briefing.print());
    byId("scenario-pick").addEventListener("change", (event) => {
      const file = state.files[Number(event.target.value)];
      lesson.work.open(file.text, file.name).then(() => list()).catch(lesson.work.fault);
    });
    byId("reset").addEventListener("click", () => {
      byId("units-pick").querySelector("input:checked").focus();   // nothing is left to reset, and a button that cannot be pressed loses the focus
      lesson.work.reset().catch(lesson.work.fault);
    });
    document.addEventListener("click", (event) => { const menu = byId("file-menu"); if (event.isTrusted && menu.open && !menu.contains(event.target)) menu.open = false; });
    byId("file-menu").addEventListener("keydown", (event) => { if (event.key === "Escape") { byId("file-menu").open = false; byId("file-menu").querySelector("summary").focus(); } });
  }

  return { setUp, list };
})();
