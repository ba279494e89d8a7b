// Moves the page along: which step is large, what was told at each, what can be started.

import { at, line, now, say, steps, words } from "./now.js";
import { drawTimers, tick } from "./timers.js";

export function draw({ scrolls = false } = {}) {
  const key = now.shown || now.state.live;
  for (const one of steps) {
    const row = line(one.key);
    const isShown = one.key === key;
    const isDone = one.key in now.state.done;
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
  at("undo").disabled = !now.state.last;
  at("step-write").querySelector("a").classList.toggle("ready", !now.state.live);
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
    const value = now.state.told[entry.dataset.entry];
    const field = entry.querySelector("input[type=text]");
    if (!now.typing.has(field)) field.value = value ?? entry.dataset.offered;
    if (value !== undefined) found.push(value);
    const about = entry.querySelector(".about");
    about.dataset.such ??= value === undefined && !entry.dataset.offered ? about.textContent : "";
    about.textContent = value !== undefined ? words.written : entry.dataset.offered ? words.planned : about.dataset.such;
  }
  row.querySelector(".actual").textContent = found.join(" ");
}

export function drawWrong() {
  for (const entry of document.querySelectorAll("[data-entry]")) {
    const said = now.wrong[entry.dataset.entry];
    const isWrong = said !== undefined && now.state.told[entry.dataset.entry] !== undefined;
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
  const waiting = own.filter((one) => !now.state.started.includes(one.name));
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
