// The bench with its script: every tap is put down on this device, shown at once, and sent when the
// workshop hears. The page is the server's own; this only moves along it.

import { Alarm } from "./alarm.js";
import { Away } from "./away.js";
import { keepAwake } from "./awake.js";
import { folded } from "./fold.js";
import { open } from "./kept.js";

const at = (id) => document.getElementById(id);
const told = JSON.parse(at("at-bench").textContent);
const words = JSON.parse(at("words").textContent);
const steps = told.steps;
const taps = new Map(told.taps.map((tap) => [tap.id, tap]));
const wrong = { now: told.wrong };
const dirty = new Set(); // fields that are being typed in
let shown = ""; // the step that is looked at, where it is not the live one
let state = folded(steps, [...taps.values()]);

const kept = await open(told.batch);
const others = "BroadcastChannel" in window ? new BroadcastChannel(`bench ${told.batch}`) : null;
const alarm = new Alarm((how) => (at("sound").textContent = words[how]));
const away = new Away({
  path: `${location.pathname}/taps`,
  token: told.token,
  header: told.header,
  known: taps.keys(),
  onAnswer: heard,
  onState: tellKept,
});

function start() {
  const asked = new URLSearchParams(location.search).get("step");
  state = folded(steps, [...taps.values()]);
  if (asked && steps.some((one) => one.key === asked) && asked !== state.live) shown = asked;
  at("device").hidden = false;
  for (const one of document.querySelectorAll("[data-turn]")) one.hidden = false;
  at("sound").textContent = words.deaf;
  document.addEventListener("submit", onSubmit);
  document.addEventListener("click", onClick);
  document.addEventListener("keydown", onKey);
  document.addEventListener("input", (event) => dirty.add(event.target));
  if (others) others.onmessage = ({ data }) => take(data.taps, { from: "here" });
  at("rung").addEventListener("cancel", (event) => {
    event.preventDefault(); // it closes when all that rang is stopped
    at("rung").querySelector("button")?.click();
  });
  draw({ scrolls: Boolean(asked) || state.last !== null });
  setInterval(tick, 250);
  document.addEventListener("visibilitychange", tick);
  keepAwake((how) => (at("awake").textContent = words[how]));
  minded();
  away.send(...taps.values());
  document.documentElement.dataset.bench = "ready";
}

// --- taps ----------------------------------------------------------------------------------------

function tapped(kind, about = {}) {
  const newest = Math.max(0, ...[...taps.values()].map((tap) => Date.parse(tap.at)));
  const when = new Date(Math.max(Date.now(), newest + 1)); // after all that was seen
  return { id: mark(), kind, at: when.toISOString(), ...about };
}

function mark() {
  return [...crypto.getRandomValues(new Uint8Array(12))].map((n) => n.toString(16).padStart(2, "0")).join("");
}

// One or more taps of ours: put down, shown, sent.
async function tap(...made) {
  for (const one of made) taps.set(one.id, one);
  const before = state.live;
  state = folded(steps, [...taps.values()]);
  if (made.some((one) => one.kind === "done" || one.kind === "undo")) shown = "";
  draw({ scrolls: state.live !== before });
  await kept.put(...made).catch(() => (kept.lasts = false));
  others?.postMessage({ taps: made });
  away.send(...made);
}

// Taps of another window or device.
function take(some, { from }) {
  const fresh = some.filter((one) => !taps.has(one.id));
  for (const one of some) taps.set(one.id, bare(one));
  if (from === "here") away.send(...fresh);
  if (!fresh.length) return;
  const before = state.live;
  state = folded(steps, [...taps.values()]);
  draw({ scrolls: !shown && state.live !== before });
}

function heard(answer) {
  wrong.now = answer.wrong;
  take(answer.taps, { from: "workshop" });
  const missing = [...taps.values()].filter((one) => !away.known.has(one.id) && !away.refused.has(one.id));
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
    dirty.delete(field);
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
  return dirty.has(field) && field.value.trim() !== "" && field.value.trim() !== stands(entry);
}

function stands(entry) {
  return state.told[entry.dataset.entry] ?? entry.dataset.offered;
}

function startTimer(step, name) {
  const timing = steps.find((one) => one.key === step).timings.find((one) => one.name === name);
  const ends = new Date(Date.now() + Math.round(timing.seconds * 1000)).toISOString();
  say(`${name}: ${words.ends} ${clock(Date.parse(ends))}`);
  return tap(tapped("start", { step, name, ends }));
}

