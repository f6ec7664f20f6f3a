// One Chromium on a profile of its own, driven through its driver, as a person
// would use it: taps by the words on the screen.
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { mkdirSync, mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { after } from "node:test";
import { Browser, Builder, By, until } from "selenium-webdriver";
import chrome from "selenium-webdriver/chrome.js";
import { CLOCK } from "./clock.mjs";

const here = new URL("..", import.meta.url).pathname;
const axeSource = readFileSync(join(here, "node_modules/axe-core/axe.min.js"), "utf8");
/// WCAG 2.0 to 2.2 at level AA, and the enhanced contrast of level AAA (7:1; 4.5:1
/// for large text).
const AXE = {
  runOnly: { type: "tag", values: ["wcag2a", "wcag2aa", "wcag21aa", "wcag22aa"] },
  rules: { "color-contrast-enhanced": { enabled: true }, "target-size": { enabled: true } },
};
const shots = new URL("../../screenshots/", import.meta.url).pathname;

/// A fresh profile folder.
export const newProfile = () => mkdtempSync(join(tmpdir(), "hearthjar-profile-"));

/// A test that fails leaves its phone open; it is put away when the file is done, or
/// the run would hang instead of failing.
export const left = new Set();
after(async () => {
  for (const phone of left) await phone.close().catch(() => {});
});

export const size = { portrait: [360, 740], landscape: [740, 360], narrow: [320, 640] };

export class Phone {
  /// Opens `address`; with `wait: false` it need not become ready, with
  /// `script: false` the page's scripts do not run; `before` runs before them.
  static async open(address, { profile = newProfile(), dark = false, view = size.portrait, skew = 0, before = "", wait = true, script = true } = {}) {
    const phone = new Phone();
    phone.address = address;
    phone.profile = profile;
    phone.skew = skew;
    phone.downloads = join(profile, "downloads");
    mkdirSync(phone.downloads, { recursive: true });
    const options = new chrome.Options();
    options.setChromeBinaryPath("/usr/bin/chromium");
    options.addArguments(
      "--headless=new", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
      "--disable-background-networking", "--disable-component-update", "--disable-sync",
      "--lang=en-US", `--user-data-dir=${profile}`);
    options.setUserPreferences({ "download.default_directory": phone.downloads });
    const log = { browser: "ALL", performance: "ALL" };
    options.set("goog:loggingPrefs", log);
    phone.driver = await new Builder().forBrowser(Browser.CHROME)
      .setChromeOptions(options)
      .setChromeService(new chrome.ServiceBuilder("/usr/bin/chromedriver"))
      .build();
    left.add(phone);
    await phone.cdp("Page.addScriptToEvaluateOnNewDocument", { source: CLOCK(skew) + before });
    await phone.look(view, dark);
    if (!script) await phone.cdp("Emulation.setScriptExecutionDisabled", { value: true });
    await phone.driver.get(address);
    if (wait) await phone.ready();
    return phone;
  }

  cdp(command, params = {}) {
    return this.driver.sendAndGetDevToolsCommand(command, params);
  }

  async look([width, height], dark = false) {
    await this.cdp("Emulation.setDeviceMetricsOverride",
      { width, height, deviceScaleFactor: 1, mobile: true });
    await this.cdp("Emulation.setEmulatedMedia",
      { features: [{ name: "prefers-color-scheme", value: dark ? "dark" : "light" }] });
  }

  /// Opens an address in a second tab and goes there.
  async tab(address) {
    await this.driver.switchTo().newWindow("tab");
    await this.cdp("Page.addScriptToEvaluateOnNewDocument", { source: CLOCK(this.skew) });
    await this.driver.get(address);
    await this.ready();
    return this.driver.getWindowHandle();
  }

  async load() {
    await this.driver.get(this.address);
    await this.ready();
  }

  async reload() {
    await this.driver.navigate().refresh();
    await this.ready();
  }

  async ready() {
    await this.driver.wait(until.elementLocated(By.css("html[data-ready]")), 20_000);
    await this.until(async () => !(await this.text()).includes("Reading the record"), "the record");
  }

  run(script, ...args) {
    return this.driver.executeScript(script, ...args);
  }

  /// What the screen says; spaces that keep a figure with its unit are spaces.
  text() {
    return this.run("return document.body.innerText.replace(/\\u00a0/g, ' ')");
  }

  async until(holds, what, ms = 8_000) {
    const end = Date.now() + ms;
    for (;;) {
      if (await holds()) return;
      if (Date.now() > end) throw new Error(`waited in vain for ${what}\n${await this.text()}`);
      await new Promise((done) => setTimeout(done, 40));
    }
  }

  see(text, ms) {
    return this.until(async () => (await this.text()).includes(text), `“${text}”`, ms);
  }

  /// Taps the button, link, choice or summary that says `words`.
  async tap(words, { within = "body" } = {}) {
    this.taps = (this.taps ?? 0) + 1;
    await this.until(async () => {
      const hit = await this.run(`
        const [words, within] = arguments;
        const say = (e) => (e.getAttribute("aria-label") ?? e.innerText).replace(/\\s+/g, " ").trim();
        const all = [...document.querySelectorAll(within)].flatMap((box) =>
          [...box.querySelectorAll("button, a, summary, label.choice")]);
        const hit = all.find((e) => say(e) === words) ?? all.find((e) => say(e).startsWith(words))
          ?? all.find((e) => say(e).includes(words));
        if (!hit || hit.disabled) return null;
        hit.scrollIntoView({ block: "nearest" });
        return hit;`, words, within);
      // A real click, as the page's sound and buzz demand; the screen may be drawn
      // anew between the look and the click, and then it is looked for again.
      return hit ? hit.click().then(() => true, () => false) : false;
    }, `something to tap: ${words}`);
    // The tap has counted once its row is durable and the screen has followed.
    await new Promise((done) => setTimeout(done, 60));
  }

  /// Types into the field called `name`.
  async type(name, text) {
    await this.until(() => this.run(`
      const [name, text] = arguments;
      const all = [...document.querySelectorAll("label.field")];
      const called = (l) => l.querySelector(".name").innerText.replace(/\\u00a0/g, " ");
      const label = all.find((l) => called(l) === name) ?? all.find((l) => called(l).startsWith(name));
      const field = label?.querySelector("input, textarea");
      if (!field) return false;
      field.value = text;
      field.dispatchEvent(new InputEvent("input", { bubbles: true }));
      return true;`, name, text), `a field called ${name}`);
  }

  /// Lets time pass, for both clocks, and waits for the next tick.
  async pass(minutes) {
    this.skew += minutes * 60_000;
    await this.run("testClock.pass(arguments[0])", minutes * 60_000);
    await new Promise((done) => setTimeout(done, 1_150));
  }

  async jump(minutes) {
    this.skew += minutes * 60_000;
    await this.run("testClock.jump(arguments[0])", minutes * 60_000);
    await new Promise((done) => setTimeout(done, 1_150));
  }

  /// The running clock's digits, in seconds.
  async clock() {
    const digits = await this.run("return document.querySelector('.digits')?.innerText ?? ''");
    return digits.split(":").reduce((sum, part) => sum * 60 + Number(part), 0);
  }

  title() {
    return this.run("return document.querySelector('h1')?.innerText.replace(/\\u00a0/g, ' ')");
  }

  /// The browser's processes.
  pids() {
    try {
      const found = execFileSync("pgrep", ["-f", `user-data-dir=${this.profile}`], { encoding: "utf8" });
      return found.trim().split("\n").map(Number);
    } catch {
      return [];
    }
  }

  slay(pids) {
    for (const pid of pids) {
      try { process.kill(pid, "SIGKILL"); } catch { /* gone with its parent */ }
    }
  }

  /// Kills the whole browser as a phone kills it, and opens it again.
  async kill() {
    this.slay(this.pids());
    await this.driver.quit().catch(() => {});
    for (const name of readdirSync(this.profile)) {
      if (name.startsWith("Singleton")) rmSync(join(this.profile, name), { force: true });
    }
    const again = await Phone.open(this.address, { profile: this.profile, skew: this.skew });
    left.delete(again);
    this.driver = again.driver;
  }

  async close() {
    if (!left.delete(this)) return;
    await this.driver.quit();
    rmSync(this.profile, { recursive: true, force: true, maxRetries: 5 });
  }

  async shot(name) {
    mkdirSync(shots, { recursive: true });
    writeFileSync(join(shots, `${name}.png`), await this.driver.takeScreenshot(), "base64");
  }

  /// Pictures of the screen upright, sideways and narrow, light and dark; it must not
  /// be wider than any of them.
  async views(name) {
    for (const dark of [false, true]) {
      for (const [view, edges] of Object.entries(size)) {
        await this.look(edges, dark);
        await this.shot(`${name}-${view}${dark ? "-dark" : ""}`);
        const over = await this.run("return document.documentElement.scrollWidth > innerWidth");
        assert.equal(over, false, `${name} is wider than ${view}`);
      }
    }
    await this.look(size.portrait);
  }

  /// What axe-core finds wrong on the screen as it stands.
  async axe(options = AXE) {
    if (!(await this.run("return Boolean(window.axe)"))) await this.run(axeSource);
    const found = await this.driver.executeAsyncScript(
      "const done = arguments[1]; axe.run(arguments[0]).then((r) => done(r.violations));", options);
    return found.map((v) => `${v.id}: ${v.nodes.map((n) => n.html.slice(0, 120)).join(" | ")}`);
  }

  /// Every event row in the database, as text, sorted; not the phone's own name.
  rows() {
    return this.driver.executeAsyncScript(`
      const done = arguments[0];
      const open = indexedDB.open("hearthjar");
      open.onsuccess = () => {
        const store = open.result.transaction("events").objectStore("events");
        const keys = store.getAllKeys();
        const all = store.getAll();
        all.onsuccess = () => {
          open.result.close();
          done(all.result.filter((_, place) => keys.result[place] !== "phone").sort());
        };
      };`);
  }

  /// What the page complained about: errors, broken policy, failed loads.
  async complaints() {
    const entries = await this.driver.manage().logs().get("browser");
    return entries.filter((e) => e.level.value >= 1000).map((e) => e.message);
  }

  /// Every address the browser asked for.
  async requests() {
    const entries = await this.driver.manage().logs().get("performance");
    return entries
      .map((entry) => JSON.parse(entry.message).message)
      .filter((message) => message.method === "Network.requestWillBeSent")
      .map((message) => message.params.request.url);
  }

  /// Waits until the service worker holds the whole app.
  async kept() {
    await this.driver.executeAsyncScript(`
      const done = arguments[0];
      navigator.serviceWorker.ready.then(async () => {
        while (!(await caches.keys()).some((name) => name.startsWith("hearthjar-"))) {
          await new Promise((wait) => setTimeout(wait, 50));
        }
        done(true);
      });`);
  }
}
