// Opens the bench while the workshop is away: its page and what the page is made of are kept as they
// were last seen, and shown only when the workshop does not answer. All else goes straight through.

const KEPT = "bench-1";
const PATIENCE = 4000;
const BENCH = /^\/batches\/[^/]+\/[^/]+\/bench$/;

addEventListener("install", () => skipWaiting());

addEventListener("activate", (event) => {
  const old = async () => {
    for (const name of await caches.keys()) if (name !== KEPT) await caches.delete(name);
    await clients.claim();
  };
  event.waitUntil(old());
});

addEventListener("message", (event) => {
  const keep = async () => {
    const kept = await caches.open(KEPT);
    await Promise.all(event.data.keep.map((path) => kept.add(path).catch(() => {})));
    event.source?.postMessage({ keeps: true });
  };
  if (event.data?.keep) event.waitUntil(keep());
});

addEventListener("fetch", (event) => {
  const path = new URL(event.request.url).pathname;
  const isBench = event.request.mode === "navigate" && BENCH.test(path);
  if (event.request.method === "GET" && (isBench || path.startsWith("/static/"))) {
    event.respondWith(newest(event.request, path));
  }
});

async function newest(request, path) {
  const kept = await caches.open(KEPT);
  const asked = fetch(request).then(async (answer) => {
    if (answer.ok && !answer.redirected) await kept.put(path, answer.clone());
    return answer;
  });
  asked.catch(() => {}); // told below, where nothing is kept
  const patient = new Promise((yes) => setTimeout(yes, PATIENCE));
  try {
    const answer = await Promise.race([asked, patient]);
    if (answer) return answer;
  } catch {
    // the workshop is away
  }
  return (await kept.match(path)) ?? asked;
}
