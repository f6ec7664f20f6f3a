// Draws public/icons/*.png from mark.svg with the browser of the tests: run by hand
// after a change of the mark (`.ci/setup check && node .ci/icons.mjs`), and committed.
import { createRequire } from "node:module";
import { readFileSync, writeFileSync } from "node:fs";

const require = createRequire(new URL("../tests/browser/package.json", import.meta.url));
const { Builder, Browser } = require("selenium-webdriver");
const chrome = require("selenium-webdriver/chrome");

const folder = new URL("../public/icons/", import.meta.url);
const svg = readFileSync(new URL("mark.svg", folder), "utf8");
const ground = /<rect [^>]*fill="(#\w+)"/.exec(svg)[1];

/// Name, pixels a side, whether the ground fills the square, and the share of the
/// side that the mark takes. A maskable icon may be cut to a circle of 80 %.
const PICTURES = [
  ["mark-180.png", 180, true, 0.9],
  ["mark-192.png", 192, false, 1],
  ["mark-512.png", 512, false, 1],
  ["mark-512-maskable.png", 512, true, 0.78],
];

const options = new chrome.Options();
options.setChromeBinaryPath("/usr/bin/chromium");
options.addArguments("--headless=new", "--no-sandbox", "--disable-gpu", "--disable-background-networking", "--no-first-run");
const driver = await new Builder().forBrowser(Browser.CHROME).setChromeOptions(options)
  .setChromeService(new chrome.ServiceBuilder("/usr/bin/chromedriver")).build();
const cdp = (command, params) => driver.sendAndGetDevToolsCommand(command, params);
try {
  await cdp("Emulation.setDefaultBackgroundColorOverride", { color: { r: 0, g: 0, b: 0, a: 0 } });
  for (const [name, side, full, share] of PICTURES) {
    await cdp("Emulation.setDeviceMetricsOverride", { width: side, height: side, deviceScaleFactor: 1, mobile: false });
    const mark = Math.round(side * share);
    const page = `<body style="margin:0;display:grid;place-items:center;height:100vh${full ? `;background:${ground}` : ""}">
      <img width="${mark}" height="${mark}" src="data:image/svg+xml;base64,${Buffer.from(svg).toString("base64")}">`;
    await driver.get(`data:text/html;base64,${Buffer.from(page).toString("base64")}`);
    const { data } = await cdp("Page.captureScreenshot", { format: "png" });
    writeFileSync(new URL(name, folder), data, "base64");
  }
} finally {
  await driver.quit();
}
