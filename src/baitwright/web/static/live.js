// Results while typing: the newest answer wins, what is open stays open, focus stays where it is.
const PAUSE = 150;
const LATER = 400;
const form = document.querySelector("form[data-live]");
const results = form && document.getElementById(form.dataset.live);
const trouble = document.getElementById("trouble");
const status = document.getElementById("live-status");
const figures = document.getElementById("figures");
let waiting = 0;
let drawing = 0;
let asking = null;

/** The address of what stands in the form; empty fields are left out. */
function address() {
  const told = new URLSearchParams();
  for (const [name, value] of new FormData(form)) {
    if (value.trim()) told.append(name, value);
  }
  return `${form.action}?${told}`;
}

async function work() {
  asking?.abort();
  asking = new AbortController();
  const mine = asking;
  const url = address();
  const slow = setTimeout(() => say(status.dataset.working), 600);
  try {
    const answer = await fetch(url, {
      headers: { "x-part": form.dataset.live },
      signal: mine.signal,
    });
    const told = await answer.text();
    if (mine !== asking) return;
    if (!answer.ok) {
      say(status.dataset.away);
      return;
    }
    const page = new DOMParser().parseFromString(told, "text/html");
    const wrong = page.getElementById("wrong");
    if (wrong) refuse(wrong);
    else show(told, url);
  } catch (error) {
    if (error.name !== "AbortError") say(status.dataset.away);
  } finally {
    clearTimeout(slow);
  }
}

function show(told, url) {
  const open = [...results.querySelectorAll("details[open][id]")].map((one) => one.id);
  const focused = results.contains(document.activeElement) ? mark(document.activeElement) : null;
  results.innerHTML = told;
  for (const id of open) {
    const one = document.getElementById(id);
    if (one) one.open = true;
  }
  if (focused) find(focused)?.focus({ preventScroll: true });
  results.classList.remove("old");
  trouble?.replaceChildren();
  clear();
  history.replaceState(null, "", url);
  say(status.dataset.done);
  clearTimeout(drawing);
  if (figures) drawing = setTimeout(() => draw(url), LATER);
}

/** The figures follow when the typing rests: they take longer than the numbers. */
async function draw(url) {
  try {
    const answer = await fetch(url, { headers: { "x-part": "figures" }, signal: asking.signal });
    if (!answer.ok) return;
    const told = await answer.text();
    const known = new Map([...figures.querySelectorAll("details[id]")].map((one) => [one.id, one.open]));
    figures.innerHTML = told;
    unfold(figures);
    for (const [id, open] of known) document.getElementById(id)?.toggleAttribute("open", open);
  } catch {
    // typed on, or away: the numbers say so
  }
}

/** What waits folded on a phone is open where there is room for it. */
function unfold(place) {
  if (!matchMedia("(min-width: 40rem)").matches) return;
  for (const one of place.querySelectorAll("details[data-wide]")) one.open = true;
}

/** By what an element of the results is found again: its own id, or that of the details it opens. */
function mark(element) {
  const holder = element.closest("[id]");
  return { id: holder && holder !== results ? holder.id : "", tag: element.localName };
}

function find({ id, tag }) {
  const holder = id ? document.getElementById(id) : null;
  return holder && (holder.localName === tag ? holder : holder.querySelector(tag));
}

/** What is wrong is told at its field and beside the results; they stay, and look old. */
function refuse(wrong) {
  clear();
  results.classList.add("old");
  wrong.removeAttribute("id");
  trouble.replaceChildren(wrong);
  say(wrong.textContent.trim());
  const field = document.getElementById(wrong.dataset.place);
  if (!field) return;
  const said = document.createElement("p");
  said.className = "error";
  said.id = `${field.id}-live`;
  said.textContent = wrong.textContent.trim();
  field.closest(".field").classList.add("wrong");
  field.closest(".field").append(said);
  field.setAttribute("aria-invalid", "true");
  const described = field.getAttribute("aria-describedby") ?? "";
  field.setAttribute("aria-describedby", `${described} ${said.id}`.trim());
}

function clear() {
  for (const field of form.querySelectorAll("[aria-invalid]")) {
    field.removeAttribute("aria-invalid");
    const kept = (field.getAttribute("aria-describedby") ?? "").split(/\s+/);
    const described = kept.filter((id) => id && !/-(live|error)$/.test(id));
    field.setAttribute("aria-describedby", described.join(" "));
  }
  for (const one of form.querySelectorAll(".field.wrong")) {
    one.classList.remove("wrong");
    for (const said of one.querySelectorAll(".error")) said.remove();
  }
}

function say(words) {
  if (status && words && status.textContent !== words) status.textContent = words;
}

/** One more row below the last: the same fields, empty, under the next number. */
function addRow(list) {
  const rows = list.querySelectorAll("[data-row]");
  const last = rows[rows.length - 1];
  if (last instanceof HTMLDetailsElement && !last.open && isEmpty(last)) {
    open(last);
    return;
  }
  const added = last.cloneNode(true);
  for (const one of added.querySelectorAll("[aria-invalid]")) one.removeAttribute("aria-invalid");
  for (const one of [added, ...added.querySelectorAll("*")]) {
    for (const name of ["id", "name", "for", "aria-describedby", "href"]) {
      const told = one.getAttribute(name);
      if (told) one.setAttribute(name, told.replaceAll(/\[(\d+)\]/g, next));
    }
    if (one.matches("input, textarea")) one.value = "";
    if (one.matches("select")) one.selectedIndex = 0;
  }
  const head = added.matches("details") ? added.querySelector("summary") : null;
  if (head) head.firstChild.textContent = head.firstChild.textContent.replace(/\d+/, (at) => +at + 1);
  last.after(added);
  open(added);
}

const next = (whole, at) => `[${Number(at) + 1}]`;
const isEmpty = (row) => [...row.querySelectorAll("input, select, textarea")].every((one) => !one.value);

function open(row) {
  if (row instanceof HTMLDetailsElement) row.open = true;
  row.querySelector("input, select, textarea")?.focus();
}

/** The address that a button of a form leads to. */
function asked(button) {
  const told = new URLSearchParams(new FormData(button.form));
  told.append(button.name, button.value);
  return `${button.form.action}?${told}`;
}

/** A number that is opened fetches its why, once. */
async function explain(details) {
  const link = details.querySelector(":scope > p > a.why, :scope > p > button.why-link");
  const place = details.querySelector(":scope > .opened");
  if (!link || !place || place.childElementCount) return;
  try {
    const answer = await fetch(link.href ?? asked(link), { headers: { "x-part": "why" } });
    if (!answer.ok) return;
    place.innerHTML = await answer.text();
    link.parentElement.hidden = true;
  } catch {
    // the link still leads there
  }
}

if (form && results) {
  unfold(document);
  const later = () => {
    for (const one of results.querySelectorAll("form[method=post] button")) one.disabled = true;
    clearTimeout(waiting);
    waiting = setTimeout(work, PAUSE);
  };
  form.addEventListener("input", later);
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    clearTimeout(waiting);
    work();
  });
  results.addEventListener(
    "toggle",
    (event) => {
      if (event.target.matches("details.number[open], details.one[open]")) explain(event.target);
    },
    true,
  );
  for (const button of form.querySelectorAll("button[data-add]")) {
    button.hidden = false;
    button.addEventListener("click", () => addRow(button.closest("[data-rows]")));
  }
}
