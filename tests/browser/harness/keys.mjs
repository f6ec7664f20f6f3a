// A person without a pointer: tab, arrows, enter and typing, nothing else.
import { Key } from "selenium-webdriver";

/// Presses keys one after the other.
export const press = async (phone, ...keys) => {
  for (const key of keys) await phone.driver.actions().sendKeys(key).perform();
  phone.keys = (phone.keys ?? 0) + keys.length;
};

const ACTIVE = `
  const e = document.activeElement;
  if (!e || e === document.body) return "";
  const named = e.closest("label.choice, label.field") ?? e;
  return (e.getAttribute("aria-label") ?? (named.querySelector(".name") ?? named).innerText).replace(/\\s+/g, " ").trim();`;

/// What has the focus, as a person would call it.
export const focused = (phone) => phone.run(ACTIVE);

const MOST_STEPS = 150;

/// Tabs on until what has the focus starts with `words`.
export const reach = async (phone, words) => {
  const passed = [];
  for (let step = 0; step < MOST_STEPS; step += 1) {
    const here = await focused(phone);
    if (here.startsWith(words)) return;
    passed.push(here);
    await press(phone, Key.TAB);
  }
  throw new Error(`no way by keys to “${words}”; passed: ${passed.join(" | ")}`);
};

/// Reaches a button or link and presses it.
export const enter = async (phone, words) => {
  await phone.until(() => phone.run(`
    return [...document.querySelectorAll("button, a, summary")].some((e) => !e.disabled &&
      (e.getAttribute("aria-label") ?? e.innerText).replace(/\\s+/g, " ").trim().startsWith(arguments[0]));`, words),
  `a button or link “${words}”`);
  await reach(phone, words);
  await press(phone, Key.ENTER);
};

/// Picks one of a set of choices: tab to the set, arrows inside it.
export const choose = async (phone, legend, words) => {
  const inside = () => phone.run(`
    return document.activeElement?.closest("fieldset")?.querySelector("legend")?.innerText === arguments[0];`, legend);
  for (let step = 0; step < MOST_STEPS && !(await inside()); step += 1) await press(phone, Key.TAB);
  for (let step = 0; step < 20; step += 1) {
    if ((await focused(phone)).startsWith(words)) {
      if (!(await phone.run("return document.activeElement.checked"))) await press(phone, " ");
      return;
    }
    await press(phone, Key.ARROW_DOWN);
  }
  throw new Error(`no choice “${words}” in “${legend}”`);
};

/// Types into a field, over what is in it.
export const write = async (phone, name, text) => {
  await reach(phone, name);
  await phone.run("document.activeElement.select()");
  await press(phone, ...text);
};
