// Taps on this device: every one is put down here before it is sent, in a store that outlives the
// page, the browser and a crash. Two windows write in it side by side: each tap is a row of its own.

const STORE = "taps";
const PATIENCE = 5000; // ms for a browser to open its store: the bench does not wait for ever
const LONGEST = 60 * 24 * 3600 * 1000; // what the workshop has had for two months is let go

export async function open(batch) {
  const tooLong = new Promise((yes) => setTimeout(yes, PATIENCE, new Nothing()));
  return Promise.race([opened(batch).catch(() => new Nothing()), tooLong]);
}

async function opened(batch) {
  const db = await asked(indexedDB.open("bench", 1), (opening) => {
    opening.result.createObjectStore(STORE, { keyPath: "id" }).createIndex("batch", "batch");
  });
  await forget(db);
  return new Kept(db, batch);
}

class Kept {
  constructor(db, batch) {
    this.db = db;
    this.batch = batch;
    this.lasts = true;
  }

  async taps() {
    const rows = this.db.transaction(STORE).objectStore(STORE).index("batch");
    return asked(rows.getAll(this.batch));
  }

  async put(...taps) {
    const pen = this.db.transaction(STORE, "readwrite", { durability: "strict" });
    for (const tap of taps) pen.objectStore(STORE).put({ ...tap, batch: this.batch });
    await done(pen);
  }
}

// A browser that keeps nothing, in some private windows: the page says so.
class Nothing {
  lasts = false;
  async taps() {
    return [];
  }
  async put() {}
}

async function forget(db) {
  const pen = db.transaction(STORE, "readwrite");
  const rows = pen.objectStore(STORE);
  const old = Date.now() - LONGEST;
  for (const row of await asked(rows.getAll())) {
    if (row.sent && Date.parse(row.at) < old) rows.delete(row.id);
  }
  await done(pen);
}

function asked(request, upgrade) {
  return new Promise((yes, no) => {
    if (upgrade) request.onupgradeneeded = () => upgrade(request);
    request.onsuccess = () => yes(request.result);
    request.onerror = () => no(request.error);
  });
}

function done(pen) {
  return new Promise((yes, no) => {
    pen.oncomplete = yes;
    pen.onabort = pen.onerror = () => no(pen.error);
  });
}
