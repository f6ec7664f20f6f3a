// Labels as a browser prints them: the PDF has the right pages of the right size,
// every word of a label lies inside it, and none over another. Also offline.
import assert from "node:assert/strict";
import { mkdirSync, writeFileSync } from "node:fs";
import { test } from "node:test";
import { serve } from "../../.ci/serve.mjs";
import { Phone, size } from "./harness/browser.mjs";
import { dist } from "./harness/builds.mjs";
import { begin, rest, runStages, smoked } from "./harness/job.mjs";

const shots = new URL("../screenshots/", import.meta.url).pathname;
const POINTS = 72 / 25.4;
const papers = { A4: [210, 297], Letter: [215.9, 279.4] };

/// Pages and their sizes in mm, as the PDF's own page objects have them (ISO 32000-1,
/// 7.7.3.3: MediaBox, in points of 1/72 in).
const pages = (pdf) => {
  const text = pdf.toString("latin1");
  const boxes = [...text.matchAll(/\/Type\s*\/Page\b(?!s)[^]*?endobj/g)].map(([page]) =>
    /\/MediaBox\s*\[([^\]]*)\]/.exec(page)[1].trim().split(/\s+/).map(Number));
  return boxes.map(([left, bottom, right, top]) => [(right - left) / POINTS, (top - bottom) / POINTS]);
};

const print = async (phone, name) => {
  // The style sheet's own page sizes count; the paper given here is another on purpose.
  const { data } = await phone.cdp("Page.printToPDF",
    { preferCSSPageSize: true, printBackground: true, paperWidth: 5, paperHeight: 5 });
  const pdf = Buffer.from(data, "base64");
  mkdirSync(shots, { recursive: true });
  writeFileSync(`${shots}${name}.pdf`, pdf);
  return pages(pdf);
};

/// Width of the first label in mm as the printer gets it: CSS has 96 px to 25.4 mm.
const printedWidth = async (phone) => {
  await phone.cdp("Emulation.setEmulatedMedia", { media: "print" });
  const px = await phone.run("return document.querySelector('.sticker .cut').getBoundingClientRect().width");
  await phone.cdp("Emulation.setEmulatedMedia", { media: "" });
  return px * 25.4 / 96;
};

/// Every label with its texts, as drawn: boxes in px.
const drawn = (phone) => phone.run(`
  const box = (e) => { const { left, top, right, bottom } = e.getBoundingClientRect(); return { left, top, right, bottom }; };
  return [...document.querySelectorAll(".paper")].map((paper) => ({
    ...box(paper.querySelector("svg")),
    labels: [...paper.querySelectorAll(".sticker")].map((sticker) => ({
      ...box(sticker.querySelector(".cut")),
      round: sticker.querySelector("circle") !== null,
      texts: [...sticker.querySelectorAll("text")].map((text) => ({ ...box(text), says: text.textContent.replace(/\\u00a0/g, " ") })),
    })),
  }));`);

const check = (sheets) => {
  for (const sheet of sheets) {
    const mm = (sheet.right - sheet.left) / sheet.width;
    sheet.labels.forEach((label, place) => {
      // A printer may leave 10 mm white.
      for (const edge of [label.left - sheet.left, sheet.right - label.right, label.top - sheet.top, sheet.bottom - label.bottom]) {
        assert.ok(edge >= 9.9 * mm, `a label lies ${edge / mm} mm from the edge`);
      }
      for (const other of sheet.labels.slice(place + 1)) {
        assert.ok(label.right < other.left || other.right < label.left ||
          label.bottom < other.top || other.bottom < label.top, "labels overlap");
      }
      const middle = [(label.left + label.right) / 2, (label.top + label.bottom) / 2];
      for (const text of label.texts) {
        // A text's box is as high as its type's line, more than its letters are.
        const inset = (text.bottom - text.top) * 0.12;
        for (const x of [text.left, text.right]) for (const y of [text.top + inset, text.bottom - inset]) {
          const inside = label.round
            ? Math.hypot(x - middle[0], y - middle[1]) <= (label.right - label.left) / 2 + 0.5
            : x >= label.left && x <= label.right && y >= label.top && y <= label.bottom;
          assert.ok(inside, `“${text.says}” leaves its label`);
        }
      }
    });
  }
};

const look = async (phone, paper) => {
  const sheets = await drawn(phone);
  for (const sheet of sheets) [sheet.width] = papers[paper];
  check(sheets);
  return sheets;
};