function undo() {
  if (!state.last) return;
  say(words.undone);
  return tap(tapped("undo", { name: state.last.id }));
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
  shown = key === state.live ? "" : key;
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
  field.value = `${next.toFixed(places)} ${unit}`.trim();
  dirty.add(field);
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
    const next = keys[keys.indexOf(shown || state.live || keys.at(-1)) + way];
    if (next) look(next);
    return;
  }
  const onSomething = on.closest?.("a, button, summary, input, select, textarea");
  if ((event.key === " " || event.key === "Enter") && !onSomething && !event.repeat) {
    event.preventDefault();
    const key = shown || state.live;
    if (key) act("done", key);
  }
}

// --- what is shown -------------------------------------------------------------------------------

function line(key) {
  return at(`step-${key}`);
}

function draw({ scrolls = false } = {}) {
  const key = shown || state.live;
  for (const one of steps) {
    const row = line(one.key);
    const isShown = one.key === key;
    const isDone = one.key in state.done;
    const changed = isShown !== row.hasAttribute("aria-current");
    row.classList.toggle("done", isDone);
    row.toggleAttribute("aria-current", isShown);
    if (isShown) row.setAttribute("aria-current", "step");
    row.querySelector(".brief").hidden = isShown;
    row.querySelector(".doing").hidden = !isShown;
    tickMark(row.querySelector(".at"), one.key, isDone);
    drawValues(row);
    drawTimings(row, one);
    if (changed && isShown && document.documentElement.dataset.bench) announce(one.key);
  }
  at("done").hidden = !key;
  at("finish").hidden = Boolean(key);
  if (key) at("done").setAttribute("form", `card-${key}`);
  at("undo").disabled = !state.last;
  at("step-write").querySelector("a").classList.toggle("ready", !state.live);
  drawTimers();
  drawWrong();
  tick();
  if (scrolls) (line(key) ?? at("step-write")).scrollIntoView({ block: "start" });
}

function tickMark(mark, key, isDone) {
  if (!isDone) return void (mark.textContent = key);
  if (mark.querySelector("svg")) return;
  const svg = document.createElementNS("http://www.w3.org/2000/svg", "svg");
  const path = document.createElementNS("http://www.w3.org/2000/svg", "path");
  path.setAttribute("d", "M4 13l5 6L20 5");
  svg.setAttribute("viewBox", "0 0 24 24");
  svg.setAttribute("role", "img");
  svg.setAttribute("aria-label", words.done);
  svg.setAttribute("class", "tick");
  svg.append(path);
  mark.replaceChildren(svg);
}

function announce(key) {
  const row = line(key);
  const number = row.querySelector(".number").textContent.replace(/\s+/g, " ").trim();
  const place = words.live.replace("##", steps.length).replace("#", key);
  say(`${place} ${row.querySelector(".todo").textContent}, ${number}`);
}

function drawValues(row) {
  const found = [];
  for (const entry of row.querySelectorAll("[data-entry]")) {
    const value = state.told[entry.dataset.entry];
    const field = entry.querySelector("input[type=text]");
    if (!dirty.has(field)) field.value = value ?? entry.dataset.offered;
    if (value !== undefined) found.push(value);
    const about = entry.querySelector(".about");
    about.dataset.such ??= value === undefined && !entry.dataset.offered ? about.textContent : "";
    about.textContent = value !== undefined ? words.written : entry.dataset.offered ? words.planned : about.dataset.such;
  }
  row.querySelector(".actual").textContent = found.join(" ");
}

function drawWrong() {
  for (const entry of document.querySelectorAll("[data-entry]")) {
    const said = wrong.now[entry.dataset.entry];
    const isWrong = said !== undefined && state.told[entry.dataset.entry] !== undefined;
    entry.classList.toggle("wrong", isWrong);
    const error = entry.querySelector(".error");
    error.hidden = !isWrong;
    error.textContent = isWrong ? said : "";
    entry.querySelector("input[type=text]").toggleAttribute("aria-invalid", isWrong);
    if (isWrong) entry.querySelector("input[type=text]").setAttribute("aria-invalid", "true");
  }
}

function drawTimings(row, step) {
  const box = row.querySelector(".timings");
  if (!box) return;
  const own = step.timings.filter((one) => !one.by_itself);
  const waiting = own.filter((one) => !state.started.includes(one.name));
  const some = own.length > 3 ? waiting.slice(0, 1) : waiting;
  for (const item of box.querySelectorAll("[data-timing]")) {
    item.hidden = !some.some((one) => one.name === item.dataset.timing);
  }
  box.querySelector(".all-in")?.remove();
  if (!waiting.length) {
    const all = document.createElement("p");
    all.className = "all-in";
    all.textContent = words.allin;
    box.append(all);
  }
}

