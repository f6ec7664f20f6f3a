// The other two browser engines, through their own drivers. Their drivers cannot put
// a script before the page's own, so the clock that tests move comes with the build.
import { spawn } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { createServer } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { Builder, Capabilities } from "selenium-webdriver";
import { pack } from "../../../.ci/pack.mjs";
import { Phone, left } from "./browser.mjs";
import { CLOCK } from "./clock.mjs";
import { copyBuild } from "./builds.mjs";

const MINI = "/usr/lib/x86_64-linux-gnu/webkit2gtk-4.1/MiniBrowser";

/// A copy of the build with the clock that tests move.
export const movableBuild = () => {
  const root = copyBuild();
  const page = join(root, "index.html");
  writeFileSync(join(root, "test-clock.js"), CLOCK(0));
  const text = readFileSync(page, "utf8");
  const first = text.indexOf("<script");
  writeFileSync(page, `${text.slice(0, first)}<script src="test-clock.js"></script>${text.slice(first)}`);
  pack(root);
  return root;
};

const freePort = () => new Promise((done, fail) => {
  const probe = createServer().on("error", fail).listen(0, "127.0.0.1", () => {
    const { port } = probe.address();
    probe.close(() => done(port));
  });
});

const until = async (holds, what, ms = 30_000) => {
  const end = Date.now() + ms;
  while (!(await holds())) {
    if (Date.now() > end) throw new Error(`waited in vain for ${what}`);
    await new Promise((done) => setTimeout(done, 100));
  }
};

/// Starts a program of this test's own; what it says is kept for when it fails.
const start = (program, args, env, stdio = ["ignore", "pipe", "pipe"]) => {
  const child = spawn(program, args, { stdio, env: { ...process.env, ...env } });
  child.said = "";
  child.gone = false;
  for (const stream of [child.stdout, child.stderr]) stream?.on("data", (data) => { child.said += data; });
  child.on("error", (error) => { child.said += error; child.gone = true; });
  child.on("exit", () => { child.gone = true; });
  return child;
};

/// A screen in memory; says its number. It picks a free one itself.
const screen = async () => {
  const child = start("Xvfb", ["-displayfd", "3", "-screen", "0", "1000x1200x24", "-nolisten", "tcp"], {},
    ["ignore", "pipe", "pipe", "pipe"]);
  let number = "";
  child.stdio[3].on("data", (data) => { number += data; });
  await until(() => number.includes("\n") || child.gone, "a screen in memory");
  if (child.gone) throw new Error(`Xvfb: ${child.said}`);
  return { child, display: `:${number.trim()}` };
};

const engines = {
  Firefox: {
    driver: "geckodriver",
    args: (port, home) => ["--port", String(port), "--profile-root", home, "--websocket-port", "0"],
    env: { MOZ_HEADLESS: "1" },
    screen: false,
    options: {
      browserName: "firefox",
      "moz:firefoxOptions": { binary: "/usr/bin/firefox-esr", args: ["-headless"] },
    },
  },
  WebKit: {
    driver: "/usr/bin/WebKitWebDriver",
    args: (port) => [`--port=${port}`],
    // Drawn by the processor alone, as there is no card.
    env: { LIBGL_ALWAYS_SOFTWARE: "1", WEBKIT_DISABLE_COMPOSITING_MODE: "1", NO_AT_BRIDGE: "1" },
    screen: true,
    options: {
      browserName: "MiniBrowser",
      "webkitgtk:browserOptions": { binary: MINI, args: ["--automation"] },
    },
  },
};

/// The names of the engines.
export const names = Object.keys(engines);

/// One page in another engine; taps, looks and time as in `Phone`.
export class Guest extends Phone {
  static async open(name, address) {
    const engine = engines[name];
    const guest = new Guest();
    guest.address = address;
    guest.skew = 0;
    guest.profile = mkdtempSync(join(tmpdir(), "hearthjar-guest-"));
    guest.children = [];
    left.add(guest);
    // The language decides between feet and metres.
    const tongue = { LANG: "en_US.UTF-8", LANGUAGE: "en_US:en" };
    const env = { ...engine.env, ...tongue, HOME: guest.profile, XDG_DATA_HOME: "", XDG_CACHE_HOME: "", XDG_CONFIG_HOME: "" };
    if (engine.screen) {
      const { child, display } = await screen();
      guest.children.push(child);
      env.DISPLAY = display;
    }
    const port = await freePort();
    const driver = start(engine.driver, engine.args(port, guest.profile), env);
    guest.children.push(driver);
    const server = `http://127.0.0.1:${port}`;
    await until(async () => {
      if (driver.gone) throw new Error(`${engine.driver}: ${driver.said}`);
      return fetch(`${server}/status`).then((answer) => answer.ok, () => false);
    }, `the driver of ${name}`);
    guest.driver = await new Builder().usingServer(server)
      .withCapabilities(new Capabilities(engine.options)).build();
    await guest.driver.get(address);
    await guest.ready();
    return guest;
  }

  /// Leaves the page and opens it again: what one driver calls a refresh goes past
  /// the worker, as a person's forced reload does.
  async reload() {
    const address = await this.driver.getCurrentUrl();
    await this.driver.get("about:blank");
    await this.driver.get(address);
    await this.ready();
  }

  async close() {
    if (!left.delete(this)) return;
    await this.driver?.quit().catch(() => {});
    for (const child of this.children.reverse()) {
      if (child.gone) continue;
      child.kill();
      await until(() => child.gone, "a driver to end", 5_000).catch(() => child.kill("SIGKILL"));
    }
    rmSync(this.profile, { recursive: true, force: true, maxRetries: 5 });
  }
}
