// Sorted out: medians, the table, the targets, the machine.
import { readFileSync } from "node:fs";
import { cpus, loadavg, release, totalmem } from "node:os";
import { execFileSync } from "node:child_process";

export const at = (list, part) => {
  const all = [...list].sort((a, b) => a - b);
  return all[Math.max(0, Math.min(all.length - 1, Math.ceil(all.length * part) - 1))] ?? null;
};
export const median = (list) => at(list, 0.5);
export const max = (list) => list.reduce((a, b) => Math.max(a, b), 0);

/// Many samples of records with the same members: one record of medians.
export const medians = (records) => {
  const names = Object.keys(records[0] ?? {});
  return Object.fromEntries(names.map((name) => [name, rounded(median(records.map((one) => one[name])))]));
};
export const rounded = (value) => (typeof value === "number" ? Math.round(value * 10) / 10 : value);

const said = (...command) => {
  try { return execFileSync(command[0], command.slice(1), { encoding: "utf8", stdio: ["ignore", "pipe", "ignore"] }).trim(); } catch { return "unknown"; }
};

/// What the figures were taken on, and what they were taken of.
export const machine = () => ({
  date: new Date().toISOString().slice(0, 16),
  commit: said("git", "rev-parse", "--short", "HEAD"),
  processor: `${cpus().length} × ${cpus()[0]?.model ?? "unknown"}`,
  memory: `${Math.round(totalmem() / 2 ** 30)} GiB`,
  system: `${readFileSync("/etc/os-release", "utf8").match(/PRETTY_NAME="(.*)"/)?.[1] ?? "unknown"}, kernel ${release()}`,
  browser: said("/usr/bin/chromium", "--version").split("\n").pop(),
  node: process.version,
});

/// How busy the machine is with other things: processes that want a processor.
export const load = () => rounded(loadavg()[0]);

const ms = (value) => (value === null || value === undefined ? "-" : value >= 1000 ? `${(value / 1000).toFixed(2)} s` : `${value.toFixed(value < 10 ? 1 : 0)} ms`);
const kb = (value) => `${(value / 1000).toFixed(1)} kB`;

/// The one table, as lines of text.
export const table = (figures) => {
  const rows = [];
  const row = (what, how, value, beside = "") => rows.push([what, how, value, beside]);
  const { sizes, start, job, still, drift, growth } = figures;
  for (const [name, { raw, brotli }] of Object.entries(sizes ?? {})) row(name, "bytes", `${kb(raw)} raw`, `${kb(brotli)} brotli`);
  for (const { page, rate, kind, paint, ready, record, longest, work } of start ?? []) {
    row(`start, ${page}`, `${rate}x ${kind}`, `ready ${ms(ready)}`, `first paint ${ms(paint)}, record read ${ms(record)}, longest task ${ms(longest)}, work ${ms(work)}`);
  }
  for (const { rate, taps, all, byHand, next, longInRun, longestInRun } of job ?? []) {
    for (const [name, { p50, p95, work, workP95 }] of [...Object.entries(taps).map(([name, one]) => [`tap: ${name}`, one]), ["all taps", all], ...(byHand ? [["tap: a row kept and shown, by hand", byHand]] : [])]) {
      row(name, `${rate}x`, ms(p50), `p95 ${ms(p95)}, work ${ms(work)}, p95 ${ms(workP95)}`);
    }
    if (next) row("all taps, to the next paint", `${rate}x`, ms(next.p50), `p95 ${ms(next.p95)}`);
    row("long tasks in a run", `${rate}x`, String(longInRun), `longest ${ms(longestInRun)}`);
  }
  for (const [page, one] of Object.entries(drift ?? {})) row(`clock after 2 h hidden, ${page}`, "off by", ms(one.shown), `until its next second ${ms(one.worst)}`);
  for (const [page, one] of Object.entries(still ?? {})) {
    row(`timers, ${page}`, "in 5 s", `${one.hiddenFired} fired hidden`, `frames asked ${one.frames}, intervals ${one.intervals}, shown ${one.shownFired} fired, ${ms(one.busy)} busy`);
  }
  for (const { page, batches, rate, ...costs } of growth ?? []) {
    for (const [name, value] of Object.entries(costs)) {
      const size = /heap|wasm|file/.test(name);
      row(`${page}: ${name}`, `${batches} batches, ${rate}x`, value === null ? "-" : /count|share/.test(name) ? String(value) : size ? `${(value / 1e6).toFixed(1)} MB` : ms(value));
    }
  }
  const width = [0, 1, 2].map((column) => max(rows.map((one) => one[column].length)));
  return rows.map((one) => one.map((cell, column) => cell.padEnd(width[column] ?? 0)).join("  ").trimEnd()).join("\n");
};