test("labels of a batch, on paper", async () => {
  const server = await serve(dist);
  const phone = await Phone.open(server.address);
  await phone.kept();
  await begin(phone);
  await smoked(phone);
  const load = await phone.run("return location.hash");
  const batch = load.split("/")[2];
  const labels = `#/labels/${batch}`;
  await runStages(phone);
  await phone.see(rest.title);
  await phone.run("location.hash = arguments[0]", labels);
  await phone.see("7 labels on 1 sheet.");
  await phone.tap("A4");
  await phone.tap("Lid, regular");
  await phone.see("A regular mouth is 70 mm across");
  let [sheet] = await look(phone, "A4");
  assert.equal(sheet.labels.length, 7);
  const words = sheet.labels[3].texts.map((text) => text.says).join(" ");
  // What a jar must say, smoked told by word (USDA Complete Guide, Guide 1, p. 1-16,
  // asks for a label and a date; the process is that of Guide 5, pp. 5-13 and 5-14).
  // The full time ended 47 min ago by the phone's clock, and some seconds of the test's.
  const days = await phone.run(`return [47, 52].map((minutes) => {
    const d = new Date(Date.now() - minutes * 60_000), two = (n) => String(n).padStart(2, 0);
    return "Canned " + d.getFullYear() + "-" + two(d.getMonth() + 1) + "-" + two(d.getDate());
  });`);
  assert.ok(days.some((day) => words.includes(day)), words);
  for (const word of ["Smoked whitefish, Lake Ostermere", "Lightly smoked", "Best by 20",
    "110 min at 13 psi (dial), 5200 ft", `${batch.slice(0, 8)} load 1 jar 4`, "USDA Complete Guide to Home Canning, Guide 5"]) {
    assert.ok(words.includes(word), `${word} is not in: ${words}`);
  }
  assert.deepEqual((await print(phone, "labels-a4")).map((page) => page.map(Math.round)), [[210, 297]]);

  // 56 mm, less the line's own tenth on either side.
  assert.ok(Math.abs(await printedWidth(phone) - 55.8) < 0.15);

  // Wide lids: six to a sheet, so two; the screen says what the paper does.
  await phone.tap("Lid, wide");
  await phone.see("7 labels on 2 sheets.");
  await look(phone, "A4");
  assert.equal((await print(phone, "labels-wide")).length, 2);

  // With the host gone: another paper, the side of a jar, sizes of the person's own.
  await server.stop();
  await phone.reload();
  await phone.see("7 labels on 2 sheets.");
  await phone.tap("Letter");
  await phone.tap("Side of the jar");
  await phone.tap("Width, mm: one more");
  const printed = await print(phone, "labels-letter");
  assert.deepEqual(printed.map((page) => page.map((side) => Math.round(side * 10) / 10)), [[215.9, 279.4]]);
  assert.ok(Math.abs(await printedWidth(phone) - 80.8) < 0.15);
  [sheet] = await look(phone, "Letter");
  const mm = (sheet.right - sheet.left) / sheet.width;
  assert.ok(Math.abs((sheet.labels[0].right - sheet.labels[0].left) / mm - 81) < 0.5);
  await phone.reload();
  await phone.see("7 labels on 1 sheet.");
  assert.deepEqual(await phone.axe(), []);
  for (const [name, view, dark] of [["portrait", size.portrait], ["landscape", size.landscape],
    ["narrow", size.narrow], ["dark", size.portrait, true]]) {
    await phone.look(view, dark);
    await phone.shot(`labels-${name}`);
    assert.ok(await phone.run("return document.documentElement.scrollWidth <= innerWidth"), `${name} scrolls sideways`);
  }
  await phone.look(size.portrait);

  // Once seals are checked only sealed jars get one, and a hot canner holds up printing.
  await phone.run("location.hash = arguments[0]", load);
  await phone.pass(rest.minutes);
  await phone.see("Check the seals");
  for (const jar of [1, 2, 3, 4, 5]) await phone.tap(`${jar} not checked`, { within: ".jars" });
  await phone.run("location.hash = arguments[0]", labels);
  await phone.see("5 labels on 1 sheet.");
  await phone.run("location.hash = arguments[0]", `#/batch/${batch}`);
  await phone.tap("Another load");
  await phone.tap("Heat is on");
  await phone.see("Wait for steady steam");
  await phone.run("location.hash = arguments[0]", labels);
  await phone.see("A canner is hot. Printing would hold up its alarm");
  assert.ok(!(await phone.run("return [...document.querySelectorAll('button')].some((b) => b.innerText === 'Print')")));
  assert.deepEqual(await phone.complaints(), []);
  await phone.close();
});
