// The growth curves: what things cost the page's thread in processor time, against the
// number of batches, both axes in powers of ten; an SVG drawn from the figures alone.
const LINES = [
  ["start, work", "opening the record"],
  ["open the shelf, work", "opening the shelf"],
  ["search, work", "a key of a search"],
  ["import, work", "taking a file in"],
  ["merge, work", "merging another phone's file"],
  ["export, work", "giving the file out"],
];
const COLOURS = ["#1f6fb2", "#b5541c", "#3d7a3a", "#8a3fa0", "#a8323f", "#6b6b00"];
const WIDE = 760, HIGH = 420, LEFT = 70, RIGHT = 290, TOP = 30, FOOT = 50;

const text = (x, y, words, more = "") => `<text x="${x}" y="${y}" ${more}>${words.replace(/&/g, "&amp;").replace(/</g, "&lt;")}</text>`;
const time = (value) => (value >= 1000 ? `${value / 1000} s` : `${value} ms`);

/// The picture of these figures, at full speed.
export const draw = (growth) => {
  const app = growth.filter(({ page, rate }) => page === "app" && rate === 1).sort((a, b) => a.batches - b.batches);
  const values = app.flatMap((one) => LINES.map(([name]) => one[name])).filter((value) => value > 0);
  const power = (value) => Math.log10(value);
  const [low, high] = [Math.floor(power(Math.min(...values))), Math.ceil(power(Math.max(...values)))];
  const [first, last] = [app[0].batches, app[app.length - 1].batches].map(power);
  const x = (batches) => LEFT + (WIDE - LEFT - RIGHT) * (last > first ? (power(batches) - first) / (last - first) : 0.5);
  const y = (value) => HIGH - FOOT - (HIGH - FOOT - TOP) * (power(value) - low) / (high - low);
  const parts = [];
  for (let step = low; step <= high; step += 1) {
    const value = 10 ** step;
    parts.push(`<path class="grid" d="M${LEFT} ${y(value).toFixed(1)}H${WIDE - RIGHT}"/>`, text(LEFT - 8, (y(value) + 5).toFixed(1), time(value), `text-anchor="end"`));
  }
  for (const { batches } of app) parts.push(text(x(batches).toFixed(1), HIGH - FOOT + 22, batches.toLocaleString("en-US"), `text-anchor="middle"`));
  parts.push(text((LEFT + WIDE - RIGHT) / 2, HIGH - 6, "batches in the record (processor time of the page)", `text-anchor="middle"`));
  // Names stand beside the ends of their lines, moved apart where two would touch.
  const ends = [];
  LINES.forEach(([name, words], index) => {
    const points = app.filter((one) => one[name] > 0).map((one) => [x(one.batches), y(one[name]), one[name]]);
    if (points.length === 0) return;
    const colour = COLOURS[index];
    parts.push(`<path d="M${points.map(([px, py]) => `${px.toFixed(1)} ${py.toFixed(1)}`).join("L")}" fill="none" stroke="${colour}" stroke-width="2.5"/>`);
    for (const [px, py] of points) parts.push(`<circle cx="${px.toFixed(1)}" cy="${py.toFixed(1)}" r="4" fill="${colour}"/>`);
    const [, py, value] = points[points.length - 1];
    ends.push({ py, words: `${words}, ${time(Number(value.toPrecision(2)))}`, colour });
  });
  let above = -Infinity;
  for (const { py, words, colour } of ends.sort((a, b) => a.py - b.py)) {
    above = Math.max(py + 5, above + 19);
    parts.push(text(WIDE - RIGHT + 12, above.toFixed(1), words, `style="fill:${colour}"`));
  }
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${WIDE} ${HIGH}" width="${WIDE}" height="${HIGH}" role="img" aria-label="What things cost as the record grows">
<style>text { font: 14px system-ui, sans-serif; fill: #333 } .grid { stroke: #ccc }</style>
<rect width="${WIDE}" height="${HIGH}" rx="8" fill="#fff"/>
${parts.join("\n")}
</svg>
`;
};
