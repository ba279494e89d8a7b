// The bench with its script: every tap is put down on this device, shown at once, and sent when the
// workshop hears. The page is the server's own; this only moves along it.

import { Away } from "./away.js";
import { keepAwake } from "./awake.js";
import { open } from "./kept.js";
import { at, batch, called, header, line, now, put, say, stand, steps, token, words } from "./now.js";
import { draw, drawWrong } from "./show.js";
import { onStop, tick, tryAlarm } from "./timers.js";

const kept = await open(batch);
const others = "BroadcastChannel" in window ? new BroadcastChannel(`bench ${batch}`) : null;
const away = new Away({
  path: `${location.pathname}/taps`,
  token,
  header,
  known: now.taps.keys(),
  onAnswer: heard,
  onState: tellKept,
});

function start() {
  const asked = new URLSearchParams(location.search).get("step");
  stand();
  if (asked && steps.some((one) => one.key === asked) && asked !== now.state.live) now.shown = asked;
  at("device").hidden = false;
  for (const one of document.querySelectorAll("[data-turn]")) one.hidden = false;
  at("sound").textContent = words.deaf;
  document.addEventListener("submit", onSubmit);
  document.addEventListener("click", onClick);
  document.addEventListener("keydown", onKey);
  document.addEventListener("input", (event) => now.typing.add(event.target));
  if (others) others.onmessage = ({ data }) => take(data.taps, { from: "here" });
  at("rung").addEventListener("cancel", (event) => {
    event.preventDefault(); // it closes when all that rang is stopped
    at("rung").querySelector("button")?.click();
  });
  onStop((name) => tap(tapped("stop", { step: now.state.running[name]?.step ?? "", name })));
  draw({ scrolls: Boolean(asked) || now.state.last !== null });
  setInterval(tick, 250);
  document.addEventListener("visibilitychange", tick);
  keepAwake((how) => (at("awake").textContent = words[how]));
  minded();
  away.send(...now.taps.values());
  document.documentElement.dataset.bench = "ready";
}

// --- taps ----------------------------------------------------------------------------------------

function tapped(kind, about = {}) {
  const newest = Math.max(0, ...[...now.taps.values()].map((tap) => Date.parse(tap.at)));
  const when = new Date(Math.max(Date.now(), newest + 1)); // after all that was seen
  return { id: mark(), kind, at: when.toISOString(), ...about };
}

function mark() {
  return [...crypto.getRandomValues(new Uint8Array(12))].map((n) => n.toString(16).padStart(2, "0")).join("");
}

// One or more taps of ours: put down, shown, sent.
async function tap(...made) {
  for (const one of made) now.taps.set(one.id, one);
  const before = now.state.live;
  stand();
  if (made.some((one) => one.kind === "done" || one.kind === "undo")) now.shown = "";
  draw({ scrolls: now.state.live !== before });
  await kept.put(...made).catch(() => (kept.lasts = false));
  others?.postMessage({ taps: made });
  away.send(...made);
}

// Taps of another window or device.
function take(some, { from }) {
  const fresh = some.filter((one) => !now.taps.has(one.id));
  for (const one of some) now.taps.set(one.id, bare(one));
  if (from === "here") away.send(...fresh);
  if (!fresh.length) return;
  const before = now.state.live;
  stand();
  draw({ scrolls: !now.shown && now.state.live !== before });
}

function heard(answer) {
  now.wrong = answer.wrong;
  take(answer.taps, { from: "workshop" });
  const missing = [...now.taps.values()].filter((one) => !away.known.has(one.id) && !away.refused.has(one.id));
  for (const one of missing) away.waiting.set(one.id, one);
  kept.put(...answer.taps.map((one) => ({ ...one, sent: true }))).catch(() => {});
  drawWrong();
}

function bare({ batch, sent, ...tap }) {
  return tap;
}

// --- what is done by hand ------------------------------------------------------------------------

function onSubmit(event) {
  const button = event.submitter;
  if (!button?.closest(".bench") || !button.name) return;
  event.preventDefault();
  act(button.value, stepOf(button));
}

function stepOf(button) {
  const form = button.form;
  return form.elements.step?.value ?? "";
}

function act(deed, step) {
  const [kind, ...rest] = deed.split(":");
  const name = rest.join(":");
  if (kind === "undo") return undo();
  if (kind === "stop") return tap(tapped("stop", { step, name }));
  if (kind === "start") return startTimer(step, name);
  const card = at(`card-${step}`);
  const values = [...card.querySelectorAll("[data-entry]")].filter((one) => isTold(one, kind, name));
  const made = [];
  for (const entry of values) {
    const field = entry.querySelector("input[type=text]");
    if (!field.value.trim()) {
      field.focus();
      return say(entry.querySelector(".about").textContent);
    }
    now.typing.delete(field);
    made.push(after(made, tapped("value", { step, name: entry.dataset.entry, told: field.value.trim().slice(0, 500) })));
  }
  if (kind === "done") made.push(after(made, tapped("done", { step })));
  if (!made.length) return;
  say(kind === "done" ? "" : words.written);
  return tap(...made);
}

