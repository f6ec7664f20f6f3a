// Draws the PNG icons from public/icons/mark.svg; run it after changing the mark:
// `node .ci/icons.mjs` (needs `./check` to have been set up).
import { readFileSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
const require = createRequire(new URL("../tests/browser/package.json", import.meta.url));
const { Builder, Browser } = require("selenium-webdriver");
const chrome = require("selenium-webdriver/chrome");

const folder = new URL("../public/icons/", import.meta.url);
const mark = readFileSync(new URL("mark.svg", folder), "utf8");
const options = new chrome.Options();
options.setChromeBinaryPath("/usr/bin/chromium");
options.addArguments("--headless=new", "--no-sandbox", "--disable-gpu", "--hide-scrollbars");
const driver = await new Builder().forBrowser(Browser.CHROME).setChromeOptions(options)
  .setChromeService(new chrome.ServiceBuilder("/usr/bin/chromedriver")).build();
const draw = async (name, size, inset) => {
  // A maskable icon keeps its drawing in the middle four fifths, on a full ground.
  const ground = inset ? "#14365c" : "transparent";
  const side = size * (1 - 2 * inset);
  const html = `<body style="margin:0;background:${ground}"><img style="display:block;margin:${size * inset}px;width:${side}px" src="data:image/svg+xml;base64,${Buffer.from(mark).toString("base64")}">`;
  await driver.sendDevToolsCommand("Emulation.setDeviceMetricsOverride", { width: size, height: size, deviceScaleFactor: 1, mobile: false });
  await driver.sendDevToolsCommand("Emulation.setDefaultBackgroundColorOverride", { color: { r: 0, g: 0, b: 0, a: 0 } });
  await driver.get(`data:text/html;base64,${Buffer.from(html).toString("base64")}`);
  writeFileSync(new URL(name, folder), await driver.takeScreenshot(), "base64");
};
await draw("mark-192.png", 192, 0);
await draw("mark-512.png", 512, 0);
await draw("mark-512-maskable.png", 512, 0.1);
await draw("mark-180.png", 180, 0.1);
await driver.quit();
