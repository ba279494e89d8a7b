// Timers: what is left of each, the alarm when one has run out, and when the next basket goes in.

import { Alarm } from "./alarm.js";
import { at, called, now, put, say, steps, words } from "./now.js";

const TOO_SOON = 500; // ms in which a tap was meant for what lay below the alarm
const rung = new Map(); // timers that ran out and were not stopped yet
let rungSince = 0;
const alarm = new Alarm((how) => put(at("sound"), words[how]));
let stop = () => {};

// What is done when a timer is stopped by hand.
export function onStop(does) {
  stop = does;
}

// The timers that run, the first to end first; a row is kept as it is while its timer runs.
export function drawTimers() {
  const box = at("timers");
  const list = box.querySelector("ul");
  const running = Object.values(now.state.running).sort((a, b) => a.ends - b.ends);
  box.hidden = !running.length;
  const there = new Map([...list.children].map((row) => [`${row.dataset.name} ${row.dataset.ends}`, row]));
  const rows = running.map((one) => there.get(`${one.name} ${one.ends}`) ?? timerRow(one));
  const isSame = rows.length === list.children.length && rows.every((row, i) => row === list.children[i]);
  if (!isSame) list.replaceChildren(...rows);
  for (const [name, one] of rung) {
    if (!one.trial && !(now.state.running[name]?.ends <= Date.now())) rung.delete(name);
  }
}

function timerRow(timer) {
  const row = document.createElement("li");
  row.className = "timer";
  row.dataset.ends = timer.ends;
  row.dataset.name = timer.name;
  const which = document.createElement("span");
  which.className = "which";
  which.textContent = called(timer.name);
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
  button.setAttribute("aria-label", `${words.stop}: ${called(name)}`);
  button.addEventListener("click", () => {
    if (at("rung").open && Date.now() - rungSince < TOO_SOON) return;
    if (rung.get(name)?.trial) return endTrial();
    stop(name);
  });
  return button;
}

export function tick() {
  const moment = Date.now();
  for (const row of document.querySelectorAll(".timer[data-ends]")) {
    const left = Number(row.dataset.ends) - moment;
    row.classList.toggle("over", left <= 0);
    put(row.querySelector(".left"), left > 0 ? span(left) : `${words.ago} ${span(-left)}`);
  }
  for (const box of document.querySelectorAll(".timings")) nextIn(box, moment);
  for (const one of Object.values(now.state.running)) {
    if (one.ends <= moment && !rung.has(one.name)) rung.set(one.name, one);
  }
  ring();
}

// When the next basket may go in: as soon as the first of those that are in comes out.
function nextIn(box, moment) {
  const step = box.dataset.timings;
  const next = box.querySelector("[data-timing]:not([hidden])")?.dataset.timing;
  const ends = Object.values(now.state.running).filter((one) => one.step === step).map((one) => one.ends);
  const isCounted = steps.find((one) => one.key === step).timings.length > 3;
  const left = Math.min(...ends) - moment;
  const when = left > 0 ? `${words.in} ${span(left)}` : words.now;
  put(box.querySelector(".next-in"), next && ends.length && isCounted ? `${words.next} ${called(next)}, ${when}` : "");
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
      which.textContent = called(name);
      const button = stopButton(name);
      button.className = "stop";
      item.append(which, button);
      return item;
    }),
  );
  const said = `${names.map(called).join(", ")}: ${words.up}`;
  alarm.start(said);
  say(said);
  if (!dialog.open) {
    rungSince = Date.now();
    dialog.showModal();
  }
  dialog.querySelector("button").focus();
}

export function tryAlarm() {
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
