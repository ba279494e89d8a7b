// What every part of the bench shares: the steps, the words, the taps and how the batch stands.

import { folded } from "./fold.js";

const told = JSON.parse(at("at-bench").textContent);

export const words = JSON.parse(at("words").textContent);
export const { batch, steps, token, header } = told;
export const now = {
  taps: new Map(told.taps.map((tap) => [tap.id, tap])),
  wrong: told.wrong, // values that cannot be read, as the workshop last told
  typing: new Set(), // fields that are being typed in
  shown: "", // the step that is looked at, where it is not the live one
  state: null,
};
stand();

// How the batch stands after all taps.
export function stand() {
  now.state = folded(steps, [...now.taps.values()]);
}

export function at(id) {
  return document.getElementById(id);
}

export function line(key) {
  return at(`step-${key}`);
}

export function put(spot, text) {
  if (spot.textContent !== text) spot.textContent = text;
}

// Said to those who do not see it.
export function say(text) {
  at("said").textContent = text;
}

// What a timer is called in the page's own language; a page kept from before has no such words.
export function called(name) {
  return words.timers?.[name] ?? name;
}
