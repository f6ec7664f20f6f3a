// The job in Spanish: every text is there and in that language, the word that it is a
// translation stands beside what decides safety, and English is one tap away.
import assert from "node:assert/strict";
import { test } from "node:test";
import { serve } from "../../.ci/serve.mjs";
import { words } from "../../.ci/words.mjs";
import { Phone, size } from "./harness/browser.mjs";
import { measure } from "./harness/inspect.mjs";

const dist = new URL("../../dist", import.meta.url).pathname;
const LINE = "Traducción no revisada por ninguna autoridad: rige el texto en inglés.";
const SPANISH = `localStorage.getItem("hearthjar/language") ?? localStorage.setItem("hearthjar/language", '"es"');`;

/// What the screen must not say in Spanish: each English text whose translation is
/// other words, unless it is some other text's Spanish. Gaps match anything; texts without a
/// word of four letters beside their gaps are left out.
const english = (() => {
  const all = words();
  const lines = (name) => [...all[name].split("\n"), ...all[`${name}-later`].split("\n")].map((text) => text.trim());
  const [here, there] = [lines("en"), lines("es")];
  const kept = new Set(there);
  const texts = here.filter((text, at) => text !== there[at] && !kept.has(text) && /[A-Za-z]{4}/.test(text));
  const escaped = texts.map((text) => text.replace(/[.*+?^$()|[\]\\]/g, "\\$&").replace(/\{\d*\}/g, ".*"));
  const pattern = new RegExp(`^(${escaped.join("|")})$`);
  return (text) => pattern.test(text);
})();

/// What a person reads or hears on the screen, piece by piece.
const pieces = (phone) => phone.run(`
  const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  const found = [document.title];
  while (walk.nextNode()) found.push(walk.currentNode.data.trim());
  for (const e of document.querySelectorAll("[aria-label]")) found.push(e.getAttribute("aria-label"));
  return found.map((text) => text.replace(/\\u00a0/g, " "));`);

test("the look for English words finds them", () => {
  assert.ok(english("Heat is on") && english("Hold at 13 psi or a little over"));
  assert.ok(!english("El fuego está encendido") && !english("USDA Complete Guide to Home Canning, 2015"));
});

/// Nothing is missing, nothing is English, nothing runs off a small phone.
const good = async (phone) => {
  const said = await pieces(phone);
  assert.deepEqual(said.filter((text) => text === "…" || english(text)), [], "a text is missing or English");
  const wide = (await measure(phone)).filter((fault) => /too wide|sideways/.test(fault));
  assert.deepEqual(wide, [], await phone.title());
};

/// Waits for the page to be opened anew in a language.
const spoken = (phone, language) => phone.until(() => phone.run(`
  const root = document.documentElement;
  return root.lang === "${language}" && root.hasAttribute("data-ready");`).catch(() => false), language);

/// As in the English job: smoked fish in half-pints at 5,200 ft on a dial gauge is
/// 110 min at 13 psi (USDA Complete Guide to Home Canning, Guide 5, p. 5-14, 2015).
const STAGES = [
  ["Cargue la olla", "El fuego está encendido", 0],
  ["Espere el vapor constante", "Vapor constante: purgar 10 min", 15],
  ["Purgue", "La salida está cerrada", 10],
  ["Súbala a 13 psi", "A 13 psi: empezar 110 min", 4],
  ["Manténgala a 13 psi o un poco más", "El fuego está apagado", 110],
  ["Deje que baje sola", "En cero: pesa quitada", 35],
  ["Espere antes de abrir la tapa", "La tapa está abierta", 10],
  ["Saque los frascos", "Todos los frascos están fuera", 2],
];

