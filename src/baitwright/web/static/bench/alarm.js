// An alarm: three tones, a shake, a flash over the whole screen and the title of the window.

const EVERY = 4000;
const LONGEST = 5 * 60 * 1000; // it sounds for five minutes, and is seen until it is stopped

export class Alarm {
  constructor(onSound) {
    this.onSound = onSound;
    this.title = document.title;
    this.ringing = null;
    for (const kind of ["pointerdown", "keydown"]) {
      document.addEventListener(kind, () => this.unlock(), { capture: true });
    }
  }

  // Browsers let a page sound only after a tap.
  async unlock() {
    const Sound = window.AudioContext ?? window.webkitAudioContext;
    if (!Sound) return this.onSound("mute");
    this.sound ??= new Sound();
    if (this.sound.state === "suspended") await this.sound.resume().catch(() => {});
    this.onSound(this.sound.state === "running" ? "hears" : "deaf");
  }

  start(said) {
    document.title = `${said} · ${this.title}`;
    document.documentElement.classList.add("ringing");
    if (this.ringing) return;
    const began = Date.now();
    this.tones();
    this.ringing = setInterval(() => {
      if (Date.now() - began < LONGEST) this.tones();
    }, EVERY);
  }

  stop() {
    if (!this.ringing) return;
    document.title = this.title;
    document.documentElement.classList.remove("ringing");
    clearInterval(this.ringing);
    this.ringing = null;
    shake(0);
  }

  tones() {
    shake([400, 150, 400, 150, 600]);
    if (this.sound?.state !== "running") return;
    [0, 0.35, 0.7].forEach((after, at) => {
      const tone = this.sound.createOscillator();
      const loud = this.sound.createGain();
      const begins = this.sound.currentTime + after;
      tone.frequency.value = at === 2 ? 1175 : 880;
      loud.gain.setValueAtTime(0.0001, begins);
      loud.gain.exponentialRampToValueAtTime(0.6, begins + 0.02);
      loud.gain.exponentialRampToValueAtTime(0.0001, begins + 0.3);
      tone.connect(loud).connect(this.sound.destination);
      tone.start(begins);
      tone.stop(begins + 0.32);
    });
  }
}

// Like sound, a shake needs a tap first.
function shake(how) {
  if (navigator.userActivation?.hasBeenActive) navigator.vibrate?.(how);
}
