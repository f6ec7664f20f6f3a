// Files out of a phone and into it, as a person gives and chooses them.
import { readFileSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { By } from "selenium-webdriver";

/// Does what downloads a file, and returns its bytes.
export const download = async (phone, act) => {
  const before = new Set(readdirSync(phone.downloads));
  await act();
  let name;
  await phone.until(() => {
    name = readdirSync(phone.downloads).find((file) => !before.has(file) && !/\.(crdownload|tmp)$/.test(file) && !file.startsWith("."));
    return name && readFileSync(join(phone.downloads, name)).length > 0;
  }, "a file");
  const path = join(phone.downloads, name);
  const bytes = readFileSync(path);
  rmSync(path);
  return { name, bytes, text: bytes.toString("utf8") };
};

/// Chooses a file where the page asks for one: the picker's own field is kept back.
export const choose = async (phone, words, path) => {
  await phone.run(`
    if (!window.keptClick) {
      window.keptClick = HTMLInputElement.prototype.click;
      HTMLInputElement.prototype.click = function () {
        if (this.type !== "file") return window.keptClick.call(this);
        this.id = "picked"; this.hidden = true;
        document.getElementById("picked")?.remove();
        document.body.append(this);
      };
    }
    document.getElementById("picked")?.remove();`);
  await phone.tap(words);
  await phone.until(() => phone.run("return document.getElementById('picked') !== null"), "the picker");
  await phone.run("document.getElementById('picked').hidden = false");
  await phone.driver.findElement(By.id("picked")).sendKeys(path);
  await phone.run("document.getElementById('picked')?.remove()");
};

/// Writes a file that can be chosen.
export const save = (phone, name, text) => {
  const path = join(phone.profile, name);
  writeFileSync(path, text);
  return path;
};
