// The page in two halves: the desk's is fetched when it is needed, kept with the
// rest, and its absence or fault does not touch a running clock.
import assert from "node:assert/strict";
import { test } from "node:test";
import { serve } from "../../.ci/serve.mjs";
import { Phone } from "./harness/browser.mjs";
import { dist } from "./harness/builds.mjs";
import { begin, runStages, smoked } from "./harness/job.mjs";

const isDesk = (url) => url.includes("hearthjar-desk-");

test("the desk's half is not fetched for the first opening, and opens without the host later", async () => {
  const server = await serve(dist);
  const phone = await Phone.open(server.address);
  await begin(phone);
  await phone.kept();
  assert.deepEqual((await phone.requests()).filter(isDesk), []);
  await server.stop();
  await phone.tap("Shelf", { within: "nav" });
  await phone.see("Search: food, size, place, lids");
  await phone.tap("More", { within: "nav" });
  await phone.tap("Canners and places");
  await phone.see("Add the canner");
  // A place added there is offered on the stove's side at once, and back again.
  await phone.type("Name of a place", "Cabin");
  await phone.type("Its altitude, feet", "4100");
  await phone.tap("Add the place");
  await phone.see("Cabin, 4100 ft");
  await phone.tap("Today", { within: "nav" });
  await phone.tap("Can something");
  await phone.see("Cabin");
  await phone.reload();
  await phone.tap("More", { within: "nav" });
  await phone.tap("Canners and places");
  await phone.see("Cabin, 4100 ft");
  await phone.close();
});

test("a desk that cannot be had, or faults, leaves the clock running", async () => {
  const server = await serve(dist);
  // No worker: every address must come from the host.
  const phone = await Phone.open(server.address, { before: "delete Navigator.prototype.serviceWorker;" });
  await begin(phone);
  await smoked(phone);
  await runStages(phone, 0, 4);
  await phone.see("Hold at 13 psi");
  const place = await phone.run("return location.hash");
  const before = await phone.clock();
  const began = Date.now();
  await server.stop();
  await phone.tap("Shelf", { within: "nav" });
  await phone.see("This part could not be fetched");
  await phone.run("location.hash = arguments[0]", place);
  await phone.see("Hold at 13 psi");
  await server.start();
  // Asked for again, it comes.
  await phone.tap("Shelf", { within: "nav" });
  await phone.see("Search: food, size, place, lids");
  await phone.run("location.hash = arguments[0]", place);
  await phone.see("Hold at 13 psi");
  const passed = (Date.now() - began) / 1000;
  const shown = await phone.clock();
  assert.ok(Math.abs(before - passed - shown) <= 2, `${before} s less ${passed} s, ${shown} s shown`);
  await phone.tap("Pressure dropped");
  await phone.see("Heat was too low");
  await phone.close();
  await server.stop();
});
