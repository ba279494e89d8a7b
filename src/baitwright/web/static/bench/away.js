// Taps on their way to the workshop: sent in their order, again and again until it has them. A tap
// carries its id, so that one which arrived unheard of is counted once. What this window does not
// hear of the workshop it hears of the next time it looks.

import { inOrder } from "./fold.js";

const LOOKS_EVERY = 20000;
const TRIES = [1000, 2000, 4000, 8000, 15000];
const AT_ONCE = 200;
const PATIENCE = 15000;

export class Away {
  constructor({ path, token, header, known, onAnswer, onState }) {
    Object.assign(this, { path, token, header, onAnswer, onState });
    this.known = new Set(known); // ids that the workshop has
    this.waiting = new Map();
    this.refused = new Map();
    this.failed = 0;
    this.busy = false;
    addEventListener("online", () => this.go());
    document.addEventListener("visibilitychange", () => {
      if (document.visibilityState === "visible") this.go();
    });
    setInterval(() => document.visibilityState === "visible" && this.go(), LOOKS_EVERY);
  }

  send(...taps) {
    for (const tap of taps) {
      if (!this.known.has(tap.id) && !this.refused.has(tap.id)) this.waiting.set(tap.id, tap);
    }
    this.tell();
    return this.go();
  }

  async go() {
    if (this.busy) return;
    this.busy = true;
    clearTimeout(this.later);
    try {
      do await this.once();
      while (this.waiting.size);
      this.failed = 0;
    } catch (why) {
      this.gone = why instanceof Gone;
      this.out = why instanceof SignedOut;
      const wait = TRIES[Math.min(this.failed, TRIES.length - 1)];
      this.failed += 1;
      this.later = setTimeout(() => this.go(), wait);
    } finally {
      this.busy = false;
      this.tell();
    }
  }

  async once() {
    const taps = inOrder(this.waiting.values()).slice(0, AT_ONCE);
    const asked = { headers: { [this.header]: this.token, accept: "application/json" } };
    if (taps.length) {
      asked.method = "POST";
      asked.headers["content-type"] = "application/json";
      asked.body = JSON.stringify({ taps });
    }
    const answer = await fetch(this.path, { ...asked, signal: AbortSignal.timeout(PATIENCE) });
    if (answer.status === 404) throw new Gone();
    if (answer.status === 401 || answer.status === 403) throw new SignedOut();
    if (!answer.ok) throw new Error(answer.status);
    const told = await answer.json();
    this.gone = this.out = false;
    for (const one of told.refused ?? []) this.refused.set(taps[one.at].id, one.said);
    this.known = new Set(told.taps.map((tap) => tap.id));
    for (const id of [...this.known, ...this.refused.keys()]) this.waiting.delete(id);
    this.onAnswer(told);
  }

  tell() {
    this.onState({
      waiting: this.waiting.size,
      refused: [...this.refused.values()],
      gone: this.gone,
      out: this.out,
      away: this.failed > 0,
    });
  }
}

class Gone extends Error {}
class SignedOut extends Error {}
