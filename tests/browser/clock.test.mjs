// The phone's clock changes under a running hold: the time left is right, or the page
// says what it cannot know. It never ends early. The clock is the test's own.
import assert from "node:assert/strict";
import { test } from "node:test";
import { serve } from "../../.ci/serve.mjs";
import { Phone } from "./harness/browser.mjs";
import { dist } from "./harness/builds.mjs";
import { begin, runStages, smoked } from "./harness/job.mjs";

const HOLD = 110 * 60;
const HOUR = 60;
const wait = (ms) => new Promise((done) => setTimeout(done, ms));

/// A phone in the hold, `minutes` into it; `run` does the rest.
const holding = async (minutes, run, options = {}) => {
  const server = await serve(dist);
  const phone = await Phone.open(server.address, options);
  await begin(phone);
  await smoked(phone);
  await runStages(phone, 0, 4);
  await phone.see("Hold at 13 psi");
  const began = Date.now();
  await phone.pass(minutes);
  /// Seconds that really passed beside those the test let pass.
  const beside = () => (Date.now() - began) / 1000;
  const left = async (expected, what) => {
    const shown = await phone.clock();
    const off = Math.abs(shown - (expected - beside()));
    assert.ok(off <= 5, `${what}: ${shown} s left, ${expected - beside()} s expected`);
  };
  await run(phone, left, server);
  await phone.close();
  await server.stop();
};

/// Whether the button that ends the hold would take a tap.
const ends = (phone) => phone.run(`
  const end = [...document.querySelectorAll("main button")].find((b) => b.innerText.startsWith("Heat is off"));
  return end !== undefined && !end.disabled;`);

const hide = (phone, hidden) => phone.run(`
  Object.defineProperty(document, "hidden", { value: ${hidden}, configurable: true });
  Object.defineProperty(document, "visibilityState", { value: "${hidden ? "hidden" : "visible"}", configurable: true });
  document.dispatchEvent(new Event("visibilitychange"));`);

test("set back an hour, then set right again", async () => {
  await holding(30, async (phone, left) => {
    await phone.jump(-HOUR);
    await phone.see("was set back 1 h");
    await left(80 * 60, "set back");
    // Less than the jump: the stage then looks younger than the jump back to now is long.
    await phone.pass(10);
    await left(70 * 60, "ten minutes on");
    // Set right: forward again, which may not count unasked.
    await phone.jump(HOUR);
    await phone.see("The clock moved forward 1 h");
    await left(70 * 60, "set right");
    assert.equal(await ends(phone), false);
    await phone.tap("Yes, the phone only slept");
    // By the other clock the hold has lasted as long as this one says, so all of it counts.
    await left(70 * 60, "answered");
    await phone.reload();
    await phone.see("Hold at 13 psi");
    await left(70 * 60, "after a reload");
  });
});

test("set forward past the end: the hold does not end", async () => {
  await holding(30, async (phone, left) => {
    await phone.jump(3 * HOUR);
    await phone.see("The clock moved forward 3 h");
    await left(80 * 60, "before the answer");
    assert.equal(await ends(phone), false);
    await phone.tap("No, or not sure");
    await phone.see("That is not counted as time passed");
    await left(80 * 60, "after the answer");
    assert.equal(await ends(phone), false);
    assert.ok(!(await phone.text()).includes("Time is over."));
    await phone.pass(81);
    await phone.see("Time is over.");
    await phone.until(() => ends(phone), "the tap that ends the hold");
  });
});

test("asleep for hours, hidden: asked, and right by the answer", async () => {
  await holding(30, async (phone, left) => {
    await hide(phone, true);
    await phone.jump(8 * HOUR);
    await hide(phone, false);
    await phone.see("The clock moved forward 8 h");
    await left(80 * 60, "before the answer");
    await phone.tap("Yes, the phone only slept");
    await phone.see("Time is over.");
    await phone.see("ago");
  });
});

test("closed while the clock went on: asked, whatever was last noted", async () => {
  for (const forget of ["", `localStorage.removeItem("hearthjar/beat");`]) {
    await holding(30, async (phone, left) => {
      // Three hours pass while the page is closed.
      await phone.run("sessionStorage.setItem('test-skew', String(Number(sessionStorage.getItem('test-skew')) + arguments[0]))",
        3 * HOUR * 60_000);
      if (forget) {
        await phone.run(`addEventListener("pagehide", () => setTimeout(() => {}, 0));
          Storage.prototype.setItem = () => {}; ${forget}`);
      }
      await phone.reload();
      await phone.see("The clock moved forward");
      const shown = await phone.clock();
      assert.ok(shown >= 79 * 60, `${shown} s left`);
      assert.equal(await ends(phone), false);
      if (!forget) await left(80 * 60, "before the answer");
      await phone.tap("Yes, the phone only slept");
      await phone.see("Time is over.");
    });
  }
});

test("another zone, and daylight saving: the time left stays, the clock on the wall changes", async () => {
  // In New York clocks went from 2:00 to 3:00 on 8 March 2026 (Energy Policy Act of 2005,
  // section 110: second Sunday of March).
  const night = Date.UTC(2026, 2, 8, 6, 0) - Date.now();
  await holding(10, async (phone, left) => {
    await phone.cdp("Emulation.setTimezoneOverride", { timezoneId: "America/New_York" });
    await phone.pass(5);
    await left(HOLD - 15 * 60, "in New York");
    // Begun about 1:30 in winter time, it ends after 3:00 in summer time.
    await phone.pass(60);
    await left(HOLD - 75 * 60, "over the change");
    assert.match(await phone.text(), /\b4:\d\d am/, "the end by the clock on the wall");
    await phone.cdp("Emulation.setTimezoneOverride", { timezoneId: "Asia/Tokyo" });
    await wait(1_200);
    await left(HOLD - 75 * 60, "in Tokyo");
    assert.ok(!(await phone.text()).includes("The clock moved"));
    await phone.pass(36);
    await phone.see("Time is over.");
  }, { skew: night });
});

test("a hidden tab that the browser slows down is right when it is looked at", async () => {
  const slow = `(() => {
    const set = window.setTimeout.bind(window);
    window.setTimeout = (what, ms, ...more) => set(what, document.hidden ? Math.max(ms ?? 0, 60_000) : ms, ...more);
  })();`;
  await holding(10, async (phone, left) => {
    await hide(phone, true);
    // The timer already set fires once more; from then on the page hardly looks.
    await wait(1_200);
    await phone.run("testClock.pass(arguments[0])", 45 * 60_000);
    phone.skew += 45 * 60_000;
    await hide(phone, false);
    await left(HOLD - 55 * 60, "looked at again");
    assert.ok(!(await phone.text()).includes("The clock moved"));
    await hide(phone, true);
    await phone.run("testClock.pass(arguments[0])", 56 * 60_000);
    phone.skew += 56 * 60_000;
    await hide(phone, false);
    await phone.see("Time is over.");
  }, { before: slow });
});
