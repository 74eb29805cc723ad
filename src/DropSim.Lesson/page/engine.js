// The engine of the lesson page: the C# program, compiled to WebAssembly, in a worker. The protocol is in docs/lesson-page.md.
// Everything it needs stands in this file as packed text; nothing is fetched.
(function () {
  'use strict';

  // Runs in the worker; where a browser allows none, in the page. `parts` maps file names to packed bytes.
  async function startEngine(parts, make) {
    const unpack = async name => new Response(new Blob([parts[name]]).stream().pipeThrough(new DecompressionStream('gzip'))).arrayBuffer();
    const urls = {};
    for (const name of Object.keys(parts).filter(n => n.endsWith('.js'))) {
      // The runtime works out paths from its own address, and a blob has none.
      const text = new TextDecoder().decode(await unpack(name)).replaceAll('import.meta.url', JSON.stringify('http://dropsim.invalid/_framework/dotnet.js'));
      urls[name] = URL.createObjectURL(new Blob([text], { type: 'text/javascript' }));
    }
    const { dotnet } = await make(urls['dotnet.js']);
    const load = (type, name) => name.endsWith('.js') ? urls[name]
      : unpack(name).then(bytes => new Response(bytes, { headers: { 'content-type': name.endsWith('.wasm') ? 'application/wasm' : 'application/octet-stream' } }));
    const { getAssemblyExports, getConfig } = await dotnet.withResourceLoader(load).create();
    const engine = (await getAssemblyExports(getConfig().mainAssemblyName)).DropSim.Lesson.Engine;
    Object.values(urls).forEach(URL.revokeObjectURL);
    return (verb, request) => {
      const answer = JSON.parse(engine.Answer(verb, JSON.stringify(request)));
      const moved = [];
      if (verb === 'simulate') {
        for (const run of answer.runs) {
          // A copy of its own, so that it can be handed over without another one.
          run.numbers = Float64Array.from(engine.Curves(run.run));
          moved.push(run.numbers.buffer);
        }
      }
      return { answer, moved };
    };
  }

  // The worker's own code.
  function workerMain(start) {
    let answer;
    // Not self.onmessage: the runtime takes a worker that has one for a thread of its own, and waits for ever.
    self.addEventListener('message', async message => {
      const { id, parts, verb, request } = message.data;
      try {
        if (parts) {
          answer = await start(parts, url => import(url));
          self.postMessage({ id });
        } else {
          const done = answer(verb, request);
          self.postMessage({ id, answer: done.answer }, done.moved);
        }
      } catch (problem) {
        self.postMessage({ id, problem: String(problem && problem.message || problem) });
      }
    });
  }

  const jobs = [];         // waiting: { verb, request, resolve, reject, onProgress, draws }
  let busy = false;
  let send = null;         // (verb, request) -> promise of the answer
  let draws = null;       // the one draws job that is being worked on
  let parts = null;        // the packed engine, for a second one

  function withCurves(answer) {
    for (const run of answer.runs || []) {
      if (!run.numbers) continue;
      const rows = run.numbers.length / run.columns.length;
      run.curves = {};
      run.columns.forEach((name, i) => { run.curves[name] = run.numbers.subarray(i * rows, (i + 1) * rows); });
      delete run.numbers;
      delete run.columns;
    }
    return answer;
  }

  function call(verb, request, onProgress) {
    return new Promise((resolve, reject) => {
      if (verb === 'simulate' || verb === 'draws') {
        // A picture that nobody will see any more is not computed.
        for (let i = jobs.length - 1; i >= 0; i--) {
          const old = jobs[i];
          if ((verb === 'simulate' && old.verb === 'simulate' && old.request.quality === 'coarse') || old.verb === 'draws') {
            jobs.splice(i, 1);
            old.resolve({ superseded: true });
          }
        }
      }
      jobs.push({ verb, request, resolve, reject, onProgress });
      if (verb === 'simulate' && draws) {
        // Set-ups like a drop that is being changed would only keep the slider waiting; whoever shows the next exact drop asks for its own.
        draws.resolve({ superseded: true });
        draws = null;
      }
      work();
    });
  }

  async function work() {
    if (busy || !send) return;
    busy = true;
    try {
      for (;;) {
        const job = jobs.shift();
        if (job) {
          try {
            if (job.verb === 'draws') {
              if (draws) draws.resolve({ superseded: true });
              draws = job;
              follow(await send('draws', job.request));
            } else {
              job.resolve(withCurves(await send(job.verb, job.request)));
            }
          } catch (problem) {
            if (draws === job) draws = null;
            job.reject(problem);
          }
        } else if (draws) {
          const now = draws;
          try {
            follow(await send('more-draws', {}));
          } catch (problem) {
            if (draws === now) draws = null;
            now.reject(problem);
          }
        } else {
          return;
        }
      }
    } finally {
      busy = false;
    }
  }

  let told = 0;
  const TELL_EVERY = 300;  // ms

  function follow(answer) {
    const job = draws;
    if (!job) return;      // given up while the engine was at it
    if (answer.complete) {
      draws = null;
      job.resolve(answer);
    } else if (job.onProgress && performance.now() - told > TELL_EVERY) {
      told = performance.now();
      job.onProgress(answer);
    }
  }

  function packedParts() {
    const parts = {};
    for (const element of document.querySelectorAll('script[type="application/octet-stream"][data-part]')) {
      const text = atob(element.textContent);
      const bytes = new Uint8Array(text.length);
      for (let i = 0; i < text.length; i++) bytes[i] = text.charCodeAt(i);
      parts[element.dataset.part] = bytes;
      element.remove();
    }
    return parts;
  }

  function inWorker(parts) {
    return new Promise((resolve, reject) => {
      const code = `'use strict';(${workerMain})(${startEngine});`;
      const url = URL.createObjectURL(new Blob([code], { type: 'text/javascript' }));
      const worker = new Worker(url);
      const waiting = new Map();
      let next = 1;
      const ask = message => new Promise((done, failed) => { waiting.set(next, { done, failed }); worker.postMessage({ id: next++, ...message }); });
      worker.onmessage = message => {
        const { id, answer, problem } = message.data;
        const { done, failed } = waiting.get(id);
        waiting.delete(id);
        if (problem === undefined) done(answer); else failed(new Error(problem));
      };
      worker.onerror = event => { event.preventDefault(); reject(new Error(event.message || 'The browser allows no worker here.')); };
      ask({ parts }).then(() => resolve((verb, request) => ask({ verb, request })), reject);
    });
  }

  async function inPage(parts) {
    const answer = await startEngine(parts, url => import(url));
    // Between two answers the page may draw and listen.
    return (verb, request) => new Promise((resolve, reject) => setTimeout(() => {
      try { resolve(answer(verb, request).answer); } catch (problem) { reject(problem); }
    }));
  }

  async function start() {
    if (document.readyState === 'loading') await new Promise(done => document.addEventListener('DOMContentLoaded', done, { once: true }));
    parts = packedParts();
    if (!Object.keys(parts).length) throw new Error('This page was built without its engine.');
    try {
      send = await inWorker(parts);
      api.mode = 'worker';
    } catch {
      send = await inPage(parts);
      api.mode = 'page';
    }
    work();
    const words = await call('words', {});
    return { version: words.version };
  }

  /**
   * A second engine for the drop held against the first, so that both are computed at once while a slider moves. It is started when the page
   * asks for it, after the first drop stands; until it is ready, and where there is no processor for it, `second` is null.
   */
  let second = null;

  async function startSecond() {
    if (!parts || api.mode !== 'worker' || !(navigator.hardwareConcurrency > 1)) return;
    const packed = parts;
    parts = null;
    try {
      second = await inWorker(packed);
    } catch {
      second = null;       // the first engine does it all
    }
  }

  const api = { call, mode: null, ready: null, startSecond, get second() { return second && ((request) => second('simulate', request).then(withCurves)); } };
  api.ready = start();
  api.ready.catch(() => {});
  window.lessonEngine = api;
})();
