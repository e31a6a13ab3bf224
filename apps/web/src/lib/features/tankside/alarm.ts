let sound: AudioContext | null = null;

/** A browser lets a page sound only after somebody touched it: call it from a tap. */
export function readySound(): void {
  sound ??= new AudioContext();
  void sound.resume();
}

/** Three short tones and a long buzz; silent where the browser has neither. */
export function ring(): void {
  // Not every browser can buzz.
  (navigator as { vibrate?: (pattern: number[]) => boolean }).vibrate?.([400, 150, 400, 150, 800]);
  if (sound?.state !== 'running') return;
  for (const [index, hertz] of [880, 1109, 880].entries()) {
    const begin = sound.currentTime + index * 0.3;
    const tone = new OscillatorNode(sound, { frequency: hertz, type: 'square' });
    const volume = new GainNode(sound, { gain: 0.35 });
    tone.connect(volume).connect(sound.destination);
    tone.start(begin);
    tone.stop(begin + 0.2);
  }
}

/** Keeps the screen of the tablet on; returns what lets it sleep. Over plain HTTP there is no such thing. */
export function keepAwake(): () => void {
  let lock: WakeLockSentinel | null = null;
  let ended = false;
  const take = async () => {
    const { wakeLock } = navigator as { wakeLock?: WakeLock };
    if (wakeLock === undefined || document.visibilityState !== 'visible') return;
    lock = await wakeLock.request('screen').catch(() => null);
    if (ended) await lock?.release();
  };
  const again = () => void take();
  again();
  document.addEventListener('visibilitychange', again);
  return () => {
    ended = true;
    document.removeEventListener('visibilitychange', again);
    void lock?.release();
  };
}
