// What runs in a page before its own scripts: marks, long tasks, counts of timers, and
// the one way to time something to the frame that shows it. It keeps the page's real
// clock for itself, since a test may move the one the page sees.
export const HOOKS = `(() => {
  const now = performance.now.bind(performance);
  const frame = window.requestAnimationFrame.bind(window);
  const bench = window.bench = {
    now, long: [], frames: [], memories: [], marks: {}, next: new Map(),
    calls: { timeout: 0, interval: 0, frame: 0, idle: 0 }, fired: 0,
  };
  // The frame that shows something has been handed over when the task after it runs.
  const painted = (then) => frame(() => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = () => { port1.close(); then(now()); };
    port2.postMessage(0);
  });
  new PerformanceObserver((list) => {
    for (const one of list.getEntries()) bench.long.push([one.startTime, one.duration]);
  }).observe({ type: "longtask", buffered: true });
  new PerformanceObserver((list) => {
    for (const one of list.getEntries()) if (one.name === "first-contentful-paint") bench.marks.paint = one.startTime;
  }).observe({ type: "paint", buffered: true });

  // To the next paint, whatever it shows, as the Event Timing API has it: the longest of a
  // tap's events. What is over within 16 ms is not told.
  new PerformanceObserver((list) => {
    for (const { interactionId, duration } of list.getEntries()) {
      if (interactionId) bench.next.set(interactionId, Math.max(duration, bench.next.get(interactionId) ?? 0));
    }
  }).observe({ type: "event", durationThreshold: 16, buffered: true });

  // Resolves with the time of the frame in which the expression first holds.
  bench.until = (holds, from = () => 0) => new Promise((yes, no) => {
    const end = now() + 200_000;
    const done = () => {
      if (!holds()) {
        if (now() > end) { watch.disconnect(); no(new Error("never held: " + holds)); }
        return false;
      }
      watch.disconnect();
      const seen = now();
      painted((at) => yes({ from: from(), seen, painted: at }));
      return true;
    };
    const watch = new MutationObserver(done);
    if (!done()) watch.observe(document, { subtree: true, childList: true, characterData: true, attributes: true });
  });
  let touched = 0;
  addEventListener("click", (event) => { touched = event.timeStamp; bench.wall = Date.now(); }, true);
  addEventListener("input", (event) => { if (event.target.type === "file") touched = event.timeStamp; }, true);
  bench.arm = (holds) => { bench.armed = bench.until(holds, () => touched); bench.armed.catch(() => {}); };

  bench.ready = bench.until(() => document.documentElement?.hasAttribute("data-ready"));
  bench.ready.then(({ seen }) => { bench.marks.ready = seen; }).catch(() => {});
  const reading = () => (document.querySelector("main p.quiet")?.textContent ?? "").startsWith("Reading the record");
  bench.record = bench.ready.then(() => bench.until(() => !reading()));
  bench.record.then((at) => { bench.marks.record = at.painted; }).catch(() => {});

  // Keys: from the press to the frame after what it did.
  bench.keys = [];
  let pressed = 0;
  addEventListener("keydown", (event) => { pressed = event.timeStamp; }, true);
  addEventListener("input", () => { const from = pressed; painted((at) => bench.keys.push(at - from)); }, true);

  // How evenly frames come, while something scrolls.
  bench.watchFrames = () => {
    bench.frames = [];
    let last = 0;
    const next = (at) => {
      if (last) bench.frames.push(at - last);
      last = at;
      if (bench.watching) frame(next);
    };
    bench.watching = true;
    frame(next);
  };

  const counted = (name, kind) => {
    const real = window[name]?.bind(window);
    if (!real) return;
    window[name] = (what, ms, ...more) => {
      bench.calls[kind] += 1;
      // A limit to a wait, many seconds long, is no clock: only what comes soon is counted.
      if (typeof what !== "function" || (kind !== "frame" && ms > 2_000)) return real(what, ms, ...more);
      return real((...given) => {
        bench.fired += 1;
        return what(...given);
      }, ms, ...more);
    };
  };
  counted("setTimeout", "timeout");
  counted("setInterval", "interval");
  counted("requestAnimationFrame", "frame");
  counted("requestIdleCallback", "idle");

  for (const name of ["instantiate", "instantiateStreaming"]) {
    const real = WebAssembly[name].bind(WebAssembly);
    WebAssembly[name] = async (...given) => {
      const made = await real(...given);
      const memory = (made.instance ?? made).exports?.memory;
      if (memory) bench.memories.push(memory);
      return made;
    };
  }
  // Files given out go no further: only when, and how large.
  const address = URL.createObjectURL.bind(URL);
  URL.createObjectURL = (file) => { bench.given = { at: now(), size: file.size }; document.documentElement.dataset.given = file.size; return address(file); };
})();
`;
