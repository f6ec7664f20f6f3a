// What is wrong with the screen as it stands, beyond what axe-core looks for:
// sizes of targets, the gaps between them, headings and landmarks, overflow.
//
// Sources of the figures: 48 px and 8 px between targets are the sizes that
// platform guidance for touch names; 64 px for what is tapped with wet hands is
// our own, larger. WCAG 2.2 asks for 24 px (2.5.8, AA) and 44 px (2.5.5, AAA).

const LOOK = `
  const found = [];
  const name = (e) => (e.getAttribute("aria-label") || e.innerText || e.name || e.tagName).replace(/\\s+/g, " ").trim().slice(0, 40);
  const shown = (e) => e.checkVisibility({ visibilityProperty: true, opacityProperty: true });
  // A control inside a label is tapped through the label.
  const targets = [...document.querySelectorAll("button, a[href], summary, label.choice, input, textarea, select")]
    .filter((e) => !(e.matches("input, textarea, select") && e.closest("label.choice")))
    .filter((e) => !e.matches(".skip") && shown(e))
    .map((e) => ({ e, r: e.getBoundingClientRect() }))
    .filter(({ r }) => r.width > 0 && r.height > 0);
  // Half a pixel of rounding.
  const slack = 0.5;
  const main = ".main, .danger, .mode, .tile, .stepper button, .alarm button, .question button, .sheet button";
  for (const { e, r } of targets) {
    const least = e.matches(main) ? 64 : 48;
    if (r.height < least - slack) found.push(name(e) + ": " + Math.round(r.height) + " px high, at least " + least);
    if (r.width < least - slack) found.push(name(e) + ": " + Math.round(r.width) + " px wide, at least " + least);
  }
  // What scrolls and what stands still below it overlap only while scrolling.
  const pane = (e) => e.closest(".scroll, .page, .foot, nav, .bars, .notices, #desk-says");
  for (let i = 0; i < targets.length; i += 1) {
    for (let k = i + 1; k < targets.length; k += 1) {
      const a = targets[i], b = targets[k];
      if (a.e.contains(b.e) || b.e.contains(a.e) || pane(a.e) !== pane(b.e)) continue;
      // The lower bar's parts fill it from edge to edge: their gaps are inside them.
      const x = Math.max(a.r.left, b.r.left) - Math.min(a.r.right, b.r.right);
      const y = Math.max(a.r.top, b.r.top) - Math.min(a.r.bottom, b.r.bottom);
      if (Math.max(x, y) < 8 - slack) found.push(name(a.e) + " and " + name(b.e) + ": " + Math.round(Math.max(x, y)) + " px apart");
    }
  }
  const wide = document.documentElement.scrollWidth - innerWidth;
  if (wide > 0) found.push(wide + " px too wide");
  for (const e of document.querySelectorAll(".page, .foot, .bars")) {
    if (e.scrollWidth > e.clientWidth + 1) found.push(e.className + " scrolls sideways");
  }
  const count = (what) => [...document.querySelectorAll(what)].filter(shown).length;
  if (count("h1") !== 1) found.push(count("h1") + " first headings");
  if (count("main") !== 1) found.push(count("main") + " main landmarks");
  let level = 1;
  for (const e of [...document.querySelectorAll("h1, h2, h3, h4")].filter(shown)) {
    const here = Number(e.tagName[1]);
    if (here > level + 1) found.push("heading level jumps to " + here + ": " + name(e));
    level = here;
  }
  return found;`;

/// What our own measure finds on the screen.
export const measure = (phone) => phone.run(LOOK);

/// Everything found on the screen: by our own measure and by axe-core.
export const inspect = async (phone) => [...(await measure(phone)), ...(await phone.axe())];
