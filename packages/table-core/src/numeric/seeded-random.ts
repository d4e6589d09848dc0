/** Random numbers that come out the same for the same seed, everywhere. */
export interface SeededRandom {
  /** Evenly spread in [0, 1). */
  uniform(): number;
  /** Normally distributed, mean 0 and standard deviation 1. */
  normal(): number;
}

/**
 * A small seeded generator for made data: a 32-bit counter stirred by multiplications, normals by the polar method.
 *
 * Good enough for simulations, not for secrets.
 *
 * @example const random = seededRandom(7); random.uniform() // the same number on every machine
 */
export function seededRandom(seed: number): SeededRandom {
  let state = Math.trunc(seed) >>> 0;
  let spare: number | null = null;
  const uniform = () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4_294_967_296;
  };
  const normal = () => {
    if (spare !== null) {
      const kept = spare;
      spare = null;
      return kept;
    }
    let a = 0;
    let b = 0;
    let square = 0;
    do {
      a = 2 * uniform() - 1;
      b = 2 * uniform() - 1;
      square = a * a + b * b;
    } while (square >= 1 || square === 0);
    const scale = Math.sqrt((-2 * Math.log(square)) / square);
    spare = b * scale;
    return a * scale;
  };
  return { uniform, normal };
}
