// The screens drawn ahead, out of sight, leave nothing behind; links lead on at once, and
// the way back is the browser's own.
import assert from "node:assert/strict";
import { test } from "node:test";
import { serve } from "../../.ci/serve.mjs";
import { Phone } from "./harness/browser.mjs";

const dist = new URL("../../dist", import.meta.url).pathname;

test("what is drawn ahead is neither shown nor kept", async () => {
  const server = await serve(dist);
  // Counts the elements made: out of sight a screen is made and put in no page.
  const phone = await Phone.open(server.address, { before: `
    const real = document.createElement.bind(document);
    window.made = 0;
    document.createElement = (name) => { window.made += 1; return real(name); };` });
  await phone.until(() => phone.run("return window.made > 3 * document.body.querySelectorAll('*').length"), "screens drawn ahead");
  let last = -1;
  await phone.until(async () => {
    const before = last;
    last = await phone.run("return window.made");
    await new Promise((done) => setTimeout(done, 600));
    return last === before;
  }, "the end of it", 20_000);
  assert.equal(await phone.title(), "Before you can");
  assert.equal(await phone.run("return document.querySelectorAll('h1').length"), 1);
  assert.deepEqual(await phone.rows(), []);
  const kept = (name) => phone.run("return localStorage.getItem(`hearthjar/${arguments[0]}`)", name);
  assert.deepEqual(JSON.parse(await kept("clocks") ?? "[]"), []);
  assert.deepEqual(JSON.parse(await kept("front") ?? '{"batches":[]}').batches, []);
  await phone.reload();
  assert.equal(await phone.title(), "Before you can");
  assert.deepEqual(await phone.complaints(), []);
  await phone.close();
  await server.stop();
});

test("links lead on at once, back is back, and more than a plain tap is the browser's", async () => {
  const server = await serve(dist);
  const phone = await Phone.open(server.address);
  await phone.tap("I have read this");
  await phone.see("Nothing is on the stove");
  const link = "const link = document.querySelector('nav a[href=\"#/hand-over\"]');";
  const left = await phone.run(`${link}
    let prevented = null;
    addEventListener("click", (event) => { prevented = event.defaultPrevented; event.preventDefault(); }, { once: true });
    link.dispatchEvent(new MouseEvent("click", { bubbles: true, cancelable: true, ctrlKey: true }));
    return [prevented, location.hash];`);
  assert.deepEqual(left, [false, "#/"]);
  const led = await phone.run(`${link}
    let prevented = null;
    addEventListener("click", (event) => { prevented = event.defaultPrevented; }, { once: true });
    link.querySelector("use").dispatchEvent(new MouseEvent("click", { bubbles: true, cancelable: true }));
    return [prevented, location.hash];`);
  assert.deepEqual(led, [true, "#/hand-over"]);
  await phone.until(async () => (await phone.title()) === "Hand over", "the screen it leads to");
  await phone.until(() => phone.run("return document.activeElement?.id === 'title'"), "the heading to have the focus");
  await phone.run("history.back()");
  await phone.until(async () => (await phone.title()) === "Today", "the screen before");
  await phone.run("history.forward()");
  await phone.until(async () => (await phone.title()) === "Hand over", "the screen after");
  await phone.close();
  await server.stop();
});
