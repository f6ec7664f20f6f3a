// The main job in the engines of Firefox and of WebKitGTK, each through its own
// driver; Chromium does it in job.test.mjs. What an engine cannot do is said, not shown.
import assert from "node:assert/strict";
import { rmSync } from "node:fs";
import { test } from "node:test";
import { serve } from "../../.ci/serve.mjs";
import { Guest, movableBuild, names } from "./harness/engines.mjs";
import { begin, rest, runStages, smoked } from "./harness/job.mjs";

for (const name of names) {
  test(`the main job in ${name}`, async () => {
    const root = movableBuild();
    const server = await serve(root);
    const page = await Guest.open(name, server.address);
    await begin(page);
    await smoked(page);
    await runStages(page, 0, 4);
    // The clock is right to the second, and survives a reload.
    assert.ok(Math.abs(await page.clock() - 6600) <= 5);
    await page.pass(60);
    await page.reload();
    await page.see("Hold at 13 psi");
    assert.ok(Math.abs(await page.clock() - 3000) <= 10);
    await page.pass(50);
    await page.see("Time is over.");
    await page.tap("Heat is off");
    await runStages(page, 5);
    await page.see(rest.title);
    await page.pass(rest.minutes);
    await page.see("Check the seals");
    for (let jar = 1; jar <= 7; jar += 1) await page.tap(`${jar} not checked`, { within: ".jars" });
    await page.see("7 of 7 checked. 7 sealed.");
    await page.type("Where they stand", "Cellar, second board");
    await page.tap("Put on the shelf");
    await page.see("On the shelf: Cellar, second board");
    await page.tap("Shelf", { within: "nav" });
    await page.see("Cellar, second board");
    // Without a host: from what the worker kept.
    await page.kept();
    await server.stop();
    await page.reload();
    await page.see("Cellar, second board");
    // What the engine lacks is said.
    const buzzes = await page.run("return 'vibrate' in navigator");
    await page.tap("More", { within: "nav" });
    await page.see(buzzes ? "This phone can buzz." : "This browser cannot buzz.");
    const wide = await page.run("return document.documentElement.scrollWidth - innerWidth");
    assert.ok(wide <= 0, `${wide} px too wide`);
    await page.close();
    rmSync(root, { recursive: true, force: true });
  });
}