function after(made, one) {
  return { ...one, at: new Date(Date.parse(one.at) + made.length).toISOString() };
}

function isTold(entry, kind, name) {
  const field = entry.querySelector("input[type=text]");
  if (kind === "value" && entry.dataset.entry === name) return true;
  return now.typing.has(field) && field.value.trim() !== "" && field.value.trim() !== stands(entry);
}

function stands(entry) {
  return now.state.told[entry.dataset.entry] ?? entry.dataset.offered;
}

function startTimer(step, name) {
  const timing = steps.find((one) => one.key === step).timings.find((one) => one.name === name);
  const ends = new Date(Date.now() + Math.round(timing.seconds * 1000)).toISOString();
  say(`${called(name)}: ${words.ends} ${clock(Date.parse(ends))}`);
  return tap(tapped("start", { step, name, ends }));
}

function clock(moment) {
  return new Date(moment).toLocaleTimeString("en-GB");
}

function undo() {
  if (!now.state.last) return;
  say(words.undone);
  return tap(tapped("undo", { name: now.state.last.id }));
}

function onClick(event) {
  const turn = event.target.closest("[data-turn]");
  if (turn) return turned(turn.closest("[data-entry]"), Number(turn.dataset.turn));
  if (event.target.closest("#try")) return tryAlarm();
  const brief = event.target.closest("a.brief");
  const line = brief?.closest("[data-step]");
  if (!line || event.metaKey || event.ctrlKey) return;
  event.preventDefault();
  look(line.dataset.step);
}

function look(key) {
  now.shown = key === now.state.live ? "" : key;
  draw({ scrolls: true });
  line(key).querySelector(".todo").focus({ preventScroll: true });
}

// The value one turn up or down, in the digits that the step is told in.
function turned(entry, way) {
  const field = entry.querySelector("input[type=text]");
  const { near, by, unit } = entry.dataset;
  const places = (by.split(".")[1] ?? "").length;
  const typed = /^\s*(\d+(?:[.,]\d+)?)\s*(.*)$/.exec(field.value);
  const begins = typed && (!typed[2] || typed[2].trim() === unit) ? Number(typed[1].replace(",", ".")) : null;
  const next = begins === null ? Number(near) : Math.max(0, begins + way * Number(by));
  field.value = `${next.toFixed(places).replace(".", words.point)} ${unit}`.trim();
  now.typing.add(field);
  say(field.value);
}

function onKey(event) {
  if (event.defaultPrevented || event.altKey || event.ctrlKey || event.metaKey) return;
  const on = event.target;
  if (on.matches?.("input[type=text]")) {
    if (event.key !== "Enter") return;
    event.preventDefault();
    const entry = on.closest("[data-entry]");
    if (entry) act(`value:${entry.dataset.entry}`, on.form.elements.step.value);
    return;
  }
  if (at("rung").open) return;
  const way = { ArrowDown: 1, ArrowRight: 1, ArrowUp: -1, ArrowLeft: -1 }[event.key];
  if (way) {
    event.preventDefault();
    const keys = steps.map((one) => one.key);
    const next = keys[keys.indexOf(now.shown || now.state.live || keys.at(-1)) + way];
    if (next) look(next);
    return;
  }
  const onSomething = on.closest?.("a, button, summary, input, select, textarea");
  if ((event.key === " " || event.key === "Enter") && !onSomething && !event.repeat) {
    event.preventDefault();
    const key = now.shown || now.state.live;
    if (key) act("done", key);
  }
}

// --- how it stands -------------------------------------------------------------------------------

function tellKept({ waiting, refused, gone, out }) {
  const spot = at("kept");
  const told = [];
  if (waiting) told.push(waiting === 1 ? words.one : words.many.replace("#", waiting));
  if (waiting && !kept.lasts) told.push(words.lost);
  if (gone) told.push(words.gone);
  if (out) told.push(words.out);
  if (refused.length) told.push(`${words.refused} ${refused.join(" ")}`);
  spot.classList.toggle("waits", told.length > 0);
  put(spot, told.join(". ") || words.kept);
}

// The worker that opens this page while the workshop is away.
async function minded() {
  at("away").textContent = words.stayslittle;
  if (!navigator.serviceWorker) return;
  try {
    await navigator.serviceWorker.register("/bench-worker.js", { scope: "/batches/" });
    const { active } = await navigator.serviceWorker.ready;
    navigator.serviceWorker.addEventListener("message", ({ data }) => {
      if (data?.keeps) {
        at("away").textContent = words.stays;
        document.documentElement.dataset.minded = "yes";
      }
    });
    navigator.serviceWorker.startMessages();
    const loaded = performance.getEntriesByType("resource").map((one) => new URL(one.name).pathname);
    const parts = loaded.filter((path) => path.startsWith("/static/"));
    active.postMessage({ keep: [...new Set([location.pathname, ...parts])] });
  } catch {
    // as told above
  }
}

for (const tap of await kept.taps()) {
  now.taps.set(tap.id, bare(tap));
  if (tap.sent) away.known.add(tap.id); // this page may be older than what the workshop has
}
start();
