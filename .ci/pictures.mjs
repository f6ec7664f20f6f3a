// Takes the README's pictures from the build in dist: `node .ci/pictures.mjs`.
// An invented day at an invented lake, walked through by taps as the tests do.
import { mkdirSync, writeFileSync } from "node:fs";
import { serve } from "./serve.mjs";
import { Phone, size } from "../tests/browser/harness/browser.mjs";
import { begin, rest, runStages, smoked, stages } from "../tests/browser/harness/job.mjs";

const top = new URL("..", import.meta.url).pathname;
const out = `${top}tests/pictures/`;
mkdirSync(out, { recursive: true });

const server = await serve(`${top}dist`);
const phone = await Phone.open(server.address);
const take = async (name, view = size.portrait, dark = false) => {
  await phone.look(view, dark);
  // No focus ring where nobody types.
  await phone.run("document.activeElement?.blur()");
  writeFileSync(`${out}${name}.png`, await phone.driver.takeScreenshot(), "base64");
  await phone.look(size.portrait);
};

await begin(phone);
await phone.type("Height above sea level", "5200");
await phone.tap("lightly smoked");
await phone.tap("half-pint");
await phone.tap("Pressure canner, dial gauge");
await phone.see("Start: 110 min");
await phone.run("document.getElementById('answer').scrollIntoView()");
await take("find");
await smoked(phone);
await runStages(phone, 0, 4);
await phone.pass(41);
await phone.see(stages[4].title);
await take("hold");
await take("hold-propped", size.landscape, true);
await phone.pass(69);
await phone.tap("Heat is off");
await runStages(phone, 5);
await phone.see(rest.title);
await phone.pass(rest.minutes);
for (let jar = 1; jar <= 5; jar += 1) await phone.tap(`${jar} not checked`, { within: ".jars" });
await phone.see("5 of 7 checked.");
await take("seals");
await phone.close();
await server.stop();
