// A Chromium of its own, driven by the DevTools protocol over a pipe: nothing between
// the measuring and the browser, and no log of the page's doings that would slow it.
import { spawn } from "node:child_process";
import { cpSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { HOOKS } from "./hooks.mjs";

export const newProfile = () => mkdtempSync(join(tmpdir(), "hearthjar-bench-"));
export const copyProfile = (from) => {
  const to = newProfile();
  cpSync(from, to, { recursive: true, filter: (path) => !/Singleton|DevToolsActivePort/.test(path) });
  return to;
};
export const dropProfile = (profile) => rmSync(profile, { recursive: true, force: true, maxRetries: 5 });
export const wait = (ms) => new Promise((done) => setTimeout(done, ms));

const PATIENCE = 240_000;

/// A browser that has just been started is busy with itself: what is timed is the page.
const REST = 1_500;

export class Chromium {
  static async open(profile) {
    const browser = new Chromium();
    browser.calls = new Map();
    browser.heard = [];
    browser.next = 1;
    browser.process = spawn("/usr/bin/chromium", [
      "--headless=new", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
      "--disable-background-networking", "--disable-component-update", "--disable-sync",
      "--lang=en-US", "--remote-debugging-pipe", `--user-data-dir=${profile}`, "about:blank",
    ], { stdio: ["ignore", "ignore", "ignore", "pipe", "pipe"] });
    browser.gone = new Promise((done) => browser.process.once("exit", done));
    const [, , , out, back] = browser.process.stdio;
    browser.out = out;
    out.on("error", () => {});
    let parts = [];
    back.on("data", (data) => {
      let from = 0;
      for (let end = data.indexOf(0); end >= 0; end = data.indexOf(0, from)) {
        parts.push(data.subarray(from, end));
        browser.hear(JSON.parse(Buffer.concat(parts).toString("utf8")));
        parts = [];
        from = end + 1;
      }
      if (from < data.length) parts.push(data.subarray(from));
    });
    await wait(REST);
    return browser;
  }

  hear({ id, error, result, method, params, sessionId }) {
    if (id) {
      const call = this.calls.get(id);
      this.calls.delete(id);
      clearTimeout(call?.late);
      if (error) call?.no(new Error(`${call.method}: ${error.message}`));
      else call?.yes(result);
    } else {
      this.heard = this.heard.filter((one) => !(one.method === method && one.session === sessionId && one.yes(params)));
    }
  }

  send(method, params = {}, sessionId = undefined) {
    const id = this.next++;
    return new Promise((yes, no) => {
      const late = setTimeout(() => { this.calls.delete(id); no(new Error(`${method}: no answer`)); }, PATIENCE);
      this.calls.set(id, { yes, no, method, late });
      this.out.write(`${JSON.stringify({ id, method, params, sessionId })}\0`);
    });
  }

  /// The parameters of the next event of this kind.
  event(method, session) {
    return new Promise((done) => this.heard.push({ method, session, yes: (params) => { done(params); return true; } }));
  }

  /// A page of a phone's size, slowed by `rate`; `before` runs ahead of its scripts.
  async page({ rate = 1, before = "" } = {}) {
    const { targetId } = await this.send("Target.createTarget", { url: "about:blank" });
    const { sessionId } = await this.send("Target.attachToTarget", { targetId, flatten: true });
    const page = new Page(this, sessionId);
    await page.cdp("Page.enable");
    // By the processor's time of the page's thread, which other programs do not lengthen.
    await page.cdp("Performance.enable", { timeDomain: "threadTicks" });
    await page.cdp("Page.addScriptToEvaluateOnNewDocument", { source: HOOKS + before });
    await page.cdp("Emulation.setDeviceMetricsOverride", { width: 360, height: 740, deviceScaleFactor: 1, mobile: true });
    await page.cdp("Emulation.setFocusEmulationEnabled", { enabled: true });
    await page.slow(rate);
    return page;
  }

  async close() {
    await this.send("Browser.close").catch(() => {});
    const late = setTimeout(() => this.process.kill("SIGKILL"), 10_000);
    await this.gone;
    clearTimeout(late);
  }
}

const say = `(e) => (e.getAttribute("aria-label") ?? e.innerText).replace(/\\s+/g, " ").trim()`;

export class Page {
  constructor(browser, session) {
    this.browser = browser;
    this.session = session;
  }

  cdp(method, params = {}) {
    return this.browser.send(method, params, this.session);
  }

  event(method) {
    return this.browser.event(method, this.session);
  }

  slow(rate) {
    return this.cdp("Emulation.setCPUThrottlingRate", { rate });
  }

  /// The value of an expression, awaited.
  async run(expression) {
    const { result, exceptionDetails } = await this.cdp("Runtime.evaluate",
      { expression, awaitPromise: true, returnByValue: true });
    if (exceptionDetails) throw new Error(exceptionDetails.exception?.description ?? exceptionDetails.text);
    return result.value;
  }

  async go(address) {
    await this.cdp("Page.navigate", { url: address });
  }

  /// Waits until an expression holds; asks seldom, so as not to weigh on the page.
  async until(expression, what = expression, ms = PATIENCE) {
    const end = Date.now() + ms;
    while (!(await this.run(expression).catch(() => false))) {
      if (Date.now() > end) {
        throw new Error(`waited in vain for ${what}\n${await this.run("document.body.innerText.slice(0, 1500)")}`);
      }
      await wait(50);
    }
  }

  see(text, ms) {
    return this.until(`document.body.innerText.replace(/\\u00a0/g, " ").includes(${JSON.stringify(text)})`, `“${text}”`, ms);
  }

  /// Where to put the finger for the button, link or choice that says `words`.
  async find(words, within = "body") {
    const look = `(() => {
      const [words, within] = ${JSON.stringify([words, within])};
      const say = ${say};
      const all = [...document.querySelectorAll(within)].flatMap((box) => [...box.querySelectorAll("button, a, summary, label.choice")]);
      const hit = all.find((e) => say(e) === words) ?? all.find((e) => say(e).startsWith(words)) ?? all.find((e) => say(e).includes(words));
      if (!hit || hit.disabled) return null;
      hit.scrollIntoView({ block: "center", behavior: "instant" });
      const { left, top, width, height } = hit.getBoundingClientRect();
      return { x: left + width / 2, y: top + height / 2 };
    })()`;
    let found = null;
    await this.until(`(window.benchFound = ${look}) !== null`, `something to tap: ${words}`, 30_000);
    found = await this.run("window.benchFound");
    return found;
  }

  async press({ x, y }) {
    const at = { x, y, button: "left", clickCount: 1 };
    await this.cdp("Input.dispatchMouseEvent", { ...at, type: "mousePressed" });
    await this.cdp("Input.dispatchMouseEvent", { ...at, type: "mouseReleased" });
  }

  /// Taps what says `words`; milliseconds from the tap to the frame in which `holds`, an
  /// expression over the page, first holds. `worked` is the page's work for it.
  async tap(words, holds, within) {
    const place = await this.find(words, within);
    await this.run(`bench.arm(() => ${holds}), true`);
    const before = await this.work();
    await this.press(place);
    const { from, painted } = await this.run("bench.armed").catch((error) => {
      throw new Error(`after a tap on ${words}: ${error.message}`);
    });
    this.worked = await this.work() - before;
    return painted - from;
  }

  async key(char) {
    const one = char === "⌫"
      ? { key: "Backspace", code: "Backspace", windowsVirtualKeyCode: 8 }
      : { key: char, text: char, windowsVirtualKeyCode: char.toUpperCase().charCodeAt(0) };
    await this.cdp("Input.dispatchKeyEvent", { type: "keyDown", ...one });
    await this.cdp("Input.dispatchKeyEvent", { type: "keyUp", ...one });
  }

  /// Types over what is in the field called `name`.
  async type(name, text) {
    await this.until(`(() => {
      const label = [...document.querySelectorAll("label.field")].find((l) => l.querySelector(".name").innerText.startsWith(${JSON.stringify(name)}));
      const field = label?.querySelector("input, textarea");
      if (!field) return false;
      field.focus(); field.select();
      return true;
    })()`, `a field called ${name}`, 30_000);
    await this.cdp("Input.insertText", { text });
  }

  /// Lets time pass by both clocks of the test.
  pass(minutes) {
    return this.run(`testClock.pass(${minutes * 60_000}), true`);
  }

  /// Milliseconds of processor the page's thread has worked so far, as it is slowed.
  async work() {
    const { metrics } = await this.cdp("Performance.getMetrics");
    return metrics.find(({ name }) => name === "TaskDuration").value * 1000;
  }

  /// Bytes in use after the garbage is gone: JavaScript's, and each wasm memory's.
  async memory() {
    await this.cdp("HeapProfiler.collectGarbage");
    const { usedSize } = await this.cdp("Runtime.getHeapUsage");
    return { heap: usedSize, wasm: await this.run("bench.memories.map((memory) => memory.buffer.byteLength)") };
  }
}