test("the whole job in Spanish on a small phone, then English", async () => {
  const server = await serve(dist);
  const phone = await Phone.open(server.address, { view: size.narrow, before: SPANISH });
  await phone.cdp("Emulation.setLocaleOverride", { locale: "es-ES" });
  await phone.reload();
  await phone.see("Antes de envasar");
  await phone.see(LINE);
  await good(phone);
  await phone.tap("He leído esto");
  await phone.see("No hay nada al fuego");
  await good(phone);
  await phone.tap("Envasar algo");
  await phone.see("Buscar un proceso probado");
  await phone.tap("ligeramente ahumado");
  await phone.tap("media pinta");
  await phone.tap("Olla de agua hirviendo (baño María)");
  // Thousands as Spanish sets them off: never 5.2 ft.
  await phone.type("Altura sobre el nivel del mar", "5.200");
  await phone.see("No hay proceso probado");
  await phone.see(LINE);
  await good(phone);
  await phone.tap("Olla a presión para envasar, manómetro de aguja");
  await phone.type("Qué hay en los frascos", "Pescado blanco del lago Ostermere");
  await phone.see("13 psi (90 kPa) en el manómetro de aguja, de 4000 a 6000 ft");
  await phone.see(LINE);
  await good(phone);
  await phone.tap("Empezar: 110 min a 13 psi");
  for (const [title, tap, minutes] of STAGES) {
    await phone.until(async () => (await phone.title()) === title, title);
    await phone.see(LINE);
    await good(phone);
    if (title === "Súbala a 13 psi") {
      await phone.tap("Aguja, psi: medio psi más");
      await phone.until(() => phone.run("return document.querySelector('output').innerText === '13,5'"), "13,5 psi");
    }
    if (minutes > 0) await phone.pass(minutes);
    await phone.tap(tap);
  }
  await phone.see("Deje reposar los frascos");
  await good(phone);
  await phone.pass(12 * 60);
  await phone.see("Revise los sellos");
  await phone.see(LINE);
  for (const jar of [1, 2, 3, 4, 5, 6]) await phone.tap(`${jar} sin revisar`, { within: ".jars" });
  await phone.tap("No sellado", { within: ".modes" });
  await phone.tap("7 sin revisar", { within: ".jars" });
  await phone.see("Revisados: 7 de 7. Sellados: 6.");
  await phone.tap("Refrigerado");
  await good(phone);
  await phone.type("Dónde están", "Sótano, segunda tabla");
  await phone.tap("Poner en la despensa");
  await phone.see("En la despensa: Sótano, segunda tabla");
  await good(phone);
  for (const [tab, seen] of [["Hoy", "Hoy"], ["Despensa", "Despensa"], ["Entregar", "Entregar"], ["Más", "Más"]]) {
    await phone.tap(tab, { within: "nav" });
    await phone.until(async () => (await phone.title()) === seen, seen);
    await good(phone);
  }
  // The other half's screens.
  for (const way of ["plan", "raws", "brine", "year", "doubts", "canners", "warming", "files", "more"]) {
    const before = await phone.title();
    await phone.run("location.hash = `#/${arguments[0]}`", way);
    await phone.until(async () => ![before, undefined].includes(await phone.title()), way);
    const rules = !["year", "files", "more"].includes(way);
    assert.equal((await phone.text()).includes(LINE), rules, way);
    await good(phone);
  }
  // The choice of language, and nothing of the translation's word in English.
  await phone.tap("English");
  await spoken(phone, "en");
  await phone.see("Language (idioma)");
  await phone.tap("Today", { within: "nav" });
  await phone.see("Can something");
  assert.ok(!(await phone.text()).includes(LINE));
  assert.deepEqual(await phone.complaints(), []);
  await phone.close();
  await server.stop();
});

test("the English text is one tap away and loses nothing that was chosen", async () => {
  const server = await serve(dist);
  const phone = await Phone.open(server.address, { before: SPANISH });
  await phone.tap("He leído esto");
  await phone.tap("Envasar algo");
  await phone.tap("ligeramente ahumado");
  await phone.tap("pinta");
  await phone.type("Altura sobre el nivel del mar", "640");
  await phone.type("Qué hay en los frascos", "Trucha del lago Ostermere");
  await phone.tap("Ver en inglés");
  await spoken(phone, "en");
  await phone.see("Find a tested process");
  await phone.see("Start: 110 min at 10 psi");
  const typed = await phone.run("return [...document.querySelectorAll('input[type=text]')].map((e) => e.value)");
  assert.ok(typed.includes("Trucha del lago Ostermere"), typed.join());
  await phone.see("640 ft above sea level");
  assert.ok(!(await phone.text()).includes(LINE));
  await phone.close();
  await server.stop();
});

test("until a language is chosen, it is the browser's", async () => {
  const server = await serve(dist);
  const before = `Object.defineProperty(navigator, "languages", { get: () => ["de-DE", "es-MX", "en"] });`;
  const phone = await Phone.open(server.address, { before });
  await phone.see("Antes de envasar");
  await phone.tap("He leído esto");
  await phone.tap("Más", { within: "nav" });
  await phone.see("Idioma (language)");
  assert.equal(await phone.run("return document.documentElement.lang"), "es");
  await phone.tap("English");
  await spoken(phone, "en");
  await phone.tap("as the browser");
  await spoken(phone, "es");
  assert.deepEqual(await phone.complaints(), []);
  await phone.close();
  await server.stop();
});
