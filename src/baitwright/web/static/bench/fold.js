// How a batch stands after what was tapped. The same rules as the workshop's own fold, so that the
// page goes on while the workshop is away: once by id, in the order of their times, undone ones out.

export function folded(steps, taps) {
  const once = new Map(taps.map((tap) => [tap.id, tap]));
  const ordered = [...once.values()].sort(
    (a, b) => Date.parse(a.at) - Date.parse(b.at) || (a.id < b.id ? -1 : 1),
  );
  const undone = new Set(ordered.filter((tap) => tap.kind === "undo").map((tap) => tap.name));
  const stand = ordered.filter((tap) => tap.kind !== "undo" && !undone.has(tap.id));
  const state = { done: {}, told: {}, running: {}, started: [], live: "", last: null };
  let newest = "";
  const run = (name, step, ends) => {
    state.running[name] = { name, step, ends };
    if (!state.started.includes(name)) state.started.push(name);
  };
  for (const tap of stand) {
    state.last = tap;
    const step = steps.find((one) => one.key === tap.step);
    if (tap.kind === "value") state.told[tap.name ?? ""] = tap.told ?? "";
    else if (tap.kind === "start") run(tap.name ?? "", tap.step ?? "", Date.parse(tap.ends));
    else if (tap.kind === "stop") delete state.running[tap.name ?? ""];
    else if (tap.kind === "done" && step) {
      state.done[step.key] = tap.at;
      newest = step.key;
      for (const one of step.timings.filter((timing) => timing.by_itself)) {
        run(one.name, step.key, Date.parse(tap.at) + Math.round(one.seconds * 1000));
      }
    }
  }
  const keys = steps.map((one) => one.key);
  const after = newest ? keys.indexOf(newest) + 1 : 0;
  const turned = [...keys.slice(after), ...keys.slice(0, after)];
  state.live = turned.find((key) => !(key in state.done)) ?? "";
  return state;
}

// The order in which taps are sent: as they were made.
export function inOrder(taps) {
  return [...taps].sort((a, b) => Date.parse(a.at) - Date.parse(b.at) || (a.id < b.id ? -1 : 1));
}
