// Keeps the screen on where the browser lets us, and says how it stands. The lock is let go whenever
// the page is hidden, and one that was let go is of no use again: each time a new one is asked for.

export function keepAwake(tell) {
  if (!window.isSecureContext) return tell("insecure");
  if (!navigator.wakeLock) return tell("notable");
  let lock = null;
  const ask = async () => {
    if (document.visibilityState !== "visible" || (lock && !lock.released)) return;
    try {
      lock = await navigator.wakeLock.request("screen");
      lock.addEventListener("release", () => tell("asleep"));
      tell("awake");
    } catch {
      tell("asleep");
    }
  };
  document.addEventListener("visibilitychange", ask);
  document.addEventListener("pointerdown", ask);
  return ask();
}