// The timers that run, the first to end first; a row is kept as it is while its timer runs.
function drawTimers() {
  const box = at("timers");
  const list = box.querySelector("ul");
  const running = Object.values(state.running).sort((a, b) => a.ends - b.ends);
  box.hidden = !running.length;
  list.replaceChildren(...running.map(timerRow));
  for (const [name, one] of rung) if (!one.trial && !state.running[name]) rung.delete(name);
}

function timerRow(timer) {
  const row = document.createElement("li");
  row.className = "timer";
  row.dataset.ends = timer.ends;
  row.dataset.name = timer.name;
  const which = document.createElement("span");
  which.className = "which";
  which.textContent = timer.name;
  const left = document.createElement("span");
  left.className = "left";
  left.setAttribute("role", "timer");
  left.setAttribute("aria-live", "off");
  row.append(which, left, stopButton(timer.name));
  return row;
}

function stopButton(name) {
  const button = document.createElement("button");
  button.type = "button";
  button.className = "quiet";
  button.textContent = words.stop;
  button.setAttribute("aria-label", `${words.stop}: ${name}`);
  button.addEventListener("click", () => {
    if (at("rung").open && Date.now() - rungSince < TOO_SOON) return;
    if (rung.get(name)?.trial) return endTrial();
    tap(tapped("stop", { step: state.running[name]?.step ?? "", name }));
  });
  return button;
}

// --- time ----------------------------------------------------------------------------------------

const rung = new Map(); // timers that ran out and were not stopped yet
const TOO_SOON = 500; // ms in which a tap was meant for what lay below the alarm
let rungSince = 0;

function tick() {
  const now = Date.now();
  for (const row of document.querySelectorAll(".timer[data-ends]")) {
    const left = Number(row.dataset.ends) - now;
    row.classList.toggle("over", left <= 0);
    put(row.querySelector(".left"), left > 0 ? span(left) : `${words.ago} ${span(-left)}`);
  }
  for (const box of document.querySelectorAll(".timings")) nextIn(box, now);
  for (const one of Object.values(state.running)) {
    if (one.ends <= now && !rung.has(one.name)) rung.set(one.name, one);
  }
  ring();
}

// When the next basket may go in: as soon as the first of those that are in comes out.
function nextIn(box, now) {
  const step = box.dataset.timings;
  const next = box.querySelector("[data-timing]:not([hidden])")?.dataset.timing;
  const ends = Object.values(state.running).filter((one) => one.step === step).map((one) => one.ends);
  const isCounted = steps.find((one) => one.key === step).timings.length > 3;
  const left = Math.min(...ends) - now;
  const when = left > 0 ? `${words.in} ${span(left)}` : words.now;
  put(box.querySelector(".next-in"), next && ends.length && isCounted ? `${words.next} ${next}, ${when}` : "");
}

function put(spot, text) {
  if (spot.textContent !== text) spot.textContent = text;
}

function ring() {
  const dialog = at("rung");
  const names = [...rung.keys()];
  if ((dialog.dataset.names ?? "") === names.join("\n")) return;
  dialog.dataset.names = names.join("\n");
  if (!names.length) {
    alarm.stop();
    if (dialog.open) dialog.close();
    return;
  }
  dialog.querySelector("ul").replaceChildren(
    ...names.map((name) => {
      const item = document.createElement("li");
      const which = document.createElement("strong");
      which.textContent = name;
      const button = stopButton(name);
      button.className = "stop";
      item.append(which, button);
      return item;
    }),
  );
  const said = `${names.join(", ")}: ${words.up}`;
  alarm.start(said);
  say(said);
  if (!dialog.open) {
    rungSince = Date.now();
    dialog.showModal();
  }
  dialog.querySelector("button").focus();
}

function tryAlarm() {
  rung.set(words.trial, { trial: true });
  ring();
}

function endTrial() {
  rung.delete(words.trial);
  ring();
}

function span(length) {
  const seconds = Math.ceil(length / 1000);
  const two = (n) => String(n).padStart(2, "0");
  const [h, m, s] = [Math.floor(seconds / 3600), Math.floor(seconds / 60) % 60, seconds % 60];
  return h ? `${h}:${two(m)}:${two(s)}` : `${m}:${two(s)}`;
}

function clock(moment) {
  return new Date(moment).toLocaleTimeString("en-GB");
}

function say(text) {
  at("said").textContent = text;
}

// --- how it stands -------------------------------------------------------------------------------

function tellKept({ waiting, refused, gone }) {
  const spot = at("kept");
  const told = [];
  if (waiting) told.push(waiting === 1 ? words.one : words.many.replace("#", waiting));
  if (waiting && !kept.lasts) told.push(words.lost);
  if (gone) told.push(words.gone);
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
  taps.set(tap.id, bare(tap));
  if (tap.sent) away.known.add(tap.id); // this page may be older than what the workshop has
}
start();
